//! A wet floor as its slope is planned.

use crate::forms::refusal::{Kind, Refusal};
use crate::forms::{Drain, EdgeShape, FallPlan, Origin, RoomFile, WireProblem};
use crate::room::positions::{outlet, position};
use crate::room::rules::Figures;
use survey::PlanPosition;
use survey::drain_window::{Bar, DrainSite, placed};
use survey::drainage::{Drain as Outlet, FallLimits};
use survey::units::Length;

/// The floor, its drain and what its slope may be.
pub(super) struct Floor<'f> {
    pub(super) file: &'f RoomFile,
    pub(super) figures: Figures,
    pub(super) corners: Vec<PlanPosition>,
    pub(super) drain: &'f Drain,
    pub(super) outlet: Outlet,
    pub(super) limits: FallLimits,
}

impl<'f> Floor<'f> {
    pub(super) fn of(file: &'f RoomFile) -> Result<Self, Refusal> {
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
    pub(super) fn usual(&self) -> FallPlan {
        let edge = if self.drain.to.is_some() { EdgeShape::Even } else { EdgeShape::Level };
        FallPlan { edge, origin: Origin::Centre, rise: None, flow: None, stack: None, trap_arm: None, trough: None }
    }

    /// That the drain does not lie in the room, where it does not.
    pub(super) fn outside(&self) -> Option<WireProblem> {
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
