//! The planing guard: what may be cut out of the top of a joist, what not, and why.
//!
//! A refusal has no switch. The one way past it is an [`Approval`] on record, and that holds only to its own depth and
//! from–to. The guard knows shapes, not strength: what it allows still wants a sound joist.

mod bore;
mod limits;
mod member;
mod question;
mod refusal;
mod section;

pub use bore::bore;
pub use limits::{Limits, dressing_most, middle_third};
pub use member::{Member, MemberKind};
pub use question::Question;
pub use refusal::Refusal;
pub use section::Section;

use crate::units::Length;

/// Wood to be taken off the top edge: how deep at most, and from where to where.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cut {
    pub depth: Length,
    pub from: Length,
    pub to: Length,
}

/// What an engineer or official has allowed on this joist: the greatest depth, and from where to where.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Approval {
    pub depth: Length,
    pub from: Length,
    pub to: Length,
}

/// On what grounds a cut may be made.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Grounds {
    /// No longer than a third of the depth, no deeper than a sixth, outside the middle third.
    Notch,
    /// The same over a bearing, no deeper than a quarter.
    EndNotch,
    /// Longer, but no deeper than dressing goes.
    Dressing,
    /// A hole within its limits.
    Bore,
    /// The approval on record.
    Approval,
}

/// What the guard says of a cut.
#[derive(Debug, Clone, PartialEq)]
pub enum Ruling {
    Allowed(Grounds),
    Refused(Vec<Refusal>),
}

impl Ruling {
    pub fn is_allowed(&self) -> bool {
        matches!(self, Self::Allowed(_))
    }
}

impl Cut {
    pub fn length(&self) -> Length {
        (self.to - self.from).abs()
    }

    /// The place nearest the door wall, and the farthest.
    fn ends(&self) -> (Length, Length) {
        (self.from.min(self.to), self.from.max(self.to))
    }

    /// Whether any part of it, its ends included, lies in the closed middle third of the member's span.
    pub fn touches_middle_third(&self, member: &Member) -> bool {
        let (from, to) = self.ends();
        let third = middle_third(member);
        to >= third.0 && from <= third.1
    }

    /// Whether it reaches over a bearing.
    fn at_end(&self, member: &Member) -> bool {
        let (from, to) = self.ends();
        from.at_most(member.first_bearing) || to.at_least(member.first_bearing + member.span)
    }
}

/// Whether `cut` may be made in `member`, where dressing goes `dressing` deep (never more than 1/8 in).
///
/// The notch allowances hold only for a cut no longer than a third of the depth and outside the middle third of the
/// span; anything longer is planing, and goes no deeper than dressing. An engineered or unknown member is never cut on
/// the builder's own account. With an `approval` the cut is also allowed inside its from–to and to its depth.
///
/// # Units
/// Lengths; places along the member count from the door wall. Limits are inclusive, the middle third is closed.
///
/// # Source
/// Notches: IRC R502.8.1 and R502.8.2, read as summarised in published study material and a trade magazine, not in the
/// code itself. Dressing to 1/8 in: common practice.
///
/// ```
/// use survey::guard::{Cut, Grounds, Member, MemberKind, Ruling, judge};
/// use survey::units::Length;
///
/// let inches = Length::inches;
/// let (depth, span, first_bearing) = (inches(9.25), inches(138.0), inches(-24.0));
/// let joist = Member { kind: MemberKind::Sawn, depth, span, first_bearing };
/// let near_the_wall = Cut { depth: inches(0.125), from: inches(0.0), to: inches(18.0) };
/// assert_eq!(judge(&joist, &near_the_wall, inches(0.125), None), Ruling::Allowed(Grounds::Dressing));
/// let mid_span = Cut { depth: inches(0.0625), from: inches(30.0), to: inches(72.0) };
/// assert!(!judge(&joist, &mid_span, inches(0.125), None).is_allowed());
/// ```
pub fn judge(member: &Member, cut: &Cut, dressing: Length, approval: Option<&Approval>) -> Ruling {
    let own = own_account(member, cut, dressing);
    let (Ruling::Refused(mut why), Some(approval)) = (own.clone(), approval) else { return own };
    match approval.covers(cut) {
        Ruling::Refused(beyond) => {
            why.extend(beyond);
            Ruling::Refused(why)
        }
        allowed => allowed,
    }
}

fn own_account(member: &Member, cut: &Cut, dressing: Length) -> Ruling {
    match member.kind {
        MemberKind::Engineered => Ruling::Refused(vec![Refusal::Engineered]),
        MemberKind::Unknown => Ruling::Refused(vec![Refusal::UnknownKind]),
        MemberKind::Sawn => sawn(member, cut, dressing.min(dressing_most())),
    }
}

fn sawn(member: &Member, cut: &Cut, dressing: Length) -> Ruling {
    if cut.touches_middle_third(member) {
        return Ruling::Refused(vec![Refusal::MiddleThird]);
    }
    let limits = Limits::of(member.depth);
    let short = cut.length().at_most(limits.notch_length);
    let (grounds, notch) = match cut.at_end(member) {
        true => (Grounds::EndNotch, limits.end_notch_depth),
        false => (Grounds::Notch, limits.notch_depth),
    };
    match () {
        () if short && cut.depth.at_most(notch) => Ruling::Allowed(grounds),
        () if cut.depth.at_most(dressing) => Ruling::Allowed(Grounds::Dressing),
        () if short => Ruling::Refused(vec![Refusal::NotchTooDeep { limit: notch.max(dressing) }]),
        () => Ruling::Refused(vec![Refusal::DressingTooDeep { limit: dressing, notch_length: limits.notch_length }]),
    }
}

impl Approval {
    /// Whether this approval alone allows the cut: inside its from–to, and no deeper than it goes.
    pub fn covers(&self, cut: &Cut) -> Ruling {
        let (from, to) = cut.ends();
        let inside = from.at_least(self.from.min(self.to)) && to.at_most(self.from.max(self.to));
        let outside = (!inside).then_some(Refusal::OutsideApproval);
        let deeper = (!cut.depth.at_most(self.depth)).then_some(Refusal::DeeperThanApproved { limit: self.depth });
        let why: Vec<Refusal> = outside.into_iter().chain(deeper).collect();
        if why.is_empty() { Ruling::Allowed(Grounds::Approval) } else { Ruling::Refused(why) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn joist(kind: MemberKind) -> Member {
        let inches = Length::inches;
        Member { kind, depth: inches(9.25), span: inches(138.0), first_bearing: inches(-24.0) }
    }

    fn cut(depth: f64, from: f64, to: f64) -> Cut {
        Cut { depth: Length::inches(depth), from: Length::inches(from), to: Length::inches(to) }
    }

    fn ruling(depth: f64, from: f64, to: f64) -> Ruling {
        judge(&joist(MemberKind::Sawn), &cut(depth, from, to), Length::inches(0.125), None)
    }

    #[test]
    fn what_the_builder_may_cut() {
        for ((depth, from, to), grounds) in [
            ((0.125, 0.0, 20.0), Grounds::Dressing),
            ((0.125, 68.5, 100.0), Grounds::Dressing),
            ((1.5, 0.0, 3.0), Grounds::Notch),
            ((9.25 / 6.0, 0.0, 9.25 / 3.0), Grounds::Notch),
            ((2.3, -25.0, -22.0), Grounds::EndNotch),
            ((9.25 / 4.0, 112.0, 115.0), Grounds::EndNotch),
        ] {
            assert_eq!(ruling(depth, from, to), Ruling::Allowed(grounds), "{depth} from {from} to {to}");
        }
    }

    #[test]
    fn what_nobody_may_cut_alone() {
        let dressing = Length::inches(0.125);
        let notch_length = Length::inches(9.25 / 3.0);
        for ((depth, from, to), why) in [
            ((0.01, 30.0, 72.0), Refusal::MiddleThird),
            ((0.01, 21.0, 22.0), Refusal::MiddleThird),
            ((0.01, 68.0, 70.0), Refusal::MiddleThird),
            ((0.01, 0.0, 100.0), Refusal::MiddleThird),
            ((0.126, 0.0, 20.0), Refusal::DressingTooDeep { limit: dressing, notch_length }),
            ((1.5, 0.0, 3.2), Refusal::DressingTooDeep { limit: dressing, notch_length }),
            ((1.6, 0.0, 3.0), Refusal::NotchTooDeep { limit: Length::inches(9.25 / 6.0) }),
            ((2.4, -25.0, -22.0), Refusal::NotchTooDeep { limit: Length::inches(9.25 / 4.0) }),
        ] {
            assert_eq!(ruling(depth, from, to), Ruling::Refused(vec![why]), "{depth} from {from} to {to}");
        }
    }

    #[test]
    fn engineered_and_unknown_members_are_not_cut() {
        for (kind, why) in [(MemberKind::Engineered, Refusal::Engineered), (MemberKind::Unknown, Refusal::UnknownKind)]
        {
            let ruling = judge(&joist(kind), &cut(0.01, 0.0, 1.0), Length::inches(0.125), None);
            assert_eq!(ruling, Ruling::Refused(vec![why]));
        }
    }

    #[test]
    fn an_approval_holds_to_its_own_limits() {
        let approval = Approval { depth: Length::inches(0.25), from: Length::inches(20.0), to: Length::inches(75.0) };
        let judged =
            |kind, depth, from, to| judge(&joist(kind), &cut(depth, from, to), Length::inches(0.125), Some(&approval));
        for kind in [MemberKind::Sawn, MemberKind::Engineered, MemberKind::Unknown] {
            assert_eq!(judged(kind, 0.25, 20.0, 75.0), Ruling::Allowed(Grounds::Approval));
            assert!(!judged(kind, 0.26, 30.0, 72.0).is_allowed());
            assert!(!judged(kind, 0.25, 19.9, 72.0).is_allowed());
        }
        assert_eq!(judged(MemberKind::Sawn, 0.125, 0.0, 15.0), Ruling::Allowed(Grounds::Dressing));
        let Ruling::Refused(why) = judged(MemberKind::Sawn, 0.3, 30.0, 80.0) else { panic!("it is refused") };
        let limit = Length::inches(0.25);
        assert_eq!(why, [Refusal::MiddleThird, Refusal::OutsideApproval, Refusal::DeeperThanApproved { limit }]);
    }

    #[test]
    fn dressing_is_set_deeper_by_nobody() {
        let asked = judge(&joist(MemberKind::Sawn), &cut(0.25, 0.0, 20.0), Length::inches(0.5), None);
        let notch_length = Length::inches(9.25 / 3.0);
        let limit = dressing_most();
        assert_eq!(asked, Ruling::Refused(vec![Refusal::DressingTooDeep { limit, notch_length }]));
    }

    proptest! {
        #[test]
        fn a_deeper_or_longer_cut_is_never_easier(
            depth in 0.0..4.0, more in 0.0..4.0, from in -30.0..120.0, length in 0.0..60.0, longer in 0.0..60.0,
        ) {
            if !ruling(depth, from, from + length).is_allowed() {
                prop_assert!(!ruling(depth + more, from, from + length).is_allowed());
                let at_end = from + length + longer >= 114.0;
                prop_assert!(at_end || !ruling(depth, from, from + length + longer).is_allowed());
            }
        }

        #[test]
        fn no_cut_in_the_middle_third_is_allowed(
            depth in 0.0001..4.0f64, from in -30.0..68.0f64, length in 0.0..100.0f64,
        ) {
            let to = (from + length).max(22.0);
            prop_assert!(!ruling(depth, from, to).is_allowed());
        }
    }
}
