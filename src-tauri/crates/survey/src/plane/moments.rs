//! The triangular factor of the centred design, and the slopes it gives.
//!
//! An orthogonal factorisation in the form that streams: the columns are first made nearly orthogonal with the centre
//! and shear of a sample, then the remaining small products are summed once and taken out exactly. That keeps the
//! digits a Householder factorisation keeps, and reads the points once. Long thin layouts are summed in twice the
//! precision instead.
//!
//! # Source
//! Cholesky QR with preconditioning (Yamamoto, Nakatsukasa, Yanagisawa, Fukaya 2015; recalled, not read).

use super::twofold::{Real, Twofold};
use crate::Point;

/// How many points tell the first centre and shear.
const SAMPLE: usize = 256;
/// Points summed in one go before they join the total, so that rounding does not grow with their number.
const BLOCK: usize = 512;
/// Points summed side by side.
const LANES: usize = 2;
/// Layouts narrower than this are summed in twice the precision.
const NARROW: f64 = 0.03;
/// More rounds than this never helped: the columns are as orthogonal as they get.
const ROUNDS: usize = 4;

/// The layout of the points and their best plane, in millimetres.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Moments {
    /// A place amid the readings from which everything is counted.
    pub(crate) origin: [f64; 3],
    /// Sum of the weights: the number of points where all weigh the same.
    pub(crate) weight: f64,
    /// Weighted mean of x, y and z, from the origin.
    pub(crate) centre: [f64; 3],
    /// Length of the centred x column.
    pub(crate) across: f64,
    /// Multiple of the x column in the y column.
    pub(crate) shear: f64,
    /// Length of what is left of the centred y column.
    pub(crate) along: f64,
    pub(crate) slope: [f64; 2],
}

impl Moments {
    /// Of points that all weigh the same.
    pub(crate) fn of(points: &[Point]) -> Self {
        Self::by(points, points.len() as f64, |_| 1.0)
    }

    /// Of points that weigh as `weights` says, one weight above 0 for each.
    pub(crate) fn weighted(points: &[Point], weights: &[f64]) -> Self {
        Self::by(points, weights.iter().sum(), |index| weights.get(index).copied().unwrap_or(1.0))
    }

    fn by(points: &[Point], total: f64, weight: impl Fn(usize) -> f64 + Copy) -> Self {
        let plain = settle::<f64, LANES>(points, total, weight);
        if plain.narrowness() > NARROW { plain } else { settle::<Twofold, 1>(points, total, weight) }
    }

    /// Smallest over largest singular value of the centred plan coordinates.
    pub(crate) fn narrowness(&self) -> f64 {
        let (f, g, h) = (self.across, self.shear * self.across, self.along);
        let largest = 0.5 * ((f + h).hypot(g) + (f - h).hypot(g));
        if largest > 0.0 { (f / largest) * (h / largest) } else { 0.0 }
    }

    /// The two orthonormal coordinates of a place given by its distances from the centre.
    #[inline]
    pub(crate) fn unit(&self, dx: f64, dy: f64) -> [f64; 2] {
        [dx / self.across, (dy - self.shear * dx) / self.along]
    }

    /// A point as its distances from the centre.
    #[inline]
    pub(crate) fn centred(&self, point: &Point) -> [f64; 3] {
        let [x, y, z] = millimetres(point);
        let ([ox, oy, oz], [cx, cy, cz]) = (self.origin, self.centre);
        [(x - ox) - cx, (y - oy) - cy, (z - oz) - cz]
    }

    /// Reading minus plane, in mm.
    #[inline]
    pub(super) fn residual(&self, point: &Point) -> f64 {
        let [dx, dy, dz] = self.centred(point);
        dz - self.slope[0] * dx - self.slope[1] * dy
    }
}

#[inline]
fn millimetres(point: &Point) -> [f64; 3] {
    [point.x.to_mm(), point.y.to_mm(), point.z.to_mm()]
}

/// Centre and shear that make the columns nearly orthogonal: x − cx and (y − cy) − shear·(x − cx).
#[derive(Debug, Clone, Copy)]
struct Frame<T> {
    centre: [f64; 3],
    shear: T,
}

/// Sums better and better frames until the columns are nearly orthogonal, and solves there.
fn settle<T: Real, const W: usize>(points: &[Point], total: f64, weight: impl Fn(usize) -> f64 + Copy) -> Moments {
    let mut frame = first_frame::<T, W>(points);
    let mut all = Sums::of::<W>(points, total, frame, weight);
    for _ in 1..ROUNDS {
        if all.nearly_orthogonal() {
            break;
        }
        frame = all.frame(frame);
        all = Sums::of::<W>(points, total, frame, weight);
    }
    all.solve(frame)
}

/// The frame that a sample of the points suggests.
fn first_frame<T: Real, const W: usize>(points: &[Point]) -> Frame<T> {
    let start = Frame { centre: points.first().map_or([0.0; 3], millimetres), shear: T::of(0.0) };
    let suggested = |sample: &[Point]| Sums::of::<W>(sample, sample.len() as f64, start, |_| 1.0).frame(start);
    if points.len() <= SAMPLE {
        suggested(points)
    } else {
        let sample: Vec<Point> = points.iter().step_by(points.len() / SAMPLE).copied().collect();
        suggested(&sample)
    }
}

/// Sums over the points in a frame: weight, first moments and products.
#[derive(Debug, Clone, Copy)]
struct Sums<T> {
    weight: T,
    x: T,
    y: T,
    z: T,
    xx: T,
    xy: T,
    yy: T,
    xz: T,
    yz: T,
}

impl<T: Real> Sums<T> {
    fn of<const W: usize>(points: &[Point], total: f64, frame: Frame<T>, weight: impl Fn(usize) -> f64) -> Self {
        let mut sums = [T::of(0.0); 8];
        let mut include = |part: [T; 8]| sums.iter_mut().zip(part).for_each(|(sum, part)| *sum += part);
        for (block, points) in points.chunks(BLOCK).enumerate() {
            let (chunks, rest) = points.as_chunks::<W>();
            let first = block * BLOCK;
            include(lanes(chunks, frame, |index| weight(first + index)));
            include(lanes(rest.as_chunks::<1>().0, frame, |index| weight(first + chunks.len() * W + index)));
        }
        let [x, y, z, xx, xy, yy, xz, yz] = sums;
        Self { weight: T::of(total), x, y, z, xx, xy, yy, xz, yz }
    }

    /// The products about the mean.
    fn centred(&self) -> [T; 5] {
        let less = |product: T, a: T, b: T| product - a * b / self.weight;
        [
            less(self.xx, self.x, self.x),
            less(self.xy, self.x, self.y),
            less(self.yy, self.y, self.y),
            less(self.xz, self.x, self.z),
            less(self.yz, self.y, self.z),
        ]
    }

    /// Whether so little is left to take out that no digits go with it.
    fn nearly_orthogonal(&self) -> bool {
        let (n, x, y) = (self.weight.near(), self.x.near(), self.y.near());
        let (xx, xy, yy) = (self.xx.near(), self.xy.near(), self.yy.near());
        x * x <= 0.1 * n * xx && y * y <= 0.1 * n * yy && xy * xy <= 0.1 * xx * yy
    }

    fn left_shear(&self) -> T {
        let [xx, xy, ..] = self.centred();
        if xx.near() > 0.0 { xy / xx } else { T::of(0.0) }
    }

    /// The mean of x, y and z from the centre of the frame.
    fn mean(&self, frame: Frame<T>) -> [f64; 3] {
        let (x, y, z) = (self.x / self.weight, self.y / self.weight, self.z / self.weight);
        [x.near(), (y + frame.shear * x).near(), z.near()]
    }

    /// The frame in which these columns would be orthogonal.
    fn frame(&self, from: Frame<T>) -> Frame<T> {
        let mean = self.mean(from);
        let centre = std::array::from_fn(|axis| from.centre[axis] + mean[axis]);
        Frame { centre, shear: from.shear + self.left_shear() }
    }

    fn solve(&self, frame: Frame<T>) -> Moments {
        let [xx, xy, yy, xz, yz] = self.centred();
        let left = self.left_shear();
        let along = yy - left * xy;
        let shear = frame.shear + left;
        let ratio = |a: T, b: T| if b.near() > 0.0 { a / b } else { T::of(0.0) };
        let slope_y = ratio(yz - left * xz, along);
        let slope_x = ratio(xz, xx) - slope_y * shear;
        Moments {
            origin: frame.centre,
            weight: self.weight.near(),
            centre: self.mean(frame),
            across: xx.near().max(0.0).sqrt(),
            shear: shear.near(),
            along: along.near().max(0.0).sqrt(),
            slope: [slope_x.near(), slope_y.near()],
        }
    }
}

/// The eight sums over a block, `W` points at a time.
fn lanes<T: Real, const W: usize>(chunks: &[[Point; W]], frame: Frame<T>, weight: impl Fn(usize) -> f64) -> [T; 8] {
    in_lanes(chunks, frame, weight).map(|lanes| lanes.into_iter().fold(T::of(0.0), |sum, part| sum + part))
}

/// The eight sums over a block, one part in each lane.
///
/// Plain loops over the lanes, which the compiler runs in step; kept apart from what folds the lanes, which would
/// tempt it to pair them otherwise (measured: half as slow again).
#[inline(never)]
fn in_lanes<T: Real, const W: usize>(
    chunks: &[[Point; W]],
    frame: Frame<T>,
    weight: impl Fn(usize) -> f64,
) -> [[T; W]; 8] {
    let [cx, cy, cz] = frame.centre.map(T::of);
    let mut sums = [[T::of(0.0); W]; 8];
    for (chunk, points) in chunks.iter().enumerate() {
        let [mut x, mut y, mut z, mut w] = [[T::of(0.0); W]; 4];
        for lane in 0..W {
            x[lane] = T::of(points[lane].x.to_mm()) - cx;
            y[lane] = T::of(points[lane].y.to_mm()) - cy;
            z[lane] = T::of(points[lane].z.to_mm()) - cz;
            w[lane] = T::of(weight(chunk * W + lane));
        }
        for lane in 0..W {
            y[lane] = y[lane] - frame.shear * x[lane];
        }
        let (wx, wy, wz) = (times(w, x), times(w, y), times(w, z));
        let terms = [wx, wy, wz, times(wx, x), times(wx, y), times(wy, y), times(wx, z), times(wy, z)];
        for (sum, term) in sums.iter_mut().zip(terms) {
            for lane in 0..W {
                sum[lane] += term[lane];
            }
        }
    }
    sums
}

#[inline(always)]
fn times<T: Real, const W: usize>(a: [T; W], b: [T; W]) -> [T; W] {
    let mut product = a;
    for lane in 0..W {
        product[lane] = a[lane] * b[lane];
    }
    product
}
