//! Where a place of the plan lies, as it is found on the floor.

use crate::forms::{FromWall, Place, Plan};

/// The distances of a place from the side wall and from the base wall.
pub fn from_walls(plan: &Plan, (x, y): (f64, f64)) -> Vec<FromWall> {
    let least = |of: fn(&(f64, f64)) -> f64| {
        let least = plan.outline.iter().map(of).fold(f64::INFINITY, f64::min);
        if least.is_finite() { least } else { 0.0 }
    };
    let from = |wall: &str, distance: f64| FromWall { wall: wall.to_string(), distance };
    vec![from(&plan.side_wall, x - least(|corner| corner.0)), from(&plan.base_wall, y - least(|corner| corner.1))]
}

/// A place that is nowhere on the floor.
pub fn nowhere() -> Place {
    Place { point: None, line: None, from_walls: Vec::new() }
}

/// A point of the floor.
pub fn at(plan: &Plan, (x, y): (f64, f64)) -> Place {
    Place { point: Some((x, y)), line: None, from_walls: from_walls(plan, (x, y)) }
}

/// A line on the floor; its walls are measured to its middle.
pub fn along(plan: &Plan, from: (f64, f64), to: (f64, f64)) -> Place {
    let from_walls = from_walls(plan, ((from.0 + to.0) / 2.0, (from.1 + to.1) / 2.0));
    Place { point: None, line: Some((from, to)), from_walls }
}
