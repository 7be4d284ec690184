//! An unknown plane with waves on it, and how well the readings pin it down.

use nalgebra::{DMatrix, DVector, Matrix3, Vector3};

use super::place::Place;
use super::thin_plate::frame;
use crate::units::Length;

/// The waves assumed on a floor: covariance height² · exp(−d²/2 length²), read with a standard deviation.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Waves {
    pub height_sd: Length,
    pub length: Length,
    pub reading_sd: Length,
}

/// So many places are solved for side by side.
const ABREAST: usize = 8;
type Row = [f64; ABREAST];

/// The mean and the standard deviation of the floor at each place, in mm; `None` if the readings cannot be told apart.
pub(super) fn heights(places: &[Place], at: &[[f64; 2]], waves: Waves) -> Option<Vec<(f64, f64)>> {
    let floor = Floor::new(places, waves)?;
    let mut found = Vec::with_capacity(at.len());
    for abreast in at.chunks(ABREAST) {
        let mut padded = [abreast[0]; ABREAST];
        padded[..abreast.len()].copy_from_slice(abreast);
        found.extend(floor.at(&padded).into_iter().take(abreast.len()));
    }
    Some(found)
}

/// The readings, whitened: L is the Cholesky factor of their covariance.
struct Floor {
    known: Vec<[f64; 2]>,
    origin: [f64; 2],
    scale: f64,
    variance: f64,
    /// −1 / 2 length².
    decay: f64,
    /// The rows of L below its diagonal, one after the other, and the inverse of the diagonal.
    lower: Vec<f64>,
    inverse: Vec<f64>,
    /// L⁻¹ applied to the plane's three columns, and to what the plane leaves of the heights.
    trend: [Vec<f64>; 3],
    rest: Vec<f64>,
    plane: Vector3<f64>,
    /// The inverse of R in the QR of the whitened columns, transposed.
    spread: Matrix3<f64>,
    mean: f64,
}

impl Floor {
    fn new(places: &[Place], waves: Waves) -> Option<Self> {
        let n = places.len();
        let (origin, scale) = frame(places);
        let variance = waves.height_sd.to_mm().powi(2);
        let decay = -0.5 / waves.length.to_mm().powi(2);
        let noise = waves.reading_sd.to_mm().powi(2);
        let mut covariance = DMatrix::zeros(n, n);
        for (j, there) in places.iter().enumerate() {
            covariance[(j, j)] = variance + noise / there.readings.max(1.0);
            // What stands above the diagonal is not looked at.
            for (i, here) in places.iter().enumerate().skip(j + 1) {
                covariance[(i, j)] = variance * (decay * square(here.at, there.at)).exp();
            }
        }
        let factor = covariance.cholesky()?.unpack();
        let mean = places.iter().map(|place| place.z / n as f64).sum::<f64>();
        let column = |axis: usize| {
            move |i: usize| if axis == 0 { 1.0 } else { (places[i].at[axis - 1] - origin[axis - 1]) / scale }
        };
        let design = DMatrix::from_fn(n, 3, |i, axis| column(axis)(i));
        let trend = factor.solve_lower_triangular(&design)?;
        let heights = factor.solve_lower_triangular(&DVector::from_fn(n, |i, _| places[i].z - mean))?;
        let (q, r) = trend.clone().qr().unpack();
        let plane = r.solve_upper_triangular(&(q.transpose() * &heights))?;
        let rest = heights - &trend * &plane;
        let spread = r.fixed_view::<3, 3>(0, 0).into_owned().try_inverse()?.transpose();
        let finite = spread.iter().chain(rest.iter()).chain(plane.iter()).all(|number| number.is_finite());
        finite.then(|| Self {
            known: places.iter().map(|place| place.at).collect(),
            origin,
            scale,
            variance,
            decay,
            lower: (0..n).flat_map(|i| (0..i).map(move |j| (i, j))).map(|at| factor[at]).collect(),
            inverse: (0..n).map(|i| 1.0 / factor[(i, i)]).collect(),
            trend: [0, 1, 2].map(|column| trend.column(column).iter().copied().collect()),
            rest: rest.iter().copied().collect(),
            plane: Vector3::new(plane[0], plane[1], plane[2]),
            spread,
            mean,
        })
    }

    /// The mean and standard deviation at places side by side.
    fn at(&self, places: &[[f64; 2]; ABREAST]) -> [(f64, f64); ABREAST] {
        let whitened = self.whitened(places);
        let mean = summed(&self.rest, &whitened);
        let trend = [0, 1, 2].map(|column| summed(&self.trend[column], &whitened));
        let mut explained = [0.0; ABREAST];
        for row in &whitened {
            for k in 0..ABREAST {
                explained[k] += row[k] * row[k];
            }
        }
        std::array::from_fn(|k| {
            let [x, y] = [0, 1].map(|axis| (places[k][axis] - self.origin[axis]) / self.scale);
            let here = Vector3::new(1.0, x, y);
            let missed = here - Vector3::new(trend[0][k], trend[1][k], trend[2][k]);
            let variance = self.variance - explained[k] + (self.spread * missed).norm_squared();
            (self.mean + here.dot(&self.plane) + mean[k], variance.max(0.0).sqrt())
        })
    }

    /// L⁻¹ applied to the covariances of the readings with each place.
    fn whitened(&self, places: &[[f64; 2]; ABREAST]) -> Vec<Row> {
        let axis = |axis: usize| -> Row { std::array::from_fn(|k| places[k][axis]) };
        let (x, y) = (axis(0), axis(1));
        let covariances = |known: &[f64; 2]| {
            let mut powers = [0.0; ABREAST];
            for k in 0..ABREAST {
                let (dx, dy) = (known[0] - x[k], known[1] - y[k]);
                powers[k] = self.decay * (dx * dx + dy * dy);
            }
            let mut row = exponentials(powers);
            for value in &mut row {
                *value *= self.variance;
            }
            row
        };
        let mut whitened: Vec<Row> = self.known.iter().map(covariances).collect();
        let mut lower = self.lower.as_slice();
        for (i, inverse) in self.inverse.iter().enumerate() {
            let (above, here) = whitened.split_at_mut(i);
            let (weights, below) = lower.split_at(i.min(lower.len()));
            let Some(here) = here.first_mut() else { break };
            let known = summed(weights, above);
            for k in 0..ABREAST {
                here[k] = (here[k] - known[k]) * inverse;
            }
            lower = below;
        }
        whitened
    }
}

/// The sum of rows, each so many times.
fn summed(times: &[f64], rows: &[Row]) -> Row {
    let mut sum = [0.0; ABREAST];
    for (times, row) in times.iter().zip(rows) {
        for k in 0..ABREAST {
            sum[k] += times * row[k];
        }
    }
    sum
}

/// e to each of several powers that are not above zero, to the last digit or two; below e⁻⁷⁰⁰ what is left of it.
///
/// The power is parted into a whole number of doublings and a rest of at most half of one, for which the series ends
/// after fourteen terms. Without branches or calls, so that the places beside one another are worked out together.
fn exponentials(powers: Row) -> Row {
    const DOUBLING: [f64; 2] = [0.693_147_180_369_123_8, 1.908_214_929_270_587_7e-10];
    /// Added and taken off again it rounds to whole numbers, and leaves them in the last bits.
    const ROUND: f64 = 6_755_399_441_055_744.0;
    let (mut shifted, mut rest) = ([0.0; ABREAST], [0.0; ABREAST]);
    for k in 0..ABREAST {
        let power = if powers[k] > -700.0 { powers[k] } else { -700.0 };
        shifted[k] = power * std::f64::consts::LOG2_E + ROUND;
        let doublings = shifted[k] - ROUND;
        rest[k] = (power - doublings * DOUBLING[0]) - doublings * DOUBLING[1];
    }
    let mut sum = [LAST; ABREAST];
    for term in SERIES.iter().rev() {
        for k in 0..ABREAST {
            sum[k] = sum[k] * rest[k] + term;
        }
    }
    for k in 0..ABREAST {
        sum[k] = f64::from_bits(sum[k].to_bits().wrapping_add(shifted[k].to_bits() << 52));
    }
    sum
}

/// 1 / 0!, 1 / 1! and so on to 1 / 12!, and 1 / 13!.
const SERIES: [f64; 13] = series();
const LAST: f64 = SERIES[12] / 13.0;

const fn series() -> [f64; 13] {
    let mut terms = [1.0; 13];
    let mut k = 1;
    while k < 13 {
        terms[k] = terms[k - 1] / k as f64;
        k += 1;
    }
    terms
}

fn square(p: [f64; 2], q: [f64; 2]) -> f64 {
    (p[0] - q[0]).powi(2) + (p[1] - q[1]).powi(2)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn powers_of_e_to_the_last_digits(power in prop_oneof![-1.0f64..0.0, -700.0f64..0.0, Just(0.0), Just(-700.0)]) {
            let [found, ..] = exponentials([power; ABREAST]);
            prop_assert!((found / power.exp() - 1.0).abs() < 1e-15, "{}: {} {}", power, found, power.exp());
        }
    }

    #[test]
    fn far_powers_of_e_are_next_to_nothing() {
        for power in [-1e3, -1e15, f64::NEG_INFINITY, f64::NAN] {
            let [found, ..] = exponentials([power; ABREAST]);
            assert!((0.0..1e-300).contains(&found), "{power}: {found}");
        }
    }
}
