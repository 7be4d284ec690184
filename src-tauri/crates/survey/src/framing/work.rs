//! What one target asks of one joist.

use super::alternatives::{Name, Proposal};
use super::site::{Site, Studied};
use super::strips::{Strip, strips};
use super::{Reason, StripStops};
use crate::guard::{Cut, Refusal, Ruling, judge};
use crate::joists::Profile;
use crate::units::Length;

/// What is done to one joist.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Action {
    Leave,
    Sheet,
    Strip,
    TallStrip,
    Sister,
    Dress,
    DressAndStrip,
    AskEngineer,
}

impl Action {
    /// The name used on every wire: `dress-and-strip`.
    pub fn name(self) -> &'static str {
        match self {
            Self::Leave => "leave",
            Self::Sheet => "sheet",
            Self::Strip => "strip",
            Self::TallStrip => "tall-strip",
            Self::Sister => "sister",
            Self::Dress => "dress",
            Self::DressAndStrip => "dress-and-strip",
            Self::AskEngineer => "ask-engineer",
        }
    }
}

/// The work on one joist.
#[derive(Debug, Clone, PartialEq)]
pub struct JoistWork {
    pub id: String,
    pub action: Action,
    /// Target less top at each station; negative where the top stands above. Empty where it was not read.
    pub lifts: Vec<Option<Length>>,
    /// How much comes off at each station; 0 where nothing may.
    pub cuts: Vec<Option<Length>>,
    pub reasons: Vec<Reason>,
    /// The strips as they are cut, the nearest to the door wall first.
    pub strips: Vec<Strip>,
    /// A cut here rests on the approval on record.
    pub by_approval: bool,
}

/// Two heights this close, in mm, are one.
const SAME: f64 = 1e-6;

/// The work that a proposal asks of the joist at place `j` of the grid.
pub(super) fn work(site: &Site, j: usize, studied: &Studied, proposal: &Proposal) -> JoistWork {
    let joist = studied.joist;
    let x = joist.x.to_mm();
    let over = studied.profile.map(|y, z| z - proposal.target.mm(x, y));
    let lift = |(k, y): (usize, &Length)| joist.top(k).map(|z| Length::mm(proposal.target.mm(x, y.to_mm())) - z);
    let lifts: Vec<Option<Length>> = site.grid.stations.iter().enumerate().map(lift).collect();
    let decided = decide(site, studied, proposal, &over, proposal.also_sistered == Some(j));
    let stations = site.grid.stations.iter().zip(&lifts);
    let cuts = stations.map(|(y, lift)| lift.map(|lift| depth_at(&decided.cuts, *y, lift))).collect();
    let (action, too_large) = decided.action(&lifts, &site.settings.strip);
    let strips = match action {
        Action::Leave | Action::Sister | Action::Dress => Vec::new(),
        _ => strips(joist, &studied.profile, &proposal.target, &site.settings.strip),
    };
    let by_approval = decided.reasons.iter().any(|reason| matches!(reason, Reason::ByApproval { .. }));
    let reasons = decided.reasons.into_iter().chain(too_large).collect();
    JoistWork { id: joist.id.clone(), action, lifts, cuts, reasons, strips, by_approval }
}

/// What is decided before the lifts are looked at: the cuts that are listed, and why.
#[derive(Default)]
struct Decided {
    sister: bool,
    refused: bool,
    cuts: Vec<Cut>,
    reasons: Vec<Reason>,
}

fn decide(site: &Site, studied: &Studied, proposal: &Proposal, over: &Profile, also_sistered: bool) -> Decided {
    let wanted = wanted(over);
    if !studied.sister.is_empty() {
        let above = wanted.iter().map(|cut| cut.depth).reduce(Length::max).map(|by| Reason::OldTopAbove { by });
        let reasons = studied.sister.iter().cloned().chain(above).collect();
        return Decided { sister: true, reasons, ..Decided::default() };
    }
    let mut decided = Decided { sister: also_sistered, ..Decided::default() };
    decided.reasons.extend(also_sistered.then_some(Reason::Governs));
    decided.reasons.extend(over.points().is_empty().then_some(Reason::NotRead));
    for cut in wanted {
        let reason = ground(site, studied, &cut);
        let asks = matches!(reason, Reason::NeedsApproval { .. });
        let listed = !asks || proposal.name.cuts_by_new_approval();
        decided.refused |= !listed;
        decided.cuts.extend(listed.then_some(cut));
        decided.reasons.push(reason);
    }
    decided
}

/// A cut for every stretch on which the top stands above the target.
fn wanted(over: &Profile) -> Vec<Cut> {
    let cut = |stretch: &crate::joists::Stretch| Cut {
        depth: Length::mm(stretch.most + SAME),
        from: Length::mm(stretch.from),
        to: Length::mm(stretch.to),
    };
    over.stretches(SAME).iter().filter(|stretch| stretch.most > 0.0).map(cut).collect()
}

/// On what ground a cut is made, by the one way that this joist is cut.
fn ground(site: &Site, studied: &Studied, cut: &Cut) -> Reason {
    let member = &studied.joist.member;
    let approval = studied.joist.approval.as_ref().filter(|_| studied.ways.by_approval());
    let ruling = match approval {
        Some(approval) => approval.covers(cut),
        None => judge(member, cut, site.dressing(), None),
    };
    match ruling {
        Ruling::Allowed(_) if approval.is_some() => Reason::ByApproval { cut: *cut },
        Ruling::Allowed(_) if cut.depth.at_most(site.dressing()) => Reason::Dressing { cut: *cut },
        Ruling::Allowed(_) => {
            Reason::NeedsApproval { cut: *cut, why: vec![Refusal::NotDressing { limit: site.dressing() }] }
        }
        Ruling::Refused(why) => Reason::NeedsApproval { cut: *cut, why },
    }
}

/// How much comes off at a station that stands above the target inside one of the cuts.
fn depth_at(cuts: &[Cut], station: Length, lift: Length) -> Length {
    let inside = |cut: &Cut| cut.from <= station && station <= cut.to;
    let above = -lift;
    if above.to_mm() > SAME && cuts.iter().any(inside) { above } else { Length::ZERO }
}

impl Decided {
    /// The action, and the lift that is too large for a strip where that is the reason for a sister.
    fn action(&self, lifts: &[Option<Length>], stops: &StripStops) -> (Action, Option<Reason>) {
        let largest = lifts.iter().flatten().copied().reduce(Length::max).unwrap_or(Length::ZERO);
        let by_lift = by_lift(largest, stops);
        match by_lift {
            _ if self.sister => (Action::Sister, None),
            _ if self.refused => (Action::AskEngineer, None),
            Action::Sister => (Action::Sister, Some(Reason::LiftTooLarge { lift: largest })),
            _ if self.cuts.is_empty() => (by_lift, None),
            Action::Leave => (Action::Dress, None),
            _ => (Action::DressAndStrip, None),
        }
    }
}

fn by_lift(largest: Length, stops: &StripStops) -> Action {
    match () {
        () if !largest.at_least(stops.least) => Action::Leave,
        () if !largest.at_least(stops.sheet_below) => Action::Sheet,
        () if largest.at_most(stops.most) => Action::Strip,
        () if stops.allow_tall && largest.at_most(stops.tall) => Action::TallStrip,
        () => Action::Sister,
    }
}

impl Name {
    /// Whether these works make the alternative wait for an approval.
    pub(super) fn needs_approval(self, works: &[JoistWork]) -> bool {
        self.cuts_by_new_approval() || works.iter().any(|work| work.action == Action::AskEngineer)
    }
}
