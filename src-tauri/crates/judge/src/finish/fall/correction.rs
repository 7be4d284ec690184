//! How a floor that was laid wrong is filled, judged again before it is proposed.

use super::floor::Floor;
use crate::findings::{findings, ways_to_drain};
use crate::forms::*;
use crate::room::from_walls::from_walls;
use crate::room::point_heights::{Height, heights, pooled_sd};
use crate::room::verdict::decision;
use survey::drainage::{FallLimits, FallRule, drainage};
use survey::fall_correction::{FallCorrection, fill_to_fall, middle_fall};
use survey::fill::{FillTo, fill};
use survey::perimeter_marks::way_to;
use survey::triangulation::{Triangulation, triangulate};
use survey::units::{Length, Slope};
use survey::{PlanPosition, Point};

/// What to fill; none where the floor was not read or nothing of it is out.
pub(super) fn correction(floor: &Floor<'_>, plan: &FallPlan) -> Option<Correction> {
    let survey = floor.survey()?;
    let before = findings(floor.file, Some(&survey.id)).ok()?;
    if before.headline.verdict != Verdict::Out {
        return None;
    }
    let read = Read::of(floor, plan, survey)?;
    let found = read.corrected(&before);
    let after = findings(&filled(floor.file, &read, &found), Some(&survey.id)).ok()?;
    Some(read.told(&found, &after))
}

/// The floor as it was read.
struct Read<'f> {
    floor: &'f Floor<'f>,
    heights: Vec<Height<'f>>,
    points: Vec<Point>,
    surface: Triangulation,
    ways: Vec<Vec<usize>>,
    fall: Slope,
    wanted: Vec<Length>,
}

impl<'f> Read<'f> {
    fn of(floor: &'f Floor<'f>, plan: &FallPlan, survey: &'f Survey) -> Option<Self> {
        let heights = heights(floor.file, &survey.id);
        let points: Vec<Point> = heights.iter().map(Height::at).collect();
        let surface = triangulate(&points, &floor.corners).or_else(|_| triangulate(&points, &[])).ok()?.value;
        let index = |id: &String| heights.iter().position(|height| height.point.id == *id);
        let ways = ways_to_drain(floor.file, survey).iter().map(|way| way.iter().filter_map(index).collect()).collect();
        let away = distances(floor, &points)?;
        let base = at_drain(&away, &points);
        let over: Vec<(Length, Length)> = away.iter().zip(&points).map(|(d, point)| (*d, point.z - base)).collect();
        let far = away.iter().fold(Length::ZERO, |far, d| far.max(*d));
        let fall = plan.rise.map_or_else(|| middle_fall(&over), |rise| Length::mm(rise).over(far));
        let wanted = away.iter().map(|d| base + fall.times(*d)).collect();
        Some(Self { floor, heights, points, surface, ways, fall, wanted })
    }

    fn corrected(&self, before: &FindingsView) -> FallCorrection {
        let sd = pooled_sd(&self.heights);
        let by = decision(self.floor.figures.decision());
        let standing = self.standing(before);
        fill_to_fall(&self.points, &self.ways, &standing, &self.wanted, self.floor.limits, sd, by)
    }

    /// The readings under water of ponds that are not within.
    fn standing(&self, before: &FindingsView) -> Vec<usize> {
        let limits = FallLimits { rule: FallRule::Path, ..self.floor.limits };
        let Ok(found) = drainage(&self.surface, &self.floor.outlet, &[], limits) else { return Vec::new() };
        let named = |at: usize| {
            before.findings.iter().any(|finding| {
                finding.kind == FindingKind::Pond
                    && finding.verdict != Verdict::Within
                    && self.heights.get(at).is_some_and(|height| height.point.id == finding.subject)
            })
        };
        let ponds = found.value.ponds.iter().filter(|pond| pond.vertices.iter().any(|&at| named(at)));
        ponds.flat_map(|pond| pond.vertices.iter().copied()).filter(|&at| at < self.points.len()).collect()
    }

    fn told(&self, found: &FallCorrection, after: &FindingsView) -> Correction {
        let of_kind = |kind: FindingKind| after.findings.iter().filter(move |finding| finding.kind == kind);
        let ponds = of_kind(FindingKind::Pond).filter(|pond| pond.verdict != Verdict::Within).count() as u32;
        let out = after.findings.iter().filter(|finding| finding.verdict == Verdict::Out).count() as u32;
        let run = |&(way, place): &(usize, usize)| {
            let id = |at: usize| self.heights[self.ways[way][at]].point.id.clone();
            format!("{} to {}", id(place + 1), id(place))
        };
        Correction {
            fills: found.fills.iter().map(|fill| self.spot(fill, found)).collect(),
            volume: self.volume(found),
            fall: self.fall.to_ratio(),
            left: found.left.iter().map(run).collect(),
            after: after.headline.verdict,
            ponds_after: ponds,
            out_after: out,
            retake: of_kind(FindingKind::FallShort).flat_map(|finding| finding.retake.clone()).collect(),
            proposed: !found.fills.is_empty() && out == 0 && ponds == 0,
        }
    }

    fn spot(&self, &(at, depth): &(usize, Length), found: &FallCorrection) -> FillSpot {
        let point = self.heights[at].point;
        let beside = beside(&self.points, at).into_iter().filter(|k| !found.fills.iter().any(|fill| fill.0 == *k));
        FillSpot {
            point: point.id.clone(),
            x: point.x,
            y: point.y,
            from_walls: from_walls(&self.floor.file.plan, (point.x, point.y)),
            depth: depth.to_mm(),
            fades_at: beside.map(|k| self.heights[k].point.id.clone()).collect(),
        }
    }

    /// What the fills take, in litres.
    fn volume(&self, found: &FallCorrection) -> f64 {
        let top = self.points.iter().fold(Length::ZERO, |top, point| top.max(point.z)) + Length::mm(100.0);
        let filled = triangulate(&found.upon(&self.points), &self.floor.corners);
        let filled = filled.or_else(|_| triangulate(&found.upon(&self.points), &[]));
        let under = |surface: &Triangulation| fill(surface, FillTo::Level(top), None).volume.to_litres();
        filled.map_or(0.0, |filled| (under(&self.surface) - under(&filled.value)).max(0.0))
    }
}

fn distances(floor: &Floor<'_>, points: &[Point]) -> Option<Vec<Length>> {
    let square = floor.drain.to.is_some();
    let rule = if square { floor.limits.rule } else { FallRule::Path };
    points.iter().map(|point| way_to(&floor.outlet, PlanPosition { x: point.x, y: point.y }, rule)).collect()
}

/// The height at the drain: the mean of the readings nearest to it.
fn at_drain(away: &[Length], points: &[Point]) -> Length {
    let nearest = away.iter().fold(f64::INFINITY, |near, d| near.min(d.to_mm()));
    let near: Vec<f64> =
        away.iter().zip(points).filter(|(d, _)| d.to_mm() <= nearest + 1.0).map(|(_, point)| point.z.to_mm()).collect();
    Length::mm(near.iter().sum::<f64>() / near.len().max(1) as f64)
}

/// The next readings in the four directions of the grid; where it is none, the four nearest.
fn beside(points: &[Point], at: usize) -> Vec<usize> {
    let away = |k: usize| {
        let (dx, dy) = ((points[k].x - points[at].x).to_mm(), (points[k].y - points[at].y).to_mm());
        (dx, dy, dx.hypot(dy))
    };
    let nearest = |keep: fn(f64, f64) -> bool| {
        let all = (0..points.len()).filter(|&k| k != at && keep(away(k).0, away(k).1));
        all.min_by(|&a, &b| away(a).2.total_cmp(&away(b).2))
    };
    let straight: [fn(f64, f64) -> bool; 4] = [
        |dx, dy| dx < -1.0 && dy.abs() < 1.0,
        |dx, dy| dx > 1.0 && dy.abs() < 1.0,
        |dx, dy| dy < -1.0 && dx.abs() < 1.0,
        |dx, dy| dy > 1.0 && dx.abs() < 1.0,
    ];
    let found: Vec<usize> = straight.into_iter().filter_map(nearest).collect();
    if !found.is_empty() {
        return found;
    }
    let mut all: Vec<usize> = (0..points.len()).filter(|&k| k != at).collect();
    all.sort_by(|&a, &b| away(a).2.total_cmp(&away(b).2));
    all.truncate(4);
    all
}

/// The room as its readings would be with the fills on the floor.
fn filled(file: &RoomFile, read: &Read<'_>, found: &FallCorrection) -> RoomFile {
    let mut filled = file.clone();
    for &(at, depth) in &found.fills {
        let point = &read.heights[at].point.id;
        for reading in filled.readings.iter_mut().filter(|reading| reading.point == *point) {
            match reading.sense {
                Sense::Down => reading.value -= depth.to_mm(),
                _ => reading.value += depth.to_mm(),
            }
        }
    }
    filled
}
