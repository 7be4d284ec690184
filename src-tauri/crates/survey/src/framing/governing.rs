//! How low a level target each joist permits, in mm.

use crate::guard::{Approval, Member, MemberKind, dressing_most, middle_third};
use crate::joists::Profile;
use crate::units::Length;

/// The two ways a joist may be cut, and the lowest target each permits. `f64::NEG_INFINITY` if nothing was read.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Ways {
    /// Dressing on the builder's own account; no cut at all on engineered and unknown members.
    own: f64,
    /// Within the approval on record.
    approved: Option<f64>,
}

impl Ways {
    pub(super) fn of(profile: &Profile, member: &Member, dressing: Length, approval: Option<&Approval>) -> Self {
        let own = match member.kind {
            MemberKind::Sawn => dressed(profile, member, dressing),
            MemberKind::Engineered | MemberKind::Unknown => highest(profile),
        };
        Self { own, approved: approval.map(|approval| approved(profile, approval)) }
    }

    /// The same, if sawn members might be dressed anywhere along their length.
    pub(super) fn anywhere(self, profile: &Profile, member: &Member, dressing: Length) -> Self {
        let depth = if member.kind == MemberKind::Sawn { held(dressing) } else { 0.0 };
        Self { own: highest(profile) - depth, ..self }
    }

    /// The lower of the two.
    pub(super) fn lowest(self) -> f64 {
        self.approved.map_or(self.own, |approved| approved.min(self.own))
    }

    /// Whether the approval is the way that permits the lower target.
    pub(super) fn by_approval(self) -> bool {
        self.approved.is_some_and(|approved| approved < self.own)
    }
}

pub(super) fn highest(profile: &Profile) -> f64 {
    profile.highest().unwrap_or(f64::NEG_INFINITY)
}

/// No deeper than dressing goes, and nothing above the target in the closed middle third.
fn dressed(profile: &Profile, member: &Member, dressing: Length) -> f64 {
    let (from, to) = middle_third(member);
    let in_third = profile.highest_between(from.to_mm(), to.to_mm()).unwrap_or(f64::NEG_INFINITY);
    in_third.max(highest(profile) - held(dressing))
}

/// No deeper than the approval goes, and nothing above the target outside its from–to.
fn approved(profile: &Profile, approval: &Approval) -> f64 {
    let (from, to) = (approval.from.min(approval.to).to_mm(), approval.from.max(approval.to).to_mm());
    let (first, last) = (profile.points().first(), profile.points().last());
    let before = first.filter(|first| first.0 < from).and_then(|first| profile.highest_between(first.0, from));
    let behind = last.filter(|last| last.0 > to).and_then(|last| profile.highest_between(to, last.0));
    let outside = [before, behind].into_iter().flatten().fold(f64::NEG_INFINITY, f64::max);
    outside.max(highest(profile) - approval.depth.to_mm().max(0.0))
}

fn held(dressing: Length) -> f64 {
    dressing.min(dressing_most()).to_mm().max(0.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::joists::example::joist;

    const READ: [(f64, f64); 4] = [(0.0, 2.0), (30.0, 3.0), (60.0, 4.0), (90.0, 1.0)];

    fn ways(approval: Option<[f64; 3]>, kind: MemberKind) -> Ways {
        let inch = |value: f64| Length::inches(value).to_mm();
        let profile = Profile::new(READ.map(|(y, z)| (inch(y), inch(z))).to_vec());
        let member = Member { kind, ..joist("J1", 0.0, &[]).member };
        let approval = approval.map(|lengths| {
            let [depth, from, to] = lengths.map(Length::inches);
            Approval { depth, from, to }
        });
        Ways::of(&profile, &member, Length::inches(0.125), approval.as_ref())
    }

    fn check(approval: Option<[f64; 3]>, kind: MemberKind, lowest: f64, by_approval: bool) {
        let ways = ways(approval, kind);
        assert!((ways.lowest() / 25.4 - lowest).abs() < 1e-12, "{approval:?}: {}", ways.lowest() / 25.4);
        assert_eq!(ways.by_approval(), by_approval, "{approval:?}");
    }

    #[test]
    fn the_middle_third_and_the_approval() {
        check(None, MemberKind::Sawn, 4.0, false);
        check(None, MemberKind::Engineered, 4.0, false);
        check(Some([0.5, 0.0, 90.0]), MemberKind::Engineered, 3.5, true);
        check(Some([0.5, 50.0, 90.0]), MemberKind::Sawn, 3.0 + 2.0 / 3.0, true);
        check(Some([0.5, 10.0, 62.0]), MemberKind::Sawn, 3.8, true);
        check(Some([0.5, 0.0, 10.0]), MemberKind::Sawn, 4.0, false);
        check(Some([2.5, 0.0, 90.0]), MemberKind::Unknown, 1.5, true);
    }

    #[test]
    fn a_single_reading_is_cut_only_where_the_approval_reaches() {
        let one = Profile::new(vec![(100.0, 5.0)]);
        let lowest = |from: f64, to: f64| {
            approved(&one, &Approval { depth: Length::mm(2.0), from: Length::mm(from), to: Length::mm(to) })
        };
        assert_eq!([lowest(0.0, 200.0), lowest(0.0, 50.0), lowest(150.0, 200.0)], [3.0, 5.0, 5.0]);
    }

    #[test]
    fn nothing_read_permits_anything() {
        let ways = Ways::of(&Profile::new(vec![]), &joist("J1", 0.0, &[]).member, Length::ZERO, None);
        assert_eq!(ways.lowest(), f64::NEG_INFINITY);
    }
}
