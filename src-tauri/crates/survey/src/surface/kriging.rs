//! An unknown plane with waves on it, and how well the readings pin it down.

use nalgebra::{DMatrix, DVector, Matrix3, Vector3};

use super::thin_plate::frame;
use super::{Place, Waves};

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
    lower: Vec<Vec<f64>>,
    inverse: Vec<f64>,
    /// L⁻¹ applied to the plane's three columns, and to what the plane leaves of the heights.
    trend: Vec<[f64; 3]>,
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
        let covariance = DMatrix::from_fn(n, n, |i, j| {
            let own = if i == j { noise / places[i].readings.max(1.0) } else { 0.0 };
            variance * (decay * square(places[i].at, places[j].at)).exp() + own
        });
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
            lower: (0..n).map(|i| (0..i).map(|j| factor[(i, j)]).collect()).collect(),
            inverse: (0..n).map(|i| 1.0 / factor[(i, i)]).collect(),
            trend: (0..n).map(|i| [trend[(i, 0)], trend[(i, 1)], trend[(i, 2)]]).collect(),
            rest: rest.iter().copied().collect(),
            plane: Vector3::new(plane[0], plane[1], plane[2]),
            spread,
            mean,
        })
    }

    /// The mean and standard deviation at places side by side.
    fn at(&self, places: &[[f64; 2]; ABREAST]) -> [(f64, f64); ABREAST] {
        let whitened = self.whitened(places);
        let (mut mean, mut explained, mut trend) = ([0.0; ABREAST], [0.0; ABREAST], [[0.0; ABREAST]; 3]);
        for (i, row) in whitened.iter().enumerate() {
            for k in 0..ABREAST {
                mean[k] += self.rest[i] * row[k];
                explained[k] += row[k] * row[k];
                trend[0][k] += self.trend[i][0] * row[k];
                trend[1][k] += self.trend[i][1] * row[k];
                trend[2][k] += self.trend[i][2] * row[k];
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
        let mut whitened: Vec<Row> = Vec::with_capacity(self.known.len());
        for (i, &known) in self.known.iter().enumerate() {
            let mut row: Row = std::array::from_fn(|k| self.variance * (self.decay * square(known, places[k])).exp());
            for (weight, above) in self.lower[i].iter().zip(&whitened) {
                for k in 0..ABREAST {
                    row[k] -= weight * above[k];
                }
            }
            whitened.push(row.map(|value| value * self.inverse[i]));
        }
        whitened
    }
}

fn square(p: [f64; 2], q: [f64; 2]) -> f64 {
    (p[0] - q[0]).powi(2) + (p[1] - q[1]).powi(2)
}
