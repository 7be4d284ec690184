//! Where a place of the plan lies, as it is found on the floor.

use crate::wire::{FromWall, Plan};

/// The distances of a place from the side wall and from the base wall.
pub(crate) fn from_walls(plan: &Plan, (x, y): (f64, f64)) -> Vec<FromWall> {
    let least = |of: fn(&(f64, f64)) -> f64| {
        let least = plan.outline.iter().map(of).fold(f64::INFINITY, f64::min);
        if least.is_finite() { least } else { 0.0 }
    };
    let from = |wall: &str, distance: f64| FromWall { wall: wall.to_string(), distance };
    vec![from(&plan.side_wall, x - least(|corner| corner.0)), from(&plan.base_wall, y - least(|corner| corner.1))]
}
