//! What an alternative counts, so that the alternatives can be ranked.

use super::doorway::larger;
use super::settings::{Cost, Settings};
use super::work::{Action, JoistWork};
use crate::units::{Length, Ratio};

/// The sum over the joists and the door: smaller is better.
pub(super) fn objective(works: &[JoistWork], door_rise: &[Option<Length>], settings: &Settings) -> Ratio {
    let joists: Ratio = works.iter().map(|work| of_joist(work, &settings.cost)).sum();
    let rise = larger(door_rise).unwrap_or(Length::ZERO).max(Length::ZERO);
    joists + settings.cost.door_mm * rise.to_mm()
}

fn of_joist(work: &JoistWork, cost: &Cost) -> Ratio {
    if work.action == Action::Sister {
        return cost.sister;
    }
    let lifted: Length = work.lifts.iter().flatten().map(|lift| lift.max(Length::ZERO)).sum();
    let strips = match work.strips.len() {
        // What a joist needs that waits for an engineer is not known yet.
        _ if work.action == Action::AskEngineer => Ratio::ZERO,
        0 => Ratio::ZERO,
        count => cost.strip * count as f64 + cost.strip_mm * lifted.to_mm(),
    };
    let cut = work.cuts.iter().flatten().any(|cut| *cut > Length::ZERO);
    strips + if cut { cost.dress } else { Ratio::ZERO }
}
