//! Holes through a joist.

use super::{Grounds, Limits, Member, MemberKind, Refusal, Ruling};
use crate::units::Length;

/// Whether a hole of this `diameter` may be bored where `wood` is left to the nearest edge, hole or notch.
///
/// # Units
/// Lengths; the limits are inclusive.
///
/// # Source
/// As [`Limits`].
///
/// ```
/// use survey::guard::{Member, MemberKind, bore};
/// use survey::units::Length;
///
/// let inches = Length::inches;
/// let joist = Member { kind: MemberKind::Sawn, depth: inches(7.25), span: inches(120.0), first_bearing: inches(0.0) };
/// assert!(bore(&joist, inches(2.375), inches(2.0)).is_allowed());
/// assert!(!bore(&joist, inches(2.4375), inches(2.0)).is_allowed());
/// ```
pub fn bore(member: &Member, diameter: Length, wood: Length) -> Ruling {
    let limits = Limits::of(member.depth);
    let why = match member.kind {
        MemberKind::Engineered => vec![Refusal::Engineered],
        MemberKind::Unknown => vec![Refusal::UnknownKind],
        MemberKind::Sawn => {
            let wide = (!diameter.at_most(limits.bore)).then_some(Refusal::BoreTooWide { limit: limits.bore });
            let near = (!wood.at_least(limits.bore_edge)).then_some(Refusal::BoreTooNear { limit: limits.bore_edge });
            wide.into_iter().chain(near).collect()
        }
    };
    if why.is_empty() { Ruling::Allowed(Grounds::Bore) } else { Ruling::Refused(why) }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(kind: MemberKind, diameter: f64, wood: f64, expected: Ruling) {
        let inches = Length::inches;
        let joist = Member { kind, depth: inches(9.25), span: inches(138.0), first_bearing: Length::ZERO };
        assert_eq!(bore(&joist, inches(diameter), inches(wood)), expected, "{kind:?} {diameter} {wood}");
    }

    #[test]
    fn width_and_edges() {
        let wide = Refusal::BoreTooWide { limit: Length::inches(9.25) / 3.0 };
        let near = Refusal::BoreTooNear { limit: Length::inches(2.0) };
        check(MemberKind::Sawn, 3.0, 2.0, Ruling::Allowed(Grounds::Bore));
        check(MemberKind::Sawn, 3.125, 2.0, Ruling::Refused(vec![wide.clone()]));
        check(MemberKind::Sawn, 3.0, 1.9375, Ruling::Refused(vec![near.clone()]));
        check(MemberKind::Sawn, 4.0, 1.0, Ruling::Refused(vec![wide, near]));
        check(MemberKind::Engineered, 0.5, 4.0, Ruling::Refused(vec![Refusal::Engineered]));
        check(MemberKind::Unknown, 0.5, 4.0, Ruling::Refused(vec![Refusal::UnknownKind]));
    }
}
