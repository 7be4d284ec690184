//! The straightedge laid along every line: the gap it shows, and what can be said of it.

use super::judging::Judging;
use super::lines::{Line, LinePoint};
use super::noise::{self, Noise};
use crate::forms::*;
use crate::room::from_walls::nowhere;
use crate::room::rules::LengthId;
use crate::room::verdict::{decision, verdict};
use survey::straightedge::line::{self, Judged, Tolerance};
use survey::straightedge::{Definition, Gap};
use survey::units::Length;

/// A bar of a rule's reach on one line.
pub(crate) struct Bar {
    /// Which line it lies on.
    line: usize,
    rule: LengthId,
    reach: Length,
    judged: Judged,
}

/// The bars of some rules on every line that has readings.
pub(super) fn lay(judging: &Judging<'_>, lines: &[Line<'_>], rules: &[LengthId]) -> Vec<Bar> {
    let on_line = |(k, line): (usize, &Line<'_>)| {
        let points = line.read();
        rules.iter().filter_map(move |rule| bar(judging, k, &points, *rule)).collect::<Vec<_>>()
    };
    lines.iter().enumerate().flat_map(on_line).collect()
}

fn bar(judging: &Judging<'_>, line: usize, points: &[line::LinePoint], rule: LengthId) -> Option<Bar> {
    let reach = judging.figures.reach(rule);
    let tolerance = Tolerance {
        limit: judging.figures.length(rule),
        reading_sd: judging.sd,
        bar_sd: Length::ZERO,
        decision: decision(judging.figures.decision()),
    };
    let judged = line::judge(points, reach, Definition::Supported, tolerance).ok()?.value;
    Some(Bar { line, rule, reach, judged })
}

/// One finding for each bar that could be tested, and one for each rule and direction that could not.
pub(super) fn findings(judging: &Judging<'_>, lines: &[Line<'_>], bars: &[Bar]) -> Vec<Finding> {
    let (untested, tested): (Vec<&Bar>, Vec<&Bar>) =
        bars.iter().partition(|bar| verdict(bar.judged.verdict) == Verdict::NotTested);
    let worst = worst(bars).map(|worst| (worst.line, worst.rule));
    let on = |bar: &Bar| lines.get(bar.line);
    let mut all: Vec<Finding> = tested
        .iter()
        .filter_map(|bar| Some(finding(judging, on(bar)?, bar, worst == Some((bar.line, bar.rule)))))
        .collect();
    all.extend(not_tested(judging, lines, &untested));
    all
}

fn finding(judging: &Judging<'_>, line: &Line<'_>, bar: &Bar, is_worst: bool) -> Finding {
    let gap = &bar.judged.gap;
    let verdict = verdict(bar.judged.verdict);
    let deciding =
        || bar.judged.deciding.iter().filter_map(|k| line.read_point(*k)).map(|point| point.id.clone()).collect();
    let place = place(judging, line, gap);
    Finding {
        kind: kind(line),
        subject: line.name.clone(),
        place,
        value: Some(gap.gap.to_mm()),
        u: Some(uncertainty(judging.sd, gap)),
        limit: Some(judging.figures.length(bar.rule).to_mm()),
        least: None,
        reach: Some(bar.reach.to_mm()),
        rule: judging.figures.name(bar.rule),
        verdict,
        retake: if verdict == Verdict::TooCloseToCall { deciding() } else { Vec::new() },
        noise_alone: (is_worst && line.is_read() && judging.noise == Noise::Drawn)
            .then(|| noise::alone(&line.read(), bar.reach, judging.sd))
            .flatten(),
    }
}

/// The standard uncertainty of a gap whose bar rests on two readings; less where it rests between them.
fn uncertainty(sd: Length, gap: &Gap) -> f64 {
    let share = (gap.lowest_at - gap.from).ratio_to(gap.to - gap.from).to_f64();
    sd.to_mm() * (1.0 + share.powi(2) + (1.0 - share).powi(2)).sqrt()
}

fn kind(line: &Line<'_>) -> FindingKind {
    if line.along { FindingKind::StraightedgeAlong } else { FindingKind::StraightedgeAcross }
}

fn place(judging: &Judging<'_>, line: &Line<'_>, gap: &Gap) -> Place {
    let at = |s: Length| line.on_plan(s.to_mm());
    match (at(gap.lowest_at), at(gap.from), at(gap.to)) {
        (Some((x, y)), Some(from), Some(to)) => Place { line: Some((from, to)), ..judging.at(x, y) },
        _ => nowhere(),
    }
}

/// Says once for each rule and direction that the readings lie too far apart.
fn not_tested(judging: &Judging<'_>, lines: &[Line<'_>], untested: &[&Bar]) -> Vec<Finding> {
    let mut said: Vec<(LengthId, bool)> = Vec::new();
    let mut all = Vec::new();
    for bar in untested {
        let Some(line) = lines.get(bar.line) else { continue };
        if said.contains(&(bar.rule, line.along)) {
            continue;
        }
        said.push((bar.rule, line.along));
        all.push(Finding {
            kind: kind(line),
            subject: if line.along { "along" } else { "across" }.to_string(),
            place: nowhere(),
            value: None,
            u: None,
            limit: Some(judging.figures.length(bar.rule).to_mm()),
            least: None,
            reach: Some(bar.reach.to_mm()),
            rule: judging.figures.name(bar.rule),
            verdict: Verdict::NotTested,
            retake: Vec::new(),
            noise_alone: None,
        });
    }
    all
}

/// The bar that shows most.
pub(super) fn worst(bars: &[Bar]) -> Option<&Bar> {
    let shows = bars.iter().filter(|bar| bar.judged.gap.gap > Length::ZERO);
    shows.max_by(|a, b| a.judged.gap.gap.to_mm().total_cmp(&b.judged.gap.gap.to_mm()))
}

impl Bar {
    /// Where it rests on the plan.
    pub(super) fn on_plan(&self, lines: &[Line<'_>]) -> Option<MapLine> {
        let line = lines.get(self.line)?;
        let (from, to) = (line.on_plan(self.judged.gap.from.to_mm())?, line.on_plan(self.judged.gap.to.to_mm())?);
        Some(MapLine { name: line.name.clone(), from, to })
    }
}

/// The lines as the Findings screen draws them, each with the longest bar that shows a gap.
pub(super) fn profiles(lines: &[Line<'_>], bars: &[Bar]) -> Vec<Profile> {
    let drawn = |k: usize| {
        let here = bars.iter().filter(|bar| bar.line == k && bar.judged.gap.gap > Length::ZERO);
        here.max_by(|a, b| a.reach.to_mm().total_cmp(&b.reach.to_mm()))
    };
    lines.iter().enumerate().map(|(k, line)| profile(line, drawn(k))).collect()
}

fn profile(line: &Line<'_>, bar: Option<&Bar>) -> Profile {
    let point = |point: &LinePoint<'_>| ProfilePoint { point: point.point.id.clone(), s: point.s, z: point.z };
    Profile {
        name: line.name.clone(),
        along: line.along,
        points: line.points.iter().map(point).collect(),
        bar: bar.and_then(|bar| profile_bar(line, bar)),
    }
}

fn profile_bar(line: &Line<'_>, bar: &Bar) -> Option<ProfileBar> {
    let gap = &bar.judged.gap;
    Some(ProfileBar {
        from: gap.from.to_mm(),
        to: gap.to.to_mm(),
        z_from: line.height_at(gap.from.to_mm())?,
        z_to: line.height_at(gap.to.to_mm())?,
        lowest_at: gap.lowest_at.to_mm(),
        gap: gap.gap.to_mm(),
        length: bar.reach.to_mm(),
    })
}
