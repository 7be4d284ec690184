//! Where something lies, as it is found on the floor: its distances from two walls.

use super::Judging;
use crate::wire::{FromWall, Place};

/// A place that is no place of the floor.
pub(super) fn nowhere() -> Place {
    Place { point: None, line: None, from_walls: Vec::new() }
}

impl Judging<'_> {
    /// A point of the floor.
    pub(super) fn at(&self, x: f64, y: f64) -> Place {
        Place { point: Some((x, y)), line: None, from_walls: self.distances_from_walls(x, y) }
    }

    /// A line on the floor; its walls are measured to its middle.
    pub(super) fn along(&self, from: (f64, f64), to: (f64, f64)) -> Place {
        let from_walls = self.distances_from_walls((from.0 + to.0) / 2.0, (from.1 + to.1) / 2.0);
        Place { point: None, line: Some((from, to)), from_walls }
    }

    /// The distances of a point from the side wall and from the base wall.
    pub(super) fn distances_from_walls(&self, x: f64, y: f64) -> Vec<FromWall> {
        let plan = &self.file.plan;
        let least = |of: fn(&(f64, f64)) -> f64| plan.outline.iter().map(of).fold(f64::INFINITY, f64::min);
        let (x0, y0) = (least(|corner| corner.0), least(|corner| corner.1));
        let from = |wall: &str, distance: f64| FromWall { wall: wall.to_string(), distance };
        let zero = |origin: f64| if origin.is_finite() { origin } else { 0.0 };
        vec![from(&plan.side_wall, x - zero(x0)), from(&plan.base_wall, y - zero(y0))]
    }
}
