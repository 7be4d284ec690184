//! The lines of points that a straightedge is laid along: joists and stations, rows and columns.

use super::judging::Judging;
use crate::forms::*;
use survey::units::Length;

/// Points this close to one line across are on it, mm.
const ON_LINE: f64 = 0.5;

/// A straight row of points, read or not.
pub(crate) struct Line<'f> {
    /// `along J4`, `across at 60`.
    pub(crate) name: String,
    pub(crate) along: bool,
    pub(crate) points: Vec<LinePoint<'f>>,
}

/// A point and how far along the line it lies.
pub(crate) struct LinePoint<'f> {
    pub(crate) point: &'f PlanPoint,
    pub(crate) s: f64,
    pub(crate) z: Option<f64>,
}

/// Every line of at least three points in a survey.
pub(super) fn lines<'f>(judging: &Judging<'f>) -> Vec<Line<'f>> {
    let axis = match judging.survey.surface {
        Surface::Framing => judging.file.plan.joists_along,
        _ => Axis::Y,
    };
    let mut all = rows(judging, axis, true);
    all.extend(rows(judging, other(axis), false));
    all.retain(|line| line.points.len() >= 3);
    all
}

fn other(axis: Axis) -> Axis {
    if axis == Axis::X { Axis::Y } else { Axis::X }
}

/// The lines that run along an axis, grouped by where they cross the other.
fn rows<'f>(judging: &Judging<'f>, axis: Axis, along: bool) -> Vec<Line<'f>> {
    let place = |point: &PlanPoint| if axis == Axis::Y { (point.y, point.x) } else { (point.x, point.y) };
    let mut points: Vec<&PlanPoint> =
        judging.file.plan.points.iter().filter(|point| point.survey == judging.survey.id).collect();
    points.sort_by(|a, b| place(a).1.total_cmp(&place(b).1).then(place(a).0.total_cmp(&place(b).0)));
    let on_one_line = |a: &&PlanPoint, b: &&PlanPoint| (place(a).1 - place(b).1).abs() <= ON_LINE;
    points.chunk_by(on_one_line).map(|row| line(judging, row, axis, along)).collect()
}

fn line<'f>(judging: &Judging<'f>, row: &[&'f PlanPoint], axis: Axis, along: bool) -> Line<'f> {
    let along_it = |point: &PlanPoint| if axis == Axis::Y { point.y } else { point.x };
    let mut points: Vec<&'f PlanPoint> = row.to_vec();
    points.sort_by(|a, b| along_it(a).total_cmp(&along_it(b)));
    let points: Vec<LinePoint<'f>> = points
        .into_iter()
        .map(|point| LinePoint { point, s: along_it(point), z: judging.height_of(&point.id).map(Length::to_mm) })
        .collect();
    Line { name: name(judging, &points, axis, along), along, points }
}

/// `along J4` where all its points lie on one joist, else `along` or `across` and where.
fn name(judging: &Judging<'_>, points: &[LinePoint<'_>], axis: Axis, along: bool) -> String {
    let joists: Vec<Option<&str>> = points.iter().map(|point| point.point.joist.as_deref()).collect();
    if let (true, Some(Some(joist))) = (joists.windows(2).all(|pair| pair.first() == pair.last()), joists.first()) {
        return format!("along {joist}");
    }
    let at = points.first().map_or(0.0, |point| if axis == Axis::Y { point.point.x } else { point.point.y });
    let said = crate::words::Say::new(judging.file.room.units).bare(at);
    format!("{} at {said}", if along { "along" } else { "across" })
}

impl Line<'_> {
    /// The readings of the line.
    pub(super) fn read(&self) -> Vec<survey::straightedge::line::LinePoint> {
        let read = self.points.iter().filter_map(|point| Some((point.s, point.z?)));
        read.map(|(s, z)| survey::straightedge::line::LinePoint::mm(s, z)).collect()
    }

    /// The point of the k-th reading.
    pub(super) fn read_point(&self, k: usize) -> Option<&PlanPoint> {
        self.points.iter().filter(|point| point.z.is_some()).nth(k).map(|point| point.point)
    }

    /// Whether every point was read.
    pub(super) fn is_read(&self) -> bool {
        self.points.iter().all(|point| point.z.is_some())
    }

    /// Where on the plan a distance along the line lies.
    pub(super) fn on_plan(&self, s: f64) -> Option<(f64, f64)> {
        let (first, last) = (self.points.first()?, self.points.last()?);
        let share = if last.s > first.s { (s - first.s) / (last.s - first.s) } else { 0.0 };
        let between = |a: f64, b: f64| a + share * (b - a);
        Some((between(first.point.x, last.point.x), between(first.point.y, last.point.y)))
    }

    /// The height of the line as read, straight between readings.
    pub(super) fn height_at(&self, s: f64) -> Option<f64> {
        let read: Vec<(f64, f64)> = self.points.iter().filter_map(|point| Some((point.s, point.z?))).collect();
        let pair = read.windows(2).find_map(|pair| match pair {
            [near, far] if near.0 <= s && s <= far.0 => Some((*near, *far)),
            _ => None,
        });
        let ((s0, z0), (s1, z1)) = pair?;
        Some(if s1 > s0 { z0 + (z1 - z0) * (s - s0) / (s1 - s0) } else { z0.max(z1) })
    }
}
