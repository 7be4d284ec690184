//! What is left of the shower's bed over the joists that stand up into it.

use super::layers::spread;
use crate::forms::*;
use crate::room::positions::{outlet, position};
use crate::room::rules::{Figures, LengthId};
use crate::room::verdict::{decision, verdict};
use survey::PlanPosition;
use survey::rise_share::rise_share;
use survey::units::{Estimate, Length};
use survey::verdict::{Limits, conformance};

/// The bed over each joist of the shower whose top stands above the deck, where the joist comes nearest to the drain.
pub(super) fn beds(plan: &Plan, layers: &Layers, figures: &Figures) -> Vec<BedOver> {
    // The joists lie under the room's subfloor.
    let proud = -figures.length(LengthId::Subfloor).to_mm() - layers.shower_deck;
    let Some(drain) = plan.drain.as_ref().filter(|_| proud > 1e-6) else { return Vec::new() };
    let corners: Vec<PlanPosition> = plan.outline.iter().map(position).collect();
    let off = Length::mm(drain.grate.unwrap_or(0.0) / 2.0);
    let over = |joist: &Joist| {
        let at = nearest(plan, drain, joist, figures.length(LengthId::JoistThickness).to_mm());
        let share = rise_share(&corners, &outlet(drain), off, position(&at))?.to_f64();
        Some(over(joist, proud, share, layers, figures))
    };
    plan.joists.iter().filter_map(over).collect()
}

fn over(joist: &Joist, proud: f64, share: f64, layers: &Layers, figures: &Figures) -> BedOver {
    let all = bedding(&layers.shower);
    let thick = |layer: &Layer| {
        let at_drain = layer.at_drain.unwrap_or(layer.thickness);
        at_drain + share * (layer.thickness - at_drain)
    };
    let bed: f64 = all.iter().map(thick).sum();
    let usual = figures.length(LengthId::LayerSd);
    // The deck is set to the joists within the usual spread.
    let u = all.iter().map(|layer| spread(layer, usual)).chain([usual]).fold(0.0, |u, one| f64::hypot(u, one.to_mm()));
    let left = Estimate::new(Length::mm(bed - proud), Length::mm(u));
    let limits = Limits::at_least(figures.length(LengthId::BedLeast));
    let found = conformance(left, limits, figures.confidence(), decision(figures.decision()));
    BedOver {
        joist: joist.id.clone(),
        proud,
        bed,
        left: left.value.to_mm(),
        u,
        least: figures.length(LengthId::BedLeast).to_mm(),
        verdict: found.map_or(Verdict::NotTested, |found| verdict(found.verdict)),
        rule: figures.name(LengthId::BedLeast),
    }
}

/// The layers up to the one that falls to the drain; the first alone where none does.
fn bedding(shower: &[Layer]) -> &[Layer] {
    let sloped = shower.iter().position(|layer| layer.at_drain.is_some()).unwrap_or(0);
    shower.get(..=sloped).unwrap_or(shower)
}

/// The place of a joist's top that lies nearest to the drain.
fn nearest(plan: &Plan, drain: &Drain, joist: &Joist, thick: f64) -> (f64, f64) {
    let along_x = plan.joists_along == Axis::X;
    let turned = |(x, y): (f64, f64)| if along_x { (x, y) } else { (y, x) };
    let (from, to) = (turned(drain.from), turned(drain.to.unwrap_or(drain.from)));
    let (low, high) = (joist.at - thick / 2.0, joist.at + thick / 2.0);
    // The end of the drain that comes closest to the joist's sides, or a place of it between them.
    let away = |(_, across): (f64, f64)| (low - across).max(across - high).max(0.0);
    let crosses = (from.1 - joist.at) * (to.1 - joist.at) < 0.0;
    let middle = ((from.0 + to.0) / 2.0, (from.1 + to.1) / 2.0);
    let end = match () {
        () if crosses => {
            let share = (joist.at - from.1) / (to.1 - from.1);
            (from.0 + share * (to.0 - from.0), joist.at)
        }
        () if (away(from) - away(to)).abs() < 1e-9 => middle,
        () if away(from) < away(to) => from,
        () => to,
    };
    turned((end.0, end.1.clamp(low, high)))
}
