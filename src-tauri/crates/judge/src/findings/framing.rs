//! Bare joists judged: each by itself, each against the rest, and all together under a straightedge.

use super::judging::Judging;
use crate::forms::*;
use crate::forms::{WireProblem, problems};
use crate::room::from_walls::nowhere;
use crate::room::joist_grid;
use crate::room::rules::{LengthId, NumberId, RuleId};
use survey::framing;
use survey::joists::{self, Departure, Grid, Shape};
use survey::units::{Estimate, Length};

/// The findings of a framing survey, and what is wrong with its data.
pub(super) fn findings(judging: &Judging<'_>) -> (Vec<Finding>, Vec<WireProblem>) {
    let grid = joist_grid::grid(judging.file, &judging.survey.id, &judging.heights, judging.sd);
    let (ratio, straight) = (judging.figures.ratio(NumberId::SagRatio), judging.figures.length(LengthId::OfTheRest));
    let Ok(shapes) = joists::shapes(&grid, ratio, straight) else { return (Vec::new(), Vec::new()) };
    let mut all: Vec<Finding> = grid
        .joists
        .iter()
        .zip(&shapes.value)
        .flat_map(|(joist, shape)| JoistJudging { judging, grid: &grid, joist, shape }.findings())
        .collect();
    all.extend(governs(judging, &grid));
    all.extend(not_looked_at(judging, &grid));
    (all, problems(shapes.problems))
}

/// One joist within the grid.
struct JoistJudging<'a, 'f> {
    judging: &'a Judging<'f>,
    grid: &'a Grid,
    joist: &'a joists::Joist,
    shape: &'a Shape,
}

impl JoistJudging<'_, '_> {
    fn findings(&self) -> Vec<Finding> {
        let crown = self.shape.crown_or_sag.map(|departure| self.crown_or_sag(departure));
        let all = [crown, self.of_the_rest(), self.sag(), self.out_of_level(), self.twist()];
        all.into_iter().flatten().chain(self.sharp_drops()).collect()
    }

    fn place(&self, station: Length) -> Place {
        let (x, y) = self.spot(station);
        self.judging.at(x, y)
    }

    fn spot(&self, station: Length) -> (f64, f64) {
        match self.judging.file.plan.joists_along {
            Axis::Y => (self.joist.x.to_mm(), station.to_mm()),
            Axis::X => (station.to_mm(), self.joist.x.to_mm()),
        }
    }

    /// The point read at a station.
    fn point(&self, station: Length) -> Option<String> {
        let axis = self.judging.file.plan.joists_along;
        let here = |point: &&PlanPoint| {
            let near = (joist_grid::station(axis, point.x, point.y) - station.to_mm()).abs() <= 0.001;
            near && point.joist.as_deref() == Some(&self.joist.id) && point.survey == self.judging.survey.id
        };
        self.judging.file.plan.points.iter().find(here).map(|point| point.id.clone())
    }

    /// The first and last points that were read.
    fn ends(&self) -> Vec<String> {
        let read = self
            .grid
            .stations
            .iter()
            .zip(&self.joist.tops)
            .filter(|(_, top)| top.is_some())
            .map(|(station, _)| *station);
        let all: Vec<Length> = read.collect();
        [all.first(), all.last()].into_iter().flatten().filter_map(|station| self.point(*station)).collect()
    }

    fn crown_or_sag(&self, departure: Departure) -> Finding {
        let Departure { value, station } = departure;
        let mut retake: Vec<String> = self.point(station).into_iter().collect();
        retake.extend(self.ends());
        self.finding(FindingKind::CrownOrSag, LengthId::FramingCrown, station, value, retake)
    }

    /// The largest standing over the plane of the rest, for joists that are none of it.
    fn of_the_rest(&self) -> Option<Finding> {
        let own = self.shape.crown_or_sag?.value.value.abs();
        if own.at_most(self.judging.figures.length(LengthId::OfTheRest)) {
            return None;
        }
        let standing = self.grid.stations.iter().zip(&self.shape.of_the_rest).filter_map(|(s, z)| Some((*s, (*z)?)));
        let (station, most) = standing.max_by(|a, b| a.1.abs().to_mm().total_cmp(&b.1.abs().to_mm()))?;
        let value = Estimate::new(most, self.judging.sd);
        let retake = self.point(station).into_iter().collect();
        Some(self.finding(FindingKind::OfTheRest, LengthId::OfTheRest, station, value, retake))
    }

    fn out_of_level(&self) -> Option<Finding> {
        let value = self.shape.out_of_level?;
        let last = *self.grid.stations.last()?;
        Some(self.finding(FindingKind::OutOfLevel, LengthId::Level, last, value, self.ends()))
    }

    fn twist(&self) -> Option<Finding> {
        let read = self.grid.stations.iter().zip(&self.shape.twist).filter_map(|(s, twist)| Some((*s, (*twist)?)));
        let (station, most) = read.max_by(|a, b| a.1.abs().to_mm().total_cmp(&b.1.abs().to_mm()))?;
        let value = Estimate::new(most, self.judging.sd * std::f64::consts::SQRT_2);
        Some(self.finding(
            FindingKind::Twist,
            LengthId::Twist,
            station,
            value,
            self.point(station).into_iter().collect(),
        ))
    }

    /// How the magnitude of a value stands to the limit of a rule.
    fn finding(
        &self,
        kind: FindingKind,
        rule: LengthId,
        station: Length,
        value: Estimate<Length>,
        retake: Vec<String>,
    ) -> Finding {
        self.held_to(kind, (rule, self.judging.figures.length(rule)), station, value, retake)
    }

    /// How the magnitude of a value stands to what a rule comes to here.
    fn held_to(
        &self,
        kind: FindingKind,
        (rule, limit): (impl Into<RuleId>, Length),
        station: Length,
        value: Estimate<Length>,
        retake: Vec<String>,
    ) -> Finding {
        let verdict = self.judging.judge(value, limit);
        Finding {
            kind,
            subject: self.joist.id.clone(),
            place: self.place(station),
            value: Some(value.value.to_mm()),
            u: Some(value.u.to_mm()),
            limit: Some(limit.to_mm()),
            least: None,
            reach: None,
            rule: self.judging.figures.name(rule),
            verdict,
            retake: if verdict == Verdict::TooCloseToCall { retake } else { Vec::new() },
            noise_alone: None,
        }
    }

    /// A sag beyond a ratio of the length read: an engineer's before a sister's; the joist first, then the lift.
    fn sag(&self) -> Option<Finding> {
        let sag = self.shape.sag?;
        let limit = |rule: NumberId| sag.one_part_in(self.judging.figures.ratio(rule));
        let out = |rule: NumberId| self.judging.judge(sag.drop, limit(rule)) == Verdict::Out;
        let rule = match () {
            () if out(NumberId::EngineerSagRatio) => NumberId::EngineerSagRatio,
            () if self.shape.sagging => NumberId::SagRatio,
            () => return None,
        };
        let mut retake: Vec<String> = self.point(sag.station).into_iter().collect();
        retake.extend(self.ends());
        let drop = Estimate::new(-sag.drop.value, sag.drop.u);
        let reach = Some(sag.over.to_mm());
        let found = self.held_to(FindingKind::SagRatio, (rule, limit(rule)), sag.station, drop, retake);
        Some(Finding { reach, ..found })
    }

    fn sharp_drops(&self) -> impl Iterator<Item = Finding> + '_ {
        self.shape.sharp_drops.iter().map(|drop| Finding {
            kind: FindingKind::SharpDrop,
            subject: self.joist.id.clone(),
            place: self.judging.along(self.spot(drop.from), self.spot(drop.to)),
            value: Some(-drop.drop.to_mm()),
            u: Some(self.judging.sd.to_mm() * std::f64::consts::SQRT_2),
            limit: None,
            least: None,
            reach: Some((drop.to - drop.from).abs().to_mm()),
            rule: self.judging.figures.name(LengthId::FramingCrown),
            verdict: Verdict::Out,
            retake: Vec::new(),
            noise_alone: None,
        })
    }
}

/// The one reading that the level heights hang on: the true high point is to be sought around it.
fn governs(judging: &Judging<'_>, grid: &Grid) -> Option<Finding> {
    let plan = framing::plan(grid, &joist_grid::settings(judging.file, &judging.figures, None)).ok()?.value;
    let governs = plan.governs?;
    let joist = grid.joists.iter().find(|joist| joist.id == governs.joist)?;
    let shape = joists::shapes(grid, judging.figures.ratio(NumberId::SagRatio), Length::ZERO).ok()?.value;
    let shape = shape.iter().find(|shape| shape.id == governs.joist)?;
    let here = JoistJudging { judging, grid, joist, shape };
    let top = grid
        .stations
        .iter()
        .position(|station| *station == governs.station)
        .and_then(|k| joist.tops.get(k).copied().flatten());
    Some(Finding {
        kind: FindingKind::Governs,
        subject: governs.joist.clone(),
        place: Place { line: Some((here.spot(governs.from), here.spot(governs.to))), ..here.place(governs.station) },
        value: top.map(Length::to_mm),
        u: Some(judging.sd.to_mm()),
        limit: None,
        least: None,
        reach: Some((governs.to - governs.from).to_mm()),
        rule: judging.figures.name(LengthId::ReadingSd),
        verdict: Verdict::NotTested,
        retake: here.point(governs.station).into_iter().collect(),
        noise_alone: None,
    })
}

/// Says once that nobody has looked at the framing.
fn not_looked_at(judging: &Judging<'_>, grid: &Grid) -> Option<Finding> {
    let unseen: Vec<String> =
        grid.joists.iter().filter(|joist| joist.sound.is_none()).map(|joist| joist.id.clone()).collect();
    if unseen.is_empty() {
        return None;
    }
    Some(Finding {
        kind: FindingKind::NotLookedAt,
        subject: unseen.join(", "),
        place: nowhere(),
        value: None,
        u: None,
        limit: None,
        least: None,
        reach: None,
        rule: judging.figures.name(LengthId::FramingCrown),
        verdict: Verdict::NotTested,
        retake: Vec::new(),
        noise_alone: None,
    })
}
