//! The plane with the least squares of the distances square to it.

use super::moments::Moments;
use crate::Point;

/// Sweeps of rotations; three columns settle in a handful.
const SWEEPS: usize = 60;
/// A normal that leans over this far has no height over the plan.
const UPRIGHT: f64 = 1e-12;

/// Both slopes of the orthogonal plane through the centroid; `None` where it stands on edge.
///
/// The normal is the singular vector of the smallest singular value of the centred points.
///
/// # Source
/// Total least squares; one-sided rotations (Jacobi, Hestenes 1958; recalled, not read) on the triangular factor.
pub(super) fn slopes(points: &[Point], moments: &Moments) -> Option<[f64; 2]> {
    let [x, y, z] = smallest_direction(triangle(points, moments));
    (z.abs() > UPRIGHT * x.hypot(y)).then(|| [-x / z, -y / z])
}

/// The columns x, y and z of the triangular factor of the centred points.
fn triangle(points: &[Point], moments: &Moments) -> [[f64; 3]; 3] {
    let Moments { across, shear, along, slope: [a, b], .. } = *moments;
    let rest: f64 = points.iter().map(|point| moments.residual(point).powi(2)).sum();
    [[across, 0.0, 0.0], [shear * across, along, 0.0], [(a + b * shear) * across, b * along, rest.sqrt()]]
}

/// Turns the columns until each pair is square: the combination that ends up shortest.
fn smallest_direction(mut columns: [[f64; 3]; 3]) -> [f64; 3] {
    let mut turned = [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]];
    for _ in 0..SWEEPS {
        let turns = [(0, 1), (0, 2), (1, 2)].map(|(i, j)| {
            let turn = turn_to_square(&columns[i], &columns[j]);
            rotate(&mut columns, i, j, turn);
            rotate(&mut turned, i, j, turn);
            turn[1].abs()
        });
        if turns.iter().all(|turn| *turn <= f64::EPSILON) {
            break;
        }
    }
    let length = |which: usize| dot(&columns[which], &columns[which]);
    let shortest = (0..3).min_by(|&i, &j| length(i).total_cmp(&length(j))).unwrap_or(2);
    turned[shortest]
}

fn dot(a: &[f64; 3], b: &[f64; 3]) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

/// Cosine and sine of the rotation that makes two columns square to each other.
fn turn_to_square(a: &[f64; 3], b: &[f64; 3]) -> [f64; 2] {
    let (aa, bb, ab) = (dot(a, a), dot(b, b), dot(a, b));
    if ab.abs() <= f64::EPSILON * (aa * bb).sqrt() {
        return [1.0, 0.0];
    }
    let half = (bb - aa) / (2.0 * ab);
    let tangent = half.signum() / (half.abs() + half.hypot(1.0));
    let cosine = tangent.hypot(1.0).recip();
    [cosine, cosine * tangent]
}

fn rotate(columns: &mut [[f64; 3]; 3], i: usize, j: usize, [cosine, sine]: [f64; 2]) {
    let (a, b) = (columns[i], columns[j]);
    columns[i] = std::array::from_fn(|k| cosine * a[k] - sine * b[k]);
    columns[j] = std::array::from_fn(|k| sine * a[k] + cosine * b[k]);
}
