//! The reasons of the framing plan, as the screens are told them.

use crate::forms::{Forbidden, Forbids, WantedCut, Why, WhyKind};
use survey::framing::Reason;
use survey::guard::{Cut, Refusal};
use survey::units::Length;

/// A reason, not yet in words.
pub fn why(reason: &Reason) -> Why {
    let bare = |kind| Why { kind, amount: None, cut: None, forbids: Vec::new() };
    let about = |kind, amount: &Length| Why { amount: Some(amount.to_mm()), ..bare(kind) };
    let cutting = |kind, cut: &Cut| Why { cut: Some(wanted(cut)), ..bare(kind) };
    match reason {
        Reason::Unsound => bare(WhyKind::Unsound),
        Reason::Sags => bare(WhyKind::Sags),
        Reason::NotRead => bare(WhyKind::NotRead),
        Reason::LiftTooLarge { lift } => about(WhyKind::LiftTooLarge, lift),
        Reason::Governs => bare(WhyKind::Governs),
        Reason::OldTopAbove { by } => about(WhyKind::OldTopAbove, by),
        Reason::Dressing { cut } => cutting(WhyKind::Dressing, cut),
        Reason::ByApproval { cut } => cutting(WhyKind::ByApproval, cut),
        Reason::NeedsApproval { cut, why } => Why { forbids: forbids(why), ..cutting(WhyKind::NeedsApproval, cut) },
    }
}

fn wanted(cut: &Cut) -> WantedCut {
    WantedCut { depth: cut.depth.to_mm(), from: cut.from.to_mm(), to: cut.to.to_mm() }
}

/// What forbids a cut.
pub fn forbids(refusals: &[Refusal]) -> Vec<Forbidden> {
    refusals.iter().map(forbidden).collect()
}

fn forbidden(refusal: &Refusal) -> Forbidden {
    let bare = |by| Forbidden { by, limit: None, notch: None };
    let beyond = |by, limit: &Length| Forbidden { limit: Some(limit.to_mm()), ..bare(by) };
    match refusal {
        Refusal::Engineered => bare(Forbids::Engineered),
        Refusal::UnknownKind => bare(Forbids::UnknownKind),
        Refusal::MiddleThird => bare(Forbids::MiddleThird),
        Refusal::DressingTooDeep { limit, notch_length } => {
            Forbidden { notch: Some(notch_length.to_mm()), ..beyond(Forbids::DressingTooDeep, limit) }
        }
        Refusal::NotchTooDeep { limit } => beyond(Forbids::NotchTooDeep, limit),
        Refusal::NotDressing { limit } => beyond(Forbids::NotDressing, limit),
        Refusal::OutsideApproval => bare(Forbids::OutsideApproval),
        Refusal::DeeperThanApproved { limit } => beyond(Forbids::DeeperThanApproved, limit),
        Refusal::BoreTooWide { limit } => beyond(Forbids::BoreTooWide, limit),
        Refusal::BoreTooNear { limit } => beyond(Forbids::BoreTooNear, limit),
    }
}
