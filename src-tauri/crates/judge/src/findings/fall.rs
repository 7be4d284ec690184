//! A floor that should run to its drain: the fall of its rows and runs.

use super::judging::{Judging, plain};
use super::lines::Line;
use crate::forms::*;
use crate::room::from_walls::nowhere;
use crate::room::rules::{LengthId, SlopeId};
use crate::room::verdict::{decision, verdict};
use survey::drainage::FallLimits;
use survey::fall_run::{FallRun, fall_run, judge_runs, shortest_to_decide};
use survey::units::{Length, Ratio};
use survey::{Point, fall_run::JudgedRuns};

/// A run is doubtful where its rise departs from the middle one by so many of its standard uncertainties.
const DOUBTFUL: f64 = 1.5;

/// Readings on one way to the drain, the nearest first.
struct Way<'f> {
    name: String,
    readings: Vec<(&'f PlanPoint, Point)>,
}

/// A run between two readings of one way.
struct Run<'f> {
    lower: &'f PlanPoint,
    upper: &'f PlanPoint,
    fall: FallRun,
}

/// The falls of a survey, those of whole rows first.
pub(super) fn findings(judging: &Judging<'_>, lines: &[Line<'_>]) -> Vec<Finding> {
    let Some(drain) = &judging.file.plan.drain else { return Vec::new() };
    let ways = ways(judging, drain, lines);
    let limits = judging.figures.falls();
    let fallen = Falls { judging, limits };
    let mut all: Vec<Finding> = ways.iter().filter_map(|way| fallen.row(way)).collect();
    all.extend(fallen.long_runs(&ways));
    all.extend(fallen.next_to_each_other(&ways));
    all
}

/// The points of each way to the drain, the nearest to it first.
pub(super) fn ways_by_point(judging: &Judging<'_>, lines: &[Line<'_>]) -> Vec<Vec<String>> {
    let Some(drain) = &judging.file.plan.drain else { return Vec::new() };
    let points = |way: Way<'_>| way.readings.iter().map(|(point, _)| point.id.clone()).collect();
    ways(judging, drain, lines).into_iter().map(points).collect()
}

/// The rows square to a drain along a wall; to any other drain, or to two, the straight ways from each reading.
fn ways<'f>(judging: &Judging<'f>, drain: &Drain, lines: &[Line<'f>]) -> Vec<Way<'f>> {
    let second = judging.file.plan.second_drain.as_ref();
    let Some(along) = runs_along(drain).filter(|_| second.is_none()) else {
        return straight_ways(judging, &[Some(drain), second]);
    };
    let axis = |point: &PlanPoint| if along == Axis::Y { point.y } else { point.x };
    let at = if along == Axis::Y { drain.from.1 } else { drain.from.0 };
    let is_square = |line: &&Line<'f>| match line.points.as_slice() {
        [first, .., last] => (axis(first.point) - axis(last.point)).abs() > 1.0,
        _ => false,
    };
    let halves = |line: &Line<'f>| [true, false].map(|beyond| half(line, |point| axis(point) - at, beyond));
    lines.iter().filter(is_square).flat_map(halves).filter(|way| way.readings.len() > 1).collect()
}

/// The direction in which rows run square to the drain; none for a point or a slanted drain.
fn runs_along(drain: &Drain) -> Option<Axis> {
    let to = drain.to?;
    let (dx, dy) = ((to.0 - drain.from.0).abs(), (to.1 - drain.from.1).abs());
    match (dx > 1.0, dy > 1.0) {
        (true, false) => Some(Axis::Y),
        (false, true) => Some(Axis::X),
        _ => None,
    }
}

/// The part of a row on one side of the drain, the readings over it included in the part beyond.
fn half<'f>(line: &Line<'f>, offset: impl Fn(&PlanPoint) -> f64, beyond: bool) -> Way<'f> {
    let on_side = |off: f64| if beyond { off >= -1.0 } else { off < 1.0 };
    let read = line.points.iter().filter_map(|at| Some((at.point, Point::mm(at.point.x, at.point.y, at.z?))));
    let mut readings: Vec<(&PlanPoint, Point)> = read.filter(|(point, _)| on_side(offset(point))).collect();
    readings.sort_by(|a, b| offset(a.0).abs().total_cmp(&offset(b.0).abs()));
    Way { name: line.name.clone(), readings }
}

/// From every reading straight to the reading at the drain that is nearest to it.
fn straight_ways<'f>(judging: &Judging<'f>, drains: &[Option<&Drain>]) -> Vec<Way<'f>> {
    let away = |drain: &Drain, point: &PlanPoint| {
        let to = drain.to.unwrap_or(drain.from);
        (point.x - (drain.from.0 + to.0) / 2.0).hypot(point.y - (drain.from.1 + to.1) / 2.0)
    };
    let at = |height: &crate::room::point_heights::Height<'f>| (height.point, height.at());
    let lowest =
        |drain: &&Drain| judging.heights.iter().min_by(|a, b| away(drain, a.point).total_cmp(&away(drain, b.point)));
    let way = |height: &crate::room::point_heights::Height<'f>| {
        let nearest = drains.iter().flatten().min_by(|a, b| away(a, height.point).total_cmp(&away(b, height.point)))?;
        let lowest = lowest(nearest).filter(|lowest| lowest.point.id != height.point.id)?;
        Some(Way { name: height.point.id.clone(), readings: vec![at(lowest), at(height)] })
    };
    judging.heights.iter().filter_map(way).collect()
}

struct Falls<'a, 'f> {
    judging: &'a Judging<'f>,
    limits: FallLimits,
}

impl<'f> Falls<'_, 'f> {
    fn run(&self, lower: (&'f PlanPoint, Point), upper: (&'f PlanPoint, Point)) -> Option<Run<'f>> {
        Some(Run { lower: lower.0, upper: upper.0, fall: fall_run(lower.1, upper.1, self.judging.sd)? })
    }

    /// Runs of two readings that stand so many places apart.
    fn runs(&self, ways: &[Way<'f>], keep: impl Fn(usize, &FallRun) -> bool) -> Vec<Run<'f>> {
        let mut all = Vec::new();
        for way in ways {
            for (k, &lower) in way.readings.iter().enumerate() {
                let farther = way.readings.iter().enumerate().skip(k + 1);
                let runs = farther.filter_map(|(n, &upper)| Some((n - k, self.run(lower, upper)?)));
                all.extend(runs.filter(|(apart, run)| keep(*apart, &run.fall)).map(|(_, run)| run));
            }
        }
        all
    }

    fn judged<'r>(&self, runs: impl IntoIterator<Item = &'r Run<'f>>) -> JudgedRuns
    where
        'f: 'r,
    {
        let falls: Vec<FallRun> = runs.into_iter().map(|run| run.fall).collect();
        judge_runs(&falls, self.limits, decision(self.judging.figures.decision()))
    }

    /// A whole row from its far end to the drain.
    fn row(&self, way: &Way<'f>) -> Option<Finding> {
        let run = self.run(*way.readings.first()?, *way.readings.last()?)?;
        let found = self.alone(&run);
        Some(Finding { subject: way.name.clone(), ..self.finding(FindingKind::FallRow, &run, found) })
    }

    /// The runs long enough to be judged together: the ones that decide, or the most doubtful where all is well.
    fn long_runs(&self, ways: &[Way<'f>]) -> Vec<Finding> {
        let shortest = self.judging.figures.length(LengthId::FallRun);
        let runs = self.runs(ways, |_, run| run.length.at_least(shortest));
        let judged = self.judged(&runs);
        let mut deciding = judged.deciding;
        deciding.dedup();
        let named = deciding.into_iter().filter_map(|k| runs.get(k)).filter_map(|run| {
            let own = self.of_many(run, runs.len());
            (own == verdict(judged.verdict)).then(|| self.finding(FindingKind::FallRun, run, own))
        });
        named.collect()
    }

    /// Runs between neighbours: those that are out by themselves, and once for all that cannot be decided.
    fn next_to_each_other(&self, ways: &[Way<'f>]) -> Vec<Finding> {
        let shortest = self.judging.figures.length(LengthId::FallRun);
        let runs = self.runs(ways, |apart, run| apart == 1 && !run.length.at_least(shortest));
        let (out, open): (Vec<&Run<'_>>, Vec<&Run<'_>>) =
            runs.iter().partition(|run| self.of_many(run, runs.len()) == Verdict::Out);
        let mut all: Vec<Finding> =
            out.into_iter().map(|run| self.finding(FindingKind::FallRun, run, Verdict::Out)).collect();
        let undecided: Vec<&Run<'_>> =
            open.into_iter().filter(|run| self.alone(run) == Verdict::TooCloseToCall).collect();
        all.extend(self.undecided(&undecided));
        all
    }

    /// Said once: runs this short cannot be decided; these are the doubtful ones.
    fn undecided(&self, runs: &[&Run<'f>]) -> Option<Finding> {
        let longest = runs.iter().max_by(|a, b| a.fall.length.to_mm().total_cmp(&b.fall.length.to_mm()))?;
        let middle = middle(runs.iter().map(|run| run.fall.fall.value.to_ratio()).collect());
        let departs = |run: &&&Run<'f>| {
            let fall = run.fall.fall;
            (fall.value.to_ratio() - middle).abs() > DOUBTFUL * fall.u.to_ratio()
        };
        let mut retake: Vec<String> = Vec::new();
        for point in runs.iter().filter(departs).flat_map(|run| [run.lower, run.upper]) {
            if !retake.contains(&point.id) {
                retake.push(point.id.clone());
            }
        }
        Some(Finding {
            subject: runs.len().to_string(),
            value: None,
            reach: Some(longest.fall.length.to_mm()),
            limit: shortest_to_decide(self.limits, self.judging.sd).map(Length::to_mm),
            least: None,
            place: nowhere(),
            retake,
            ..self.finding(FindingKind::FallShort, longest, Verdict::TooCloseToCall)
        })
    }

    fn alone(&self, run: &Run<'f>) -> Verdict {
        let by = decision(self.judging.figures.decision());
        run.fall.judged(self.limits, by).map_or(Verdict::NotTested, |answer| verdict(answer.verdict))
    }

    /// The verdict on one run that stands for the worst of many.
    fn of_many(&self, run: &Run<'f>, many: usize) -> Verdict {
        verdict(self.judged(std::iter::repeat_n(run, many)).verdict)
    }

    fn finding(&self, kind: FindingKind, run: &Run<'f>, verdict: Verdict) -> Finding {
        let judging = self.judging;
        let length = run.fall.length;
        let near_least = run.fall.fall.value.to_ratio() < 0.5 * (self.limits.minimum + self.limits.maximum).to_ratio();
        let rule = judging.figures.name(if near_least { SlopeId::FallLeast } else { SlopeId::FallMost });
        let ends = |point: &PlanPoint| (point.x, point.y);
        Finding {
            value: Some(run.fall.rise.value.to_mm()),
            u: Some(run.fall.rise.u.to_mm()),
            limit: Some(self.limits.maximum.times(length).to_mm()),
            least: Some(self.limits.minimum.times(length).to_mm()),
            reach: Some(length.to_mm()),
            place: judging.along(ends(run.lower), ends(run.upper)),
            retake: match verdict {
                Verdict::TooCloseToCall => vec![run.lower.id.clone(), run.upper.id.clone()],
                _ => Vec::new(),
            },
            ..plain(kind, &format!("{} to {}", run.upper.id, run.lower.id), rule, verdict)
        }
    }
}

/// The middle of some figures.
fn middle(mut figures: Vec<f64>) -> f64 {
    figures.sort_by(f64::total_cmp);
    Ratio::of(figures.get(figures.len() / 2).copied().unwrap_or(0.0)).to_f64()
}
