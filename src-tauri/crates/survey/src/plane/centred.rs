//! Readings as seen from their own plane: for searches that start where least squares ends.

use super::moments::Moments;
use super::{Plane, PlaneError, of_moments, settled};
use crate::Point;

/// Readings in the two coordinates of their layout that are uncorrelated and of scatter 1, with their residuals in mm.
pub(crate) struct Centred {
    pub(crate) plane: Plane,
    pub(crate) unit: Vec<[f64; 2]>,
    pub(crate) residuals: Vec<f64>,
    moments: Moments,
}

/// The least-squares plane and what is seen from it.
pub(crate) fn centred(points: &[Point]) -> Result<Centred, PlaneError> {
    let moments = settled(points)?;
    let scatter = moments.weight.sqrt();
    let unit = |point: &Point| {
        let [dx, dy, _] = moments.centred(point);
        moments.unit(dx, dy).map(|coordinate| coordinate * scatter)
    };
    Ok(Centred {
        plane: of_moments(&moments),
        unit: points.iter().map(unit).collect(),
        residuals: points.iter().map(|point| moments.residual(point)).collect(),
        moments,
    })
}

impl Centred {
    /// The slopes along x and y of a rise along the two coordinates.
    pub(crate) fn slopes_of(&self, [q, r]: [f64; 2]) -> [f64; 2] {
        let Moments { across, shear, along, weight, .. } = self.moments;
        let (q, r) = (q * weight.sqrt() / across, r * weight.sqrt() / along);
        [q - shear * r, r]
    }
}
