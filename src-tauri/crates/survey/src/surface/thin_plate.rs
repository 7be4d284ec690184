//! The plate of least bending through the readings.

use nalgebra::{DMatrix, DVector};

use super::place::Place;

/// The heights of the plate, in mm; `None` if its equations cannot be solved.
pub(super) fn heights(places: &[Place], at: &[[f64; 2]]) -> Option<Vec<f64>> {
    let n = places.len();
    let (origin, scale) = frame(places);
    let local = |[x, y]: [f64; 2]| [(x - origin[0]) / scale, (y - origin[1]) / scale];
    let known: Vec<[f64; 2]> = places.iter().map(|place| local(place.at)).collect();
    let mut equations = DMatrix::zeros(n + 3, n + 3);
    for (i, &here) in known.iter().enumerate() {
        for (j, &there) in known.iter().enumerate() {
            equations[(i, j)] = bending(here, there);
        }
        for (k, trend) in [1.0, here[0], here[1]].into_iter().enumerate() {
            equations[(i, n + k)] = trend;
            equations[(n + k, i)] = trend;
        }
    }
    let mean = places.iter().map(|place| place.z / n as f64).sum::<f64>();
    let right = DVector::from_iterator(n + 3, places.iter().map(|place| place.z - mean).chain([0.0; 3]));
    let weights = equations.lu().solve(&right)?;
    let height = |&place: &[f64; 2]| {
        let [x, y] = local(place);
        let bent: f64 = known.iter().zip(weights.iter()).map(|(&there, weight)| weight * bending([x, y], there)).sum();
        mean + bent + weights[n] + weights[n + 1] * x + weights[n + 2] * y
    };
    Some(at.iter().map(height).collect())
}

/// r² ln r.
fn bending(p: [f64; 2], q: [f64; 2]) -> f64 {
    let square = (p[0] - q[0]).powi(2) + (p[1] - q[1]).powi(2);
    if square > 0.0 { 0.5 * square * square.ln() } else { 0.0 }
}

/// The centre of the places, and their extent: the plate does not depend on them, its equations do.
pub(super) fn frame(places: &[Place]) -> ([f64; 2], f64) {
    let n = places.len().max(1) as f64;
    let origin = [0, 1].map(|axis| places.iter().map(|place| place.at[axis] / n).sum::<f64>());
    let far = |place: &Place| (place.at[0] - origin[0]).abs().max((place.at[1] - origin[1]).abs());
    (origin, places.iter().map(far).fold(f64::MIN_POSITIVE, f64::max))
}
