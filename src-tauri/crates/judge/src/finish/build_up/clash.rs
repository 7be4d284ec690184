//! The joists under the hole for the drain.

use crate::forms::*;
use crate::room::rules::{Figures, LengthId};

/// The joists under the hole for the drain, and the nearest centres where it meets none.
pub(super) fn clash(plan: &Plan, figures: &Figures) -> Option<DrainClash> {
    let drain = plan.drain.as_ref().filter(|_| !plan.joists.is_empty())?;
    let across = |&(x, y): &(f64, f64)| if plan.joists_along == Axis::Y { x } else { y };
    let (hole, thick) = (figures.length(LengthId::DrainHole).to_mm(), figures.length(LengthId::JoistThickness).to_mm());
    let at = across(&drain.from);
    // At the edge of a joist's side the hole just touches nothing.
    let meets = |centre: f64, joist: &Joist| (centre - joist.at).abs() < (hole + thick) / 2.0 - 1e-6;
    let joists: Vec<String> =
        plan.joists.iter().filter(|joist| meets(at, joist)).map(|joist| joist.id.clone()).collect();
    let away = (hole + thick) / 2.0 + figures.length(LengthId::DrainClearance).to_mm();
    let inside = |centre: &f64| {
        let all = plan.outline.iter().map(across);
        let (from, to) = (all.clone().fold(f64::INFINITY, f64::min), all.fold(f64::NEG_INFINITY, f64::max));
        *centre - hole / 2.0 >= from && *centre + hole / 2.0 <= to
    };
    let beside = plan.joists.iter().flat_map(|joist| [joist.at - away, joist.at + away]);
    let mut clear_at: Vec<f64> =
        beside.filter(inside).filter(|centre| !plan.joists.iter().any(|joist| meets(*centre, joist))).collect();
    clear_at.sort_by(|a, b| (a - at).abs().total_cmp(&(b - at).abs()));
    clear_at.truncate(2);
    let clear_at = if joists.is_empty() { Vec::new() } else { clear_at };
    Some(DrainClash { hole, joists, clear_at, provenance: Provenance::CommonPractice })
}
