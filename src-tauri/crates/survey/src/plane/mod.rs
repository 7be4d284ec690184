//! The plane that fits a set of readings: a design aid, never the judge of flatness.

mod centred;
mod duplicates;
mod fit;
mod huber;
mod moments;
mod orthogonal;
mod twofold;

pub(crate) use centred::centred;
pub use duplicates::duplicates;
pub(crate) use fit::is_checked;
pub use fit::{Fit, fit};

use crate::units::{Length, Ratio, Slope};
use crate::{PlanPosition, Point};
use moments::Moments;
use std::fmt;

/// Centred plan coordinates this much longer than wide, or more, are one line.
const COLLINEAR: f64 = 1e-6;

/// A plane by its height at one place and its two slopes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Plane {
    /// The place where `height` holds; for a fitted plane the weighted centroid of the readings.
    pub at: PlanPosition,
    pub height: Length,
    /// Rise along x, positive when the floor climbs that way.
    pub slope_x: Slope,
    /// Rise along y, positive when the floor climbs that way.
    pub slope_y: Slope,
}

impl Plane {
    /// The height of the plane at a place, up positive.
    pub fn height_at(&self, place: PlanPosition) -> Length {
        self.height + self.slope_x.times(place.x - self.at.x) + self.slope_y.times(place.y - self.at.y)
    }

    /// The unit normal, pointing up: along x, along y, upward.
    pub fn normal(&self) -> [Ratio; 3] {
        let (a, b) = (self.slope_x.to_ratio(), self.slope_y.to_ratio());
        let long = a.hypot(b).hypot(1.0);
        [(0.0 - a) / long, (0.0 - b) / long, 1.0 / long].map(Ratio::of)
    }

    /// The steepest rise on the plane, never negative.
    pub fn steepest(&self) -> Slope {
        Slope::ratio(self.slope_x.to_ratio().hypot(self.slope_y.to_ratio()))
    }
}

/// How the plane is drawn through readings that do not all lie on it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Estimator {
    /// The least sum of squares of the vertical residuals.
    #[default]
    LeastSquares,
    /// Readings far off (beyond 1.345 standard deviations) pull only as a constant force.
    Huber,
    /// The least sum of squares of the distances square to the plane.
    Orthogonal,
}

impl Estimator {
    /// The name used on every wire: `least-squares`.
    pub fn name(self) -> &'static str {
        match self {
            Self::LeastSquares => "least-squares",
            Self::Huber => "huber",
            Self::Orthogonal => "orthogonal",
        }
    }
}

/// Why no plane fits.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PlaneError {
    /// Fewer than three readings.
    TooFewPoints,
    /// All readings stand at one place.
    CoincidentPoints,
    /// All readings stand in one line.
    CollinearPoints,
    /// The plane stands on edge, so it has no height over the plan.
    Upright,
    /// The standard deviation of a reading is not above zero.
    NoUncertainty,
}

impl PlaneError {
    /// The name used on every wire: `too-few-points`.
    pub fn name(self) -> &'static str {
        match self {
            Self::TooFewPoints => "too-few-points",
            Self::CoincidentPoints => "coincident-points",
            Self::CollinearPoints => "collinear-points",
            Self::Upright => "upright-plane",
            Self::NoUncertainty => "no-uncertainty",
        }
    }
}

impl fmt::Display for PlaneError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::TooFewPoints => "a plane needs at least three readings",
            Self::CoincidentPoints => "all readings stand at one place",
            Self::CollinearPoints => "all readings stand in one line: read a second row",
            Self::Upright => "the plane through these readings stands on edge",
            Self::NoUncertainty => "the standard deviation of a reading must be above zero",
        })
    }
}

impl std::error::Error for PlaneError {}

/// The least-squares plane through readings: height at their centroid (up positive) and slopes, nothing more.
///
/// # Units
/// Heights in millimetres, slopes as rise over run.
///
/// # Uncertainty
/// Not stated here: [`fit()`] gives it with every residual.
///
/// # Errors
/// Fewer than three readings, all at one place, or all in one line (plan coordinates a million times longer than wide).
///
/// # Source
/// Ordinary least squares of the vertical residuals by orthogonal factorisation (textbook).
///
/// ```
/// use survey::{Point, plane};
///
/// // A floor that falls 1/4 in per foot along x, far from the origin of the map.
/// let corners = [(0.0, 0.0), (1200.0, 0.0), (0.0, 900.0), (1200.0, 900.0)];
/// let floor = corners.map(|(x, y)| Point::mm(4.5e9 + x, 4.5e9 + y, 100.0 - x / 48.0));
/// let plane = plane::best_fit(&floor)?;
/// assert!((plane.slope_x.to_ratio() + 1.0 / 48.0).abs() < 1e-12);
/// # Ok::<(), plane::PlaneError>(())
/// ```
pub fn best_fit(points: &[Point]) -> Result<Plane, PlaneError> {
    settled(points).map(|moments| of_moments(&moments))
}

/// The moments of readings that span a plane.
fn settled(points: &[Point]) -> Result<Moments, PlaneError> {
    if points.len() < 3 {
        return Err(PlaneError::TooFewPoints);
    }
    let moments = Moments::of(points);
    if moments.narrowness() >= COLLINEAR {
        Ok(moments)
    } else if duplicates::all_at_one_place(points) {
        Err(PlaneError::CoincidentPoints)
    } else {
        Err(PlaneError::CollinearPoints)
    }
}

fn of_moments(moments: &Moments) -> Plane {
    let ([ox, oy, oz], [cx, cy, cz]) = (moments.origin, moments.centre);
    Plane {
        at: PlanPosition { x: Length::mm(ox + cx), y: Length::mm(oy + cy) },
        height: Length::mm(oz + cz),
        slope_x: Slope::ratio(moments.slope[0]),
        slope_y: Slope::ratio(moments.slope[1]),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn refused(points: &[Point], kind: &str) {
        assert_eq!(best_fit(points).expect_err("refused").name(), kind);
        for estimator in [Estimator::LeastSquares, Estimator::Huber, Estimator::Orthogonal] {
            assert_eq!(fit(points, Length::mm(1.0), estimator).expect_err("refused").name(), kind);
        }
    }

    #[test]
    fn degenerate_layouts_are_refused_by_kind() {
        let p = Point::mm;
        refused(&[], "too-few-points");
        refused(&[p(0.0, 0.0, 0.0), p(1.0, 0.0, 0.0)], "too-few-points");
        refused(&[p(3.0, 4.0, 0.0), p(3.0, 4.0, 1.0), p(3.0, 4.0, 2.0)], "coincident-points");
        refused(&[p(3.0, 4.0, 0.0), p(3.0004, 4.0, 1.0), p(3.0, 4.0, 2.0)], "coincident-points");
        refused(&[p(0.0, 0.0, 0.0), p(1.0, 2.0, 5.0), p(3.0, 6.0, 2.0)], "collinear-points");
        refused(&[p(7.0, 0.0, 0.0), p(7.0, 2.0, 5.0), p(7.0, 6.0, 2.0)], "collinear-points");
        let far: Vec<Point> =
            (0..9).map(|i| p(4.5e9 + 300.0 * f64::from(i), 4.5e9 - 200.0 * f64::from(i), 1.0)).collect();
        refused(&far, "collinear-points");
    }

    #[test]
    fn the_line_between_narrow_and_collinear_is_a_millionth() {
        // Two rows of three, `wide` apart over 1000 long: singular values √6·wide/2 and 1000.
        let rows = |wide: f64| -> Vec<Point> {
            (0..6).map(|i| Point::mm(f64::from(i % 3) * 500.0, f64::from(i / 3) * wide, f64::from(i))).collect()
        };
        let ratio = |wide: f64| 6f64.sqrt() / 2.0 * wide / 1000.0;
        assert!(best_fit(&rows(1.01e-3 / ratio(1.0) * 1e-3)).is_ok());
        assert_eq!(best_fit(&rows(0.99e-3 / ratio(1.0) * 1e-3)), Err(PlaneError::CollinearPoints));
    }

    #[test]
    fn a_reading_without_uncertainty_is_refused() {
        let three = [Point::mm(0.0, 0.0, 0.0), Point::mm(1.0, 0.0, 0.0), Point::mm(0.0, 1.0, 0.0)];
        for sd in [0.0, -1.0] {
            assert_eq!(fit(&three, Length::mm(sd), Estimator::LeastSquares), Err(PlaneError::NoUncertainty));
        }
    }

    /// Slopes of planes with exactly known coefficients in layouts from square to a hundred thousand times longer.
    #[test]
    fn slopes_to_twelve_digits_whatever_the_layout_and_the_map() {
        let check = |offset: f64, wide: f64, turned: bool| {
            let points: Vec<Point> = (0..60)
                .map(|i| {
                    // Binary fractions: every coordinate and height is exact.
                    let (u, v) = (f64::from(i % 10) * 512.0, f64::from(i / 10) * wide);
                    let (x, y) = if turned { (u + v, u - v) } else { (u, v) };
                    Point::mm(offset + x, offset + y, 1024.0 + x / 64.0 - y / 128.0)
                })
                .collect();
            let plane = best_fit(&points).expect("a plane");
            assert!((plane.slope_x.to_ratio() - 1.0 / 64.0).abs() < 1e-14, "{offset} {wide} {plane:?}");
            assert!((plane.slope_y.to_ratio() + 1.0 / 128.0).abs() < 1e-14, "{offset} {wide} {plane:?}");
        };
        for offset in [0.0, 4096.0, 4.5e9] {
            for wide in [512.0, 16.0, 1.0, 0.0625] {
                check(offset, wide, false);
                check(offset, wide, true);
            }
        }
    }

    #[test]
    fn a_million_readings_in_scan_order_fit_as_well_as_a_few() {
        let points: Vec<Point> = (0..1_000_000u32)
            .map(|i| {
                let (x, y) = (f64::from(i % 1000) * 4.0, f64::from(i / 1000) * 4.0);
                Point::mm(4.5e9 + x, 4.5e9 + y, x / 64.0 - y / 128.0 + f64::from(i % 2))
            })
            .collect();
        let plane = best_fit(&points).expect("a plane");
        // The alternating half millimetre leans on x by the covariance of x and i mod 2: 3/(n² − 1) per column step.
        let lean = 3.0 / (1000.0 * 1000.0 - 1.0) / 4.0;
        assert!((plane.slope_x.to_ratio() - 1.0 / 64.0 - lean).abs() < 1e-15, "{plane:?}");
        assert!((plane.slope_y.to_ratio() + 1.0 / 128.0).abs() < 1e-15, "{plane:?}");
    }

    #[test]
    fn the_normal_points_up_and_the_height_follows_the_slopes() {
        let at = PlanPosition { x: Length::mm(100.0), y: Length::mm(0.0) };
        let slope = Slope::ratio;
        let plane = Plane { at, height: Length::mm(5.0), slope_x: slope(0.75), slope_y: slope(0.0) };
        assert_eq!(plane.normal().map(Ratio::to_f64), [-0.6, -0.0, 0.8]);
        assert_eq!(plane.height_at(PlanPosition { x: Length::mm(104.0), y: Length::mm(9.0) }), Length::mm(8.0));
        assert_eq!(plane.steepest(), slope(0.75));
    }

    prop_compose! {
        fn floor()(heights in proptest::collection::vec(-20.0..20.0f64, 9..40), dx in -3.0..3.0f64) -> Vec<Point> {
            let place = |i: usize| ((i % 5) as f64 * 300.0 + dx * (i as f64).sin(), (i / 5) as f64 * 250.0);
            heights.iter().enumerate().map(|(i, &z)| Point::mm(place(i).0, place(i).1, z)).collect()
        }
    }

    proptest! {
        #[test]
        fn tilting_the_floor_tilts_the_plane_and_leaves_the_residuals(floor in floor(), a in -0.1..0.1f64, b in -0.1..0.1f64) {
            let tilted: Vec<Point> = floor
                .iter()
                .map(|p| Point { z: p.z + Slope::ratio(a).times(p.x) + Slope::ratio(b).times(p.y), ..*p })
                .collect();
            for estimator in [Estimator::LeastSquares, Estimator::Huber] {
                let before = fit(&floor, Length::mm(2.0), estimator).expect("a plane").value;
                let after = fit(&tilted, Length::mm(2.0), estimator).expect("a plane").value;
                prop_assert!((after.plane.slope_x - before.plane.slope_x).to_ratio() - a < 1e-9);
                for (v, w) in before.residuals.iter().zip(&after.residuals) {
                    prop_assert!((*v - *w).abs().to_mm() < 1e-7, "{estimator:?}");
                }
            }
        }

        #[test]
        fn the_order_of_the_readings_is_of_no_account(floor in floor()) {
            let turned: Vec<Point> = floor.iter().rev().copied().collect();
            for estimator in [Estimator::LeastSquares, Estimator::Huber, Estimator::Orthogonal] {
                let (a, b) = (fit(&floor, Length::mm(2.0), estimator), fit(&turned, Length::mm(2.0), estimator));
                let (a, b) = (a.expect("a plane").value, b.expect("a plane").value);
                prop_assert!((a.plane.slope_x - b.plane.slope_x).abs().to_ratio() < 1e-12);
                prop_assert!((a.rss - b.rss).abs().to_mm2() < 1e-6);
            }
        }

        #[test]
        fn nothing_panics(coordinates in proptest::collection::vec(proptest::num::f64::ANY, 0..40)) {
            let points: Vec<Point> = coordinates.chunks_exact(3).map(|c| Point::mm(c[0], c[1], c[2])).collect();
            for estimator in [Estimator::LeastSquares, Estimator::Huber, Estimator::Orthogonal] {
                let _ = fit(&points, Length::mm(0.5), estimator);
            }
        }
    }
}
