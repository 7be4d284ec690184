//! The plane that is built to.

use crate::PlanPosition;
use crate::joists::Grid;
use crate::units::{Length, Slope};

/// A level or tilted plane: `height` at `centre`, the mean of the joists across and of the stations along.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Target {
    pub height: Length,
    /// Rise across the joists.
    pub tilt_x: Slope,
    /// Rise away from the door wall.
    pub tilt_y: Slope,
    pub centre: PlanPosition,
}

impl Target {
    pub(super) fn level(grid: &Grid, height: f64) -> Self {
        Self { height: Length::mm(height), tilt_x: Slope::ZERO, tilt_y: Slope::ZERO, centre: centre(grid) }
    }

    /// The height of the target at a place, up positive.
    pub fn at(&self, place: PlanPosition) -> Length {
        Length::mm(self.mm(place.x.to_mm(), place.y.to_mm()))
    }

    pub(super) fn mm(&self, x: f64, y: f64) -> f64 {
        let [tilt_x, tilt_y] = [self.tilt_x.to_ratio(), self.tilt_y.to_ratio()];
        self.height.to_mm() + tilt_x * (x - self.centre.x.to_mm()) + tilt_y * (y - self.centre.y.to_mm())
    }
}

/// The mean of the joists across and of the stations along.
pub(super) fn centre(grid: &Grid) -> PlanPosition {
    let mean = |sum: Length, count: usize| if count == 0 { Length::ZERO } else { sum / count as f64 };
    PlanPosition {
        x: mean(grid.joists.iter().map(|joist| joist.x).sum(), grid.joists.len()),
        y: mean(grid.stations.iter().copied().sum(), grid.stations.len()),
    }
}
