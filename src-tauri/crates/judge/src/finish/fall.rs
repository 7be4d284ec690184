//! How a wet floor is to fall: the rise of its edge, the marks round its walls, every rule beside the others; how the
//! floor as read is put right, how level its entry is, and how much water it holds.

mod correction;
mod edge;
mod entry;
mod facets;
mod hold;
mod rules;

use crate::forms::WireProblem;
use crate::forms::bounds::{FLOW, within};
use crate::forms::refusal::{Kind, Refusal};
use crate::forms::*;
use crate::room::positions::{outlet, position};
use crate::room::rules::Figures;
use survey::drain_window::{Bar, DrainSite, placed};
use survey::drainage::Drain as Outlet;
use survey::units::Length;
use survey::{PlanPosition, drainage::FallLimits};

pub(crate) use edge::DRAIN_AT_EDGE;

/// A wet floor as it is planned.
struct Floor<'f> {
    file: &'f RoomFile,
    figures: Figures,
    corners: Vec<PlanPosition>,
    drain: &'f Drain,
    outlet: Outlet,
    limits: FallLimits,
}

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

impl<'f> Floor<'f> {
    fn of(file: &'f RoomFile) -> Result<Self, Refusal> {
        let Some(drain) = file.plan.drain.as_ref().filter(|_| file.plan.outline.len() > 2) else {
            let message = "A floor falls to a drain. Put the drain on the plan, then ask again.";
            return Err(Refusal::new(Kind::NotReady, message).field("plan.drain"));
        };
        let figures = Figures::of(&file.rules);
        let corners = file.plan.outline.iter().map(position).collect();
        let limits = figures.falls();
        Ok(Self { file, corners, drain, outlet: outlet(drain), limits, figures })
    }

    /// A level edge round a point, one plane to a line.
    fn usual(&self) -> FallPlan {
        let edge = if self.drain.to.is_some() { EdgeShape::Even } else { EdgeShape::Level };
        FallPlan { edge, origin: Origin::Centre, rise: None, flow: None, stack: None, trap_arm: None, trough: None }
    }

    /// That the drain does not lie in the room, where it does not.
    fn outside(&self) -> Option<WireProblem> {
        let site = DrainSite {
            corners: self.corners.clone(),
            joists: Vec::new(),
            joists_along_x: false,
            joist_thickness: Length::ZERO,
            hole: Length::ZERO,
            clearance: Length::ZERO,
            trough: None,
            falls: self.limits,
            trap: None,
        };
        let ends = [Some(self.drain.from), self.drain.to];
        let is_out = |at: (f64, f64)| placed(&site, position(&at), &self.outlet).bars.contains(&Bar::Wall);
        let message = "The drain lies outside the room. Move it on the plan.".to_string();
        let out = ends.into_iter().flatten().any(is_out);
        out.then(|| WireProblem { kind: "drain-outside".to_string(), message, at: None })
    }
}

#[cfg(test)]
mod tests;
