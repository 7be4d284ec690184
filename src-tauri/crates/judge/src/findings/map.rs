//! The floor as a map: bands of height, joists, marks to chalk, and the straightedge that shows most.

use super::judging::Judging;
use super::ponds;
use crate::forms::*;
use crate::room::bands::map_bands;
use crate::room::from_walls::from_walls;
use crate::room::positions::outlets;
use survey::drainage::{FlowEnd, FlowPath, flow_paths};
use survey::plane;
use survey::units::Length;
use survey::{PlanPosition, Point};

/// The map of a survey.
pub(super) fn map(judging: &Judging<'_>, findings: &[Finding], bar: Option<MapLine>) -> MapView {
    let reference = reference(judging);
    MapView {
        outline: judging.file.plan.outline.clone(),
        reference,
        bands: judging
            .surface()
            .map(|surface| map_bands(surface, judging.file.room.units, reference))
            .unwrap_or_default(),
        points: points(judging),
        joists: joist_lines(judging),
        marks: marks(judging, findings),
        bar,
        ways: ways(judging),
        ponds: ponds::standing(judging),
    }
}

fn points(judging: &Judging<'_>) -> Vec<MapPoint> {
    let of_survey = judging.file.plan.points.iter().filter(|point| point.survey == judging.survey.id);
    let height = |id: &str| judging.height_of(id).map(Length::to_mm);
    of_survey.map(|point| MapPoint { id: point.id.clone(), x: point.x, y: point.y, z: height(&point.id) }).collect()
}

fn read_points(judging: &Judging<'_>) -> Vec<Point> {
    judging.heights.iter().map(|height| height.at()).collect()
}

/// The middle height: what the eye takes for neither high nor low.
fn reference(judging: &Judging<'_>) -> f64 {
    let mut heights: Vec<f64> = judging.heights.iter().map(|height| height.z.to_mm()).collect();
    heights.sort_by(f64::total_cmp);
    heights.get(heights.len() / 2).copied().unwrap_or(0.0)
}

fn joist_lines(judging: &Judging<'_>) -> Vec<MapLine> {
    if judging.survey.surface != Surface::Framing {
        return Vec::new();
    }
    let plan = &judging.file.plan;
    let along = |of: fn(&(f64, f64)) -> f64| {
        let all = plan.outline.iter().map(of);
        (all.clone().fold(f64::INFINITY, f64::min), all.fold(f64::NEG_INFINITY, f64::max))
    };
    let (from, to) = if plan.joists_along == Axis::Y { along(|corner| corner.1) } else { along(|corner| corner.0) };
    if !from.is_finite() {
        return Vec::new();
    }
    let line = |joist: &Joist| match plan.joists_along {
        Axis::Y => MapLine { name: joist.id.clone(), from: (joist.at, from), to: (joist.at, to) },
        Axis::X => MapLine { name: joist.id.clone(), from: (from, joist.at), to: (to, joist.at) },
    };
    plan.joists.iter().map(line).collect()
}

/// Where a drop from each reading of a wet floor runs.
fn ways(judging: &Judging<'_>) -> Vec<MapWay> {
    let outlet = outlets(&judging.file.plan).filter(|_| judging.survey.surface == Surface::Fall);
    let Some((outlet, surface)) = outlet.zip(judging.surface().ok()) else { return Vec::new() };
    let from: Vec<PlanPosition> =
        judging.heights.iter().map(|height| PlanPosition { x: height.at().x, y: height.at().y }).collect();
    let ways = flow_paths(surface, &outlet, &[], &from).unwrap_or_default();
    let way = |way: FlowPath| MapWay {
        places: way.places.iter().map(|place| (place.x.to_mm(), place.y.to_mm())).collect(),
        stands: way.end == FlowEnd::Stands,
    };
    ways.into_iter().flatten().filter(|way| way.places.len() > 1).map(way).collect()
}

/// What is chalked on the floor: the joists that stand out of the rest, or the places the bars show.
fn marks(judging: &Judging<'_>, findings: &[Finding]) -> Vec<Mark> {
    let of_joists: Vec<Mark> =
        findings.iter().filter(|finding| finding.kind == FindingKind::OfTheRest).filter_map(mark).collect();
    match judging.survey.surface {
        Surface::Framing => of_joists,
        Surface::Floor => floor_marks(judging, findings),
        Surface::Fall => findings.iter().filter(|finding| is_wet(finding)).filter_map(mark).map(low).collect(),
    }
}

/// Whether water stands there as it was read.
fn is_wet(finding: &Finding) -> bool {
    finding.kind == FindingKind::Pond && finding.value.is_some_and(|depth| depth > 0.0)
}

fn low(mark: Mark) -> Mark {
    Mark { high: false, ..mark }
}

fn mark(finding: &Finding) -> Option<Mark> {
    let ((x, y), value) = (finding.place.point?, finding.value?);
    Some(Mark {
        high: value > 0.0,
        name: finding.subject.clone(),
        x,
        y,
        amount: value.abs(),
        from_walls: finding.place.from_walls.clone(),
    })
}

/// The lowest place under each bar that is not surely within, and the highest point of the floor over its plane.
fn floor_marks(judging: &Judging<'_>, findings: &[Finding]) -> Vec<Mark> {
    let mut marks: Vec<Mark> = Vec::new();
    let bars = findings
        .iter()
        .filter(|finding| matches!(finding.kind, FindingKind::StraightedgeAlong | FindingKind::StraightedgeAcross));
    for finding in bars.filter(|finding| matches!(finding.verdict, Verdict::Out | Verdict::TooCloseToCall)) {
        let Some(low) = mark(finding).map(low) else { continue };
        if !marks.iter().any(|known| known.x == low.x && known.y == low.y) {
            marks.push(low);
        }
    }
    if !marks.is_empty() {
        marks.extend(highest(judging));
    }
    marks.truncate(6);
    marks
}

fn highest(judging: &Judging<'_>) -> Option<Mark> {
    let points = read_points(judging);
    let plane = plane::best_fit(&points).ok()?;
    let residual = |point: &Point| point.z - plane.height_at(PlanPosition { x: point.x, y: point.y });
    let over = points.iter().map(|point| (point, residual(point))).zip(&judging.heights);
    let ((point, residual), height) = over.max_by(|a, b| a.0.1.to_mm().total_cmp(&b.0.1.to_mm()))?;
    let (x, y) = (point.x.to_mm(), point.y.to_mm());
    (residual > judging.sd).then(|| Mark {
        high: true,
        name: height.point.id.clone(),
        x,
        y,
        amount: residual.to_mm(),
        from_walls: from_walls(&judging.file.plan, (x, y)),
    })
}
