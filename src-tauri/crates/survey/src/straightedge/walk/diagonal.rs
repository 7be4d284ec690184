//! Bars from corner to corner.

use super::placement::{Placement, Way, between, plan, under};
use crate::point::{PlanPosition, Point};
use crate::surface::{Between, heights};
use crate::units::Length;

/// Places looked at under one bar, and bars looked at for one diagonal.
const SAMPLES: usize = 24;
const MOST: usize = 16;

/// A bar turned farther than this from the diagonal is no diagonal: the sine of 20 degrees.
const ASIDE: f64 = 0.342;

/// The bar that shows most along each diagonal; none where all readings lie in one row.
pub(super) fn diagonals(points: &[Point], bar: Length) -> Vec<Placement> {
    [Way::Rising, Way::Falling].into_iter().filter_map(|way| diagonal(points, way, bar)).collect()
}

fn diagonal(points: &[Point], way: Way, bar: Length) -> Option<Placement> {
    let (start, end) = corners(points, way)?;
    let (dx, dy) = (end.0 - start.0, end.1 - start.1);
    let long = dx.hypot(dy);
    if dx.abs() < 1.0 || dy.abs() < 1.0 {
        return None;
    }
    let least = 0.7 * long.min(bar.to_mm());
    let mut pairs: Vec<(f64, usize, usize)> = thinned(points)
        .flat_map(|a| thinned(points).map(move |b| (a, b)))
        .filter_map(|(a, b)| {
            let (p, q) = (plan(points.get(a)?), plan(points.get(b)?));
            let (x, y) = (q.0 - p.0, q.1 - p.1);
            let length = x.hypot(y);
            let fits = length >= least && Length::mm(length).at_most(bar);
            let straight = x * dx + y * dy > 0.0 && (x * dy - y * dx).abs() <= ASIDE * length * long;
            (fits && straight).then(|| (off(p, start, (dx, dy)) + off(q, start, (dx, dy)) - 0.2 * length, a, b))
        })
        .collect();
    pairs.sort_by(|a, b| a.0.total_cmp(&b.0));
    pairs.truncate(MOST);
    let laid = laid(points, &pairs, way, bar);
    laid.into_iter().max_by(|a, b| a.gap().total_cmp(&b.gap()))
}

/// How far a place lies beside the diagonal.
fn off(place: (f64, f64), start: (f64, f64), (dx, dy): (f64, f64)) -> f64 {
    ((place.0 - start.0) * dy - (place.1 - start.1) * dx).abs() / dx.hypot(dy)
}

/// Enough readings to choose ends from, evenly out of many.
fn thinned(points: &[Point]) -> impl Iterator<Item = usize> {
    (0..points.len()).step_by(points.len().div_ceil(64).max(1))
}

fn corners(points: &[Point], way: Way) -> Option<((f64, f64), (f64, f64))> {
    let range = |of: fn(&Point) -> f64| {
        let all = points.iter().map(of);
        (all.clone().fold(f64::INFINITY, f64::min), all.fold(f64::NEG_INFINITY, f64::max))
    };
    let ((left, right), (top, bottom)) = (range(|point| point.x.to_mm()), range(|point| point.y.to_mm()));
    let falls = way == Way::Falling;
    left.is_finite().then_some(if falls { ((left, bottom), (right, top)) } else { ((left, top), (right, bottom)) })
}

/// The bars over the facets between the readings.
fn laid(points: &[Point], pairs: &[(f64, usize, usize)], way: Way, bar: Length) -> Vec<Placement> {
    let ends = |&(_, a, b): &(f64, usize, usize)| Some((a, points.get(a)?, points.get(b)?));
    let places: Vec<PlanPosition> = pairs.iter().filter_map(ends).flat_map(|(_, p, q)| samples(p, q)).collect();
    let Ok(found) = heights(points, &places, Between::Facets, None) else { return Vec::new() };
    let shares = found.value.mean.chunks(SAMPLES);
    let one = |((from, p, q), z): ((usize, &Point, &Point), &[Option<Length>])| placement(from, p, q, z, way, bar);
    pairs.iter().filter_map(ends).zip(shares).map(one).collect()
}

fn share(k: usize) -> f64 {
    (k + 1) as f64 / (SAMPLES + 1) as f64
}

fn samples(p: &Point, q: &Point) -> Vec<PlanPosition> {
    (0..SAMPLES).map(|k| between(plan(p), plan(q), share(k))).collect()
}

fn placement(from: usize, p: &Point, q: &Point, z: &[Option<Length>], way: Way, bar: Length) -> Placement {
    let length = (q.x.to_mm() - p.x.to_mm()).hypot(q.y.to_mm() - p.y.to_mm());
    let inner = z.iter().enumerate().filter_map(|(k, z)| z.map(|z| (share(k) * length, z.to_mm())));
    let shown = under(p.z.to_mm(), q.z.to_mm(), length, inner);
    Placement {
        way,
        bar,
        from,
        to: between(plan(p), plan(q), 1.0),
        expected: Some(Length::mm(shown.gap)),
        lowest_at: between(plan(p), plan(q), if length > 0.0 { shown.at / length } else { 0.0 }),
        rocks: shown.rocks,
    }
}
