//! Bars along the rows and columns of readings.

use super::placement::{Placement, Way, between, plan, under};
use crate::point::Point;
use crate::units::Length;

/// Readings this close to one line are on it, mm.
const ON_LINE: f64 = 0.5;

/// For every row and column the chord of two readings, no longer than the bar, that shows most.
pub(super) fn rows(points: &[Point], bar: Length) -> Vec<Placement> {
    let along = |way: Way| lines(points, way).into_iter().filter_map(move |line| best(points, &line, way, bar));
    along(Way::X).chain(along(Way::Y)).collect()
}

/// How far along its line a reading lies, and beside it.
fn place(point: &Point, way: Way) -> (f64, f64) {
    let (x, y) = plan(point);
    if way == Way::X { (x, y) } else { (y, x) }
}

fn lines(points: &[Point], way: Way) -> Vec<Vec<usize>> {
    let beside = |&index: &usize| points.get(index).map_or((0.0, 0.0), |point| place(point, way));
    let mut order: Vec<usize> = (0..points.len()).collect();
    order.sort_by(|a, b| beside(a).1.total_cmp(&beside(b).1).then(beside(a).0.total_cmp(&beside(b).0)));
    let mut all: Vec<Vec<usize>> =
        order.chunk_by(|a, b| (beside(a).1 - beside(b).1).abs() <= ON_LINE).map(<[usize]>::to_vec).collect();
    all.iter_mut().for_each(|line| line.sort_by(|a, b| beside(a).0.total_cmp(&beside(b).0)));
    all.retain(|line| line.len() >= 3);
    all
}

fn best(points: &[Point], line: &[usize], way: Way, bar: Length) -> Option<Placement> {
    let read: Vec<(usize, f64, f64)> =
        line.iter().filter_map(|&k| points.get(k).map(|point| (k, place(point, way).0, point.z.to_mm()))).collect();
    let chords = (0..read.len()).flat_map(|i| (i + 2..read.len()).map(move |j| (i, j)));
    let laid = chords.filter_map(|(i, j)| chord(points, read.get(i..=j)?, way, bar));
    laid.max_by(|a, b| a.gap().total_cmp(&b.gap()).then(a.rocks.cmp(&b.rocks)))
}

fn chord(points: &[Point], read: &[(usize, f64, f64)], way: Way, bar: Length) -> Option<Placement> {
    let (&(from, start, low), &(to, end, high)) = (read.first()?, read.last()?);
    let length = end - start;
    if !Length::mm(length).at_most(bar) {
        return None;
    }
    let inner = read.get(1..read.len().saturating_sub(1))?;
    let shown = under(low, high, length, inner.iter().map(|&(_, s, z)| (s - start, z)));
    let (a, b) = (plan(points.get(from)?), plan(points.get(to)?));
    Some(Placement {
        way,
        bar,
        from,
        to: between(a, b, 1.0),
        expected: Some(Length::mm(shown.gap)),
        lowest_at: between(a, b, if length > 0.0 { shown.at / length } else { 0.0 }),
        rocks: shown.rocks,
    })
}
