//! A room being judged: its heights, the surface through them, and how it drains.

use super::noise::Noise;
use crate::forms::{Finding, FindingKind, Place, RoomFile, RuleRef, Setup, Survey, Verdict, WireProblem};
use crate::room::from_walls::{self, nowhere};
use crate::room::point_heights::{Height, heights, pooled_sd};
use crate::room::positions::{outlets, position};
use crate::room::rules::Figures;
use crate::room::verdict;
use std::cell::OnceCell;
use std::collections::HashMap;
use survey::drainage::{Drainage, FallRule, drainage};
use survey::triangulation::{NoSurface, Triangulation, triangulate};
use survey::units::{Estimate, Length};
use survey::{PlanPosition, Point};

/// A room being judged.
pub(crate) struct Judging<'f> {
    pub(crate) file: &'f RoomFile,
    pub(crate) survey: &'f Survey,
    pub(crate) figures: Figures,
    pub(crate) heights: Vec<Height<'f>>,
    by_point: HashMap<&'f str, usize>,
    pub(crate) noise: Noise,
    /// The standard uncertainty of one height.
    pub(crate) sd: Length,
    // Each worked out once, when it is first asked for.
    surface: OnceCell<Result<Triangulation, NoSurface>>,
    drained: OnceCell<Result<Drainage, WireProblem>>,
}

impl<'f> Judging<'f> {
    pub(crate) fn of(file: &'f RoomFile, survey: &'f Survey, noise: Noise) -> Self {
        let heights = heights(file, &survey.id);
        let sd = pooled_sd(&heights);
        let by_point = heights.iter().enumerate().map(|(k, height)| (height.point.id.as_str(), k)).collect();
        let figures = Figures::of(&file.rules);
        let (surface, drained) = (OnceCell::new(), OnceCell::new());
        Self { file, survey, figures, heights, by_point, noise, sd, surface, drained }
    }

    /// The height of a point of the plan; none where it was not read.
    pub(crate) fn height_of(&self, point: &str) -> Option<survey::units::Length> {
        self.heights.get(*self.by_point.get(point)?).map(|height| height.z)
    }

    pub(crate) fn setups(&self) -> impl Iterator<Item = &'f Setup> {
        let survey = self.survey.id.as_str();
        self.file.setups.iter().filter(move |setup| setup.survey == survey && !setup.withdrawn)
    }

    /// A point of the floor.
    pub(super) fn at(&self, x: f64, y: f64) -> Place {
        from_walls::at(&self.file.plan, (x, y))
    }

    /// A line on the floor.
    pub(super) fn along(&self, from: (f64, f64), to: (f64, f64)) -> Place {
        from_walls::along(&self.file.plan, from, to)
    }

    /// How the magnitude of one value stands to a limit, by the room's decision.
    pub(super) fn judge(&self, value: Estimate<Length>, limit: Length) -> Verdict {
        verdict::at_most(&self.figures, Estimate::new(value.value.abs(), value.u), limit).0
    }

    /// The surface through the readings of the floor, inside the room's outline where they lie in it.
    pub(super) fn surface(&self) -> Result<&Triangulation, NoSurface> {
        self.surface.get_or_init(|| self.laid()).as_ref().map_err(|why| *why)
    }

    fn laid(&self) -> Result<Triangulation, NoSurface> {
        let points: Vec<Point> = self.heights.iter().map(|height| height.at()).collect();
        let outline: Vec<PlanPosition> = self.file.plan.outline.iter().map(position).collect();
        let laid = triangulate(&points, &outline).or_else(|_| triangulate(&points, &[]))?;
        Ok(laid.value)
    }

    /// Where water runs and stands on that surface.
    pub(super) fn drained(&self) -> &Result<Drainage, WireProblem> {
        self.drained.get_or_init(|| self.flooded())
    }

    fn flooded(&self) -> Result<Drainage, WireProblem> {
        let outlet = outlets(&self.file.plan).ok_or_else(|| {
            let message = "The plan has no drain: put it on the plan, and falls and ponds are judged.";
            problem("no-drain", message.to_string())
        })?;
        let surface = self
            .surface()
            .map_err(|why| problem(why.name(), format!("No surface can be laid through the readings: {why}.")))?;
        // Where water stands does not hang on how a fall is measured.
        let limits = survey::drainage::FallLimits { rule: FallRule::Path, ..self.figures.falls() };
        let found = drainage(surface, &outlet, &[], limits)
            .map_err(|why| problem(why.name(), format!("The way of the water cannot be said: {why}.")))?;
        Ok(found.value)
    }
}

fn problem(kind: &str, message: String) -> WireProblem {
    WireProblem { kind: kind.to_string(), message, at: None }
}

/// A finding of which only this is known.
pub(super) fn plain(kind: FindingKind, subject: &str, rule: RuleRef, verdict: Verdict) -> Finding {
    Finding {
        kind,
        subject: subject.to_string(),
        place: nowhere(),
        value: None,
        u: None,
        limit: None,
        least: None,
        reach: None,
        rule,
        verdict,
        retake: Vec::new(),
        noise_alone: None,
    }
}
