//! The sheet for the engineer: the cut that is wanted, and what it would take.

use super::{Cut, Member, Refusal, Ruling, Section, judge};
use crate::units::{Length, Ratio};

/// What is asked of an engineer about one cut.
#[derive(Debug, Clone, PartialEq)]
pub struct Question {
    pub member: Member,
    pub cut: Cut,
    pub depth_left: Length,
    /// The share of the section modulus the cut takes at its deepest, 0 to 1.
    pub modulus_lost: Ratio,
    /// The share of the bending stiffness it would take if it ran the whole length, 0 to 1.
    pub stiffness_lost: Ratio,
    pub in_middle_third: bool,
    /// Why the builder may not make it alone; empty if he may.
    pub why: Vec<Refusal>,
}

impl Question {
    /// The question about `cut` in `member`, where dressing goes `dressing` deep.
    ///
    /// ```
    /// use survey::guard::{Cut, Member, MemberKind, Question, Refusal};
    /// use survey::units::Length;
    ///
    /// let inches = Length::inches;
    /// let (depth, span, first_bearing) = (inches(9.25), inches(138.0), inches(-24.0));
    /// let joist = Member { kind: MemberKind::Sawn, depth, span, first_bearing };
    /// let cut = Cut { depth: inches(0.125), from: inches(30.0), to: inches(72.0) };
    /// let question = Question::about(&joist, &cut, inches(0.125));
    /// assert_eq!(question.depth_left, inches(9.125));
    /// assert_eq!(question.why, [Refusal::MiddleThird]);
    /// ```
    pub fn about(member: &Member, cut: &Cut, dressing: Length) -> Self {
        // The shares do not depend on the breadth.
        let section = Section { breadth: Length::mm(1.0), depth: member.depth };
        Self {
            member: *member,
            cut: *cut,
            depth_left: section.depth_left(cut.depth),
            modulus_lost: section.modulus_lost(cut.depth),
            stiffness_lost: section.stiffness_lost(cut.depth),
            in_middle_third: cut.touches_middle_third(member),
            why: match judge(member, cut, dressing, None) {
                Ruling::Allowed(_) => Vec::new(),
                Ruling::Refused(why) => why,
            },
        }
    }
}
