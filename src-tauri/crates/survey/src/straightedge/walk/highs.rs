//! The short bar laid from the highest reading, where a narrow hump or hollow hides between readings.

use super::placement::{Placement, Way, between, plan};
use crate::plane;
use crate::point::{PlanPosition, Point};
use crate::units::Length;

/// The bar with one end on the reading that stands highest over the plane of all, toward the middle of the floor both
/// ways along the walls.
pub(super) fn from_highs(points: &[Point], bar: Length) -> Vec<Placement> {
    let Some(highest) = highest(points) else { return Vec::new() };
    [Way::X, Way::Y].into_iter().filter_map(|way| toward_the_middle(points, highest, way, bar)).collect()
}

fn highest(points: &[Point]) -> Option<usize> {
    let plane = plane::best_fit(points);
    let over = |point: &Point| match &plane {
        Ok(plane) => (point.z - plane.height_at(PlanPosition { x: point.x, y: point.y })).to_mm(),
        Err(_) => point.z.to_mm(),
    };
    let standing: Vec<f64> = points.iter().map(over).collect();
    (0..points.len()).max_by(|&a, &b| {
        let z = |k: usize| standing.get(k).copied().unwrap_or(f64::NEG_INFINITY);
        z(a).total_cmp(&z(b))
    })
}

fn toward_the_middle(points: &[Point], from: usize, way: Way, bar: Length) -> Option<Placement> {
    let (x, y) = plan(points.get(from)?);
    let on_axis = |point: &Point| if way == Way::X { point.x.to_mm() } else { point.y.to_mm() };
    let all = points.iter().map(on_axis);
    let (low, high) = (all.clone().fold(f64::INFINITY, f64::min), all.fold(f64::NEG_INFINITY, f64::max));
    let here = if way == Way::X { x } else { y };
    let reach = bar.to_mm().min(high - low);
    let end = if here <= (low + high) / 2.0 { here + reach } else { here - reach };
    let to = if way == Way::X { (end, y) } else { (x, end) };
    (reach > 0.0).then(|| Placement {
        way,
        bar,
        from,
        to: between((x, y), to, 1.0),
        expected: None,
        lowest_at: between((x, y), to, 0.5),
        rocks: false,
    })
}
