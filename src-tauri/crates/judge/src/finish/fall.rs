//! How a wet floor is to fall: the rise of its edge, the marks round its walls, every rule beside the others; how the
//! floor as read is put right, how level its entry is, and how much water it holds.

mod correction;
mod edge;
mod entry;
mod facets;
mod floor;
mod hold;
mod rules;

use crate::forms::bounds::{FLOW, within};
use crate::forms::refusal::Refusal;
use crate::forms::*;
use floor::Floor;

pub(crate) use edge::DRAIN_AT_EDGE;

/// How a room's wet floor is to fall, or by the plan that is tried out.
///
/// # Errors
/// As [`fall()`].
pub fn asked(mut file: RoomFile, ask: &FallAsk) -> Result<FallView, Refusal> {
    let new = ask.plan.as_ref().filter(|new| file.works.fall.as_ref() != Some(new));
    new.map_or(Ok(()), |fall| check_new(fall, &file.plan))?;
    file.works.fall = ask.plan.clone().or(file.works.fall);
    fall(&file)
}

/// How a room's wet floor is to fall, from its file.
///
/// # Errors
/// `not-ready` without a drain or an outline, `out-of-range` naming what cannot be.
pub fn fall(file: &RoomFile) -> Result<FallView, Refusal> {
    let floor = Floor::of(file)?;
    let plan = file.works.fall.clone().unwrap_or_else(|| floor.usual());
    check(&plan, &file.plan)?;
    let (edge, mut problems) = floor.edge(&plan);
    problems.extend(floor.outside());
    let walls = floor.walls(&edge);
    Ok(FallView {
        rise: edge.rise,
        designs: floor.designs(&plan, &edge),
        rules: floor.rules(&edge),
        conflicts: floor.conflicts(),
        entry_level: entry::marks_level(&walls),
        entry: entry::as_read(&floor),
        hold: hold::hold(&floor, &plan, &edge),
        facets: facets::facets(&floor),
        correction: correction::correction(&floor, &plan),
        walls,
        plan,
        problems,
    })
}

/// Whether a floor can be planned so anew: what was kept before there were bounds is still looked at.
///
/// # Errors
/// As [`check`], and `out-of-range` with both bounds for what no shower gives.
pub fn check_new(fall: &FallPlan, plan: &Plan) -> Result<(), Refusal> {
    check(fall, plan)?;
    within("fall: flow", fall.flow, FLOW)
}

/// Whether a floor can be planned so.
///
/// # Errors
/// `out-of-range` or `not-finite`, naming the field.
pub fn check(fall: &FallPlan, plan: &Plan) -> Result<(), Refusal> {
    if fall.rise.is_some_and(|rise| rise.is_nan() || rise < 0.0) {
        return Err(Refusal::out_of_range("fall: rise", "zero or more"));
    }
    if fall.flow.is_some_and(|flow| flow.is_nan() || flow <= 0.0) {
        return Err(Refusal::out_of_range("fall: flow", "more than zero litres a minute"));
    }
    if fall.trap_arm.is_some_and(|arm| arm.is_nan() || arm <= 0.0) {
        return Err(Refusal::out_of_range("fall: trap arm", "more than zero"));
    }
    let trough = fall.trough.as_ref().map(|trough| [trough.wide, trough.deep]);
    if trough.is_some_and(|sizes| sizes.iter().any(|size| size.is_nan() || *size <= 0.0)) {
        return Err(Refusal::out_of_range("fall: trough", "wider and deeper than nothing. Both stand on its sheet"));
    }
    let deepest = plan.joists.iter().map(|joist| joist.depth).fold(f64::INFINITY, f64::min);
    if fall.rise.is_some_and(|rise| rise > deepest) {
        return Err(Refusal::out_of_range("fall: rise", "no more than the joists are deep"));
    }
    if fall.stack.is_some_and(|(x, y)| !x.is_finite() || !y.is_finite()) {
        return Err(Refusal::not_finite("fall: waste pipe"));
    }
    Ok(())
}

#[cfg(test)]
mod tests;
