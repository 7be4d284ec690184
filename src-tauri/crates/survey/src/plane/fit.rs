//! A plane with everything that says how far to trust it.

use super::moments::Moments;
use super::{Estimator, Plane, PlaneError, duplicates, huber, of_moments, orthogonal, settled};
use crate::units::{Area, Estimate, Length, Ratio, Slope};
use crate::{Analysis, PlanPosition, Point, Problem, ProblemKind};

/// Readings with a redundancy below this are not checked by any other.
const UNCHECKED: f64 = 1e-9;

/// Whether a reading of this redundancy is checked by the others at all.
pub(crate) fn is_checked(redundancy: Ratio) -> bool {
    redundancy.to_f64() >= UNCHECKED
}

/// A plane through readings, their residuals, and how well each is checked by the others.
#[derive(Debug, Clone, PartialEq)]
pub struct Fit {
    pub plane: Plane,
    pub estimator: Estimator,
    /// Reading minus plane, vertically, in the order of the readings.
    pub residuals: Vec<Length>,
    /// Sum of the squared residuals.
    pub rss: Area,
    /// Readings beyond the three a plane needs.
    pub dof: usize,
    /// Scatter of the residuals in reading standard deviations; `None` without redundancy.
    pub s0: Option<Ratio>,
    /// Share of an error in a reading that shows in its own residual, 0 to 1; `None` without redundancy or orthogonal.
    pub redundancy: Option<Vec<Ratio>>,
    /// Residuals in their own standard deviations, 0 where a reading is not checked; `None` as `redundancy`.
    pub w: Option<Vec<Ratio>>,
    reading_sd: Length,
    moments: Moments,
}

/// The plane through readings, with its uncertainty: height at the centroid and slopes, up positive.
///
/// Residuals are vertical with every estimator. Redundancies and w are those of the final weights with Huber.
///
/// # Units
/// Lengths in millimetres, slopes as rise over run; `rss` in mm².
///
/// # Uncertainty
/// `reading_sd` is the standard deviation of one height, the same for all; places on the plan are taken as exact.
///
/// # Problems reported
/// `duplicate-point` where two readings at one place differ (both are kept); `no-redundancy` with three readings.
///
/// # Errors
/// As [`super::best_fit`]; a plane on edge (orthogonal only); a `reading_sd` not above zero.
///
/// # Source
/// Ordinary least squares; w-test after Baarda 1968 (recalled, not read); Huber 1964, k = 1.345 (recalled, not read).
///
/// ```
/// use survey::units::Length;
/// use survey::{Point, plane};
///
/// // The 3 × 3 grid: the slopes are known to σ/√6 of a spacing, the centre to σ/3.
/// let grid: Vec<Point> = (0..9).map(|i| Point::mm(f64::from(i % 3), f64::from(i / 3), 0.0)).collect();
/// let fit = plane::fit(&grid, Length::mm(1.0), plane::Estimator::LeastSquares)?.value;
/// assert!((fit.slope_x().u.to_ratio() - 6f64.sqrt().recip()).abs() < 1e-15);
/// assert!((fit.height().u.to_mm() - 1.0 / 3.0).abs() < 1e-15);
/// # Ok::<(), plane::PlaneError>(())
/// ```
pub fn fit(points: &[Point], reading_sd: Length, estimator: Estimator) -> Result<Analysis<Fit>, PlaneError> {
    if reading_sd.to_mm() <= 0.0 {
        return Err(PlaneError::NoUncertainty);
    }
    let layout = settled(points)?;
    let sd = reading_sd.to_mm();
    let fit = match estimator {
        Estimator::LeastSquares => Fit::of(points, sd, estimator, layout, |_| 1.0),
        Estimator::Huber => {
            let (moments, weights) = huber::settle(points, sd, layout);
            Fit::of(points, sd, estimator, moments, |index| weights.get(index).copied().unwrap_or(1.0))
        }
        Estimator::Orthogonal => {
            let slope = orthogonal::slopes(points, &layout).ok_or(PlaneError::Upright)?;
            Fit::of(points, sd, estimator, Moments { slope, ..layout }, |_| 1.0)
        }
    };
    let mut problems = duplicates::duplicates(points);
    if fit.dof == 0 {
        problems.push(Problem::new(
            ProblemKind::NoRedundancy,
            "Three readings make a plane whatever they say: nothing checks them.",
        ));
    }
    Ok(Analysis { value: fit, problems })
}

impl Fit {
    fn of(points: &[Point], sd: f64, estimator: Estimator, moments: Moments, weight: impl Fn(usize) -> f64) -> Self {
        let dof = points.len().saturating_sub(3);
        let checked = dof > 0 && estimator != Estimator::Orthogonal;
        let Checks { residuals, redundancy, w } = Checks::of(points, &moments, weight, sd, checked);
        let rss = sum_of_squares(&residuals);
        let s0 = (dof > 0).then(|| Ratio::of((rss / dof as f64).sqrt() / sd));
        let plane = of_moments(&moments);
        let (rss, reading_sd) = (Area::mm2(rss), Length::mm(sd));
        let (redundancy, w) = (checked.then_some(redundancy), checked.then_some(w));
        Self { plane, estimator, residuals, rss, dof, s0, redundancy, w, reading_sd, moments }
    }

    /// The height of the plane at a place, with the uncertainty the readings leave it (a new reading adds its own).
    pub fn predict(&self, place: PlanPosition) -> Estimate<Length> {
        let [dx, dy, _] = self.moments.centred(&Point { x: place.x, y: place.y, z: Length::ZERO });
        let [q, r] = self.moments.unit(dx, dy);
        let height = self.plane.height.to_mm() + self.moments.slope[0] * dx + self.moments.slope[1] * dy;
        let share = (1.0 / self.moments.weight + q * q + r * r).sqrt();
        Estimate::new(Length::mm(height), self.reading_sd * share)
    }

    /// The height at the centroid, with its uncertainty.
    pub fn height(&self) -> Estimate<Length> {
        Estimate::new(self.plane.height, self.reading_sd / self.moments.weight.sqrt())
    }

    /// The rise along x, with its uncertainty.
    pub fn slope_x(&self) -> Estimate<Slope> {
        let Moments { across, shear, along, .. } = self.moments;
        let u = self.reading_sd.to_mm() * across.recip().hypot(shear / along);
        Estimate::new(self.plane.slope_x, Slope::ratio(u))
    }

    /// The rise along y, with its uncertainty.
    pub fn slope_y(&self) -> Estimate<Slope> {
        Estimate::new(self.plane.slope_y, Slope::ratio(self.reading_sd.to_mm() / self.moments.along))
    }

    /// The correlation of the two slopes; both are uncorrelated with the height at the centroid.
    pub fn slope_correlation(&self) -> Ratio {
        let Moments { across, shear, along, .. } = self.moments;
        Ratio::of(-(shear / along) / across.recip().hypot(shear / along))
    }

    /// The standard deviation of one reading the fit was made with.
    pub fn reading_sd(&self) -> Length {
        self.reading_sd
    }
}

/// Four sums side by side, so that none waits for the one before.
fn sum_of_squares(residuals: &[Length]) -> f64 {
    let (fours, rest) = residuals.as_chunks::<4>();
    let mut sums = [0.0; 4];
    for four in fours {
        for (sum, v) in sums.iter_mut().zip(four) {
            *sum += v.to_mm() * v.to_mm();
        }
    }
    sums.iter().sum::<f64>() + rest.iter().map(|v| v.to_mm() * v.to_mm()).sum::<f64>()
}

/// Each reading against the plane, in the order of the readings; redundancy and w are empty where nothing is checked.
struct Checks {
    residuals: Vec<Length>,
    redundancy: Vec<Ratio>,
    w: Vec<Ratio>,
}

impl Checks {
    fn of(points: &[Point], moments: &Moments, weight: impl Fn(usize) -> f64, sd: f64, checked: bool) -> Self {
        let room = if checked { points.len() } else { 0 };
        let mut residuals = vec![Length::ZERO; points.len()];
        let mut redundancy = vec![Ratio::ZERO; room];
        let mut w = vec![Ratio::ZERO; room];
        for (residual, point) in residuals.iter_mut().zip(points) {
            *residual = Length::mm(moments.residual(point));
        }
        let (mean, across, along) = (1.0 / moments.weight, 1.0 / moments.across, 1.0 / moments.along);
        for (index, (redundancy, point)) in redundancy.iter_mut().zip(points).enumerate() {
            let [dx, dy, _] = moments.centred(point);
            let (q, r) = (dx * across, (dy - moments.shear * dx) * along);
            *redundancy = Ratio::of((1.0 - weight(index) * (mean + q * q + r * r)).clamp(0.0, 1.0));
        }
        for ((w, residual), redundancy) in w.iter_mut().zip(&residuals).zip(&redundancy) {
            let own = sd * redundancy.to_f64().sqrt();
            *w = Ratio::of(if is_checked(*redundancy) { residual.to_mm() / own } else { 0.0 });
        }
        Self { residuals, redundancy, w }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn grid(z: impl Fn(f64, f64) -> f64) -> Vec<Point> {
        let at = |i: u32| (f64::from(i % 3) - 1.0, f64::from(i / 3) - 1.0);
        (0..9).map(|i| Point::mm(at(i).0, at(i).1, z(at(i).0, at(i).1))).collect()
    }

    #[test]
    fn redundancies_sum_to_the_degrees_of_freedom() {
        let points = grid(|x, y| x * y + 0.3 * x * x);
        for estimator in [Estimator::LeastSquares, Estimator::Huber] {
            let fit = fit(&points, Length::mm(0.1), estimator).expect("a plane").value;
            let sum: f64 = fit.redundancy.expect("redundant").iter().map(|r| r.to_f64()).sum();
            assert!((sum - 6.0).abs() < 1e-12, "{estimator:?} {sum}");
        }
    }

    #[test]
    fn three_readings_have_nothing_to_check_them() {
        let points = &grid(|x, y| x + 2.0 * y)[..4];
        let points = [points[0], points[1], points[3]];
        let found = fit(&points, Length::mm(2.0), Estimator::LeastSquares).expect("a plane");
        assert_eq!(found.problems.iter().map(|p| p.kind).collect::<Vec<_>>(), [ProblemKind::NoRedundancy]);
        let fit = found.value;
        assert_eq!((fit.dof, fit.s0, fit.redundancy.clone(), fit.w.clone()), (0, None, None, None));
        let corner = fit.predict(PlanPosition { x: points[0].x, y: points[0].y });
        assert!((corner.value.to_mm() + 3.0).abs() < 1e-12 && (corner.u.to_mm() - 2.0).abs() < 1e-12, "{corner:?}");
    }

    #[test]
    fn a_reading_nothing_else_checks_has_w_zero() {
        // Three at one place, three at a second, one alone at the third.
        let mut points: Vec<Point> = (0..3).map(|i| Point::mm(0.0, 0.0, f64::from(i))).collect();
        points.extend((0..3).map(|i| Point::mm(100.0, 0.0, f64::from(i))));
        points.push(Point::mm(0.0, 100.0, 50.0));
        let found = fit(&points, Length::mm(1.0), Estimator::LeastSquares).expect("a plane");
        let (redundancy, w) = (found.value.redundancy.expect("redundant"), found.value.w.expect("redundant"));
        assert!(redundancy[6].to_f64() < 1e-12);
        assert_eq!(w[6], Ratio::ZERO);
        assert_eq!(found.problems.len(), 4, "two at each of two places differ from the first");
    }

    #[test]
    fn the_covariance_predicts_as_the_prediction_says() {
        let points: Vec<Point> = (0..20).map(|i| Point::mm(f64::from(i * i % 17), f64::from(i % 7), 0.0)).collect();
        let fit = fit(&points, Length::mm(0.7), Estimator::LeastSquares).expect("a plane").value;
        let place = PlanPosition { x: Length::mm(31.0), y: Length::mm(-8.0) };
        let (dx, dy) = ((place.x - fit.plane.at.x).to_mm(), (place.y - fit.plane.at.y).to_mm());
        let (u, v, w) = (fit.height().u.to_mm(), fit.slope_x().u.to_ratio(), fit.slope_y().u.to_ratio());
        let square =
            u * u + (v * dx).powi(2) + (w * dy).powi(2) + 2.0 * fit.slope_correlation().to_f64() * v * w * dx * dy;
        assert!((fit.predict(place).u.to_mm() - square.sqrt()).abs() < 1e-12);
    }

    #[test]
    fn huber_meets_its_own_condition() {
        // Σ ψ(v) = Σ ψ(v)·x = Σ ψ(v)·y = 0 with ψ cut at 1.345 σ.
        let mut points = grid(|x, y| 0.2 * (7.0 * x + 3.0 * y).sin());
        points[4] = Point::mm(0.0, 0.0, 25.0);
        let fit = fit(&points, Length::mm(0.1), Estimator::Huber).expect("a plane").value;
        let pull = |v: &Length| v.to_mm().clamp(-0.1345, 0.1345);
        let total =
            |arm: fn(&Point) -> f64| -> f64 { points.iter().zip(&fit.residuals).map(|(p, v)| pull(v) * arm(p)).sum() };
        for arm in [|_: &Point| 1.0, |p: &Point| p.x.to_mm(), |p: &Point| p.y.to_mm()] {
            assert!(total(arm).abs() < 1e-11, "{}", total(arm));
        }
        assert!(fit.residuals[4].to_mm() > 24.0, "the wild reading stands out whole");
        assert!(fit.redundancy.expect("redundant")[4].to_f64() > 0.98);
    }

    #[test]
    fn huber_on_tame_readings_is_least_squares() {
        let points = grid(|x, y| 0.01 * x * y);
        let least = fit(&points, Length::mm(1.0), Estimator::LeastSquares).expect("a plane").value;
        let huber = fit(&points, Length::mm(1.0), Estimator::Huber).expect("a plane").value;
        assert_eq!(least.plane, huber.plane);
    }

    #[test]
    fn orthogonal_has_the_least_distances() {
        let points = grid(|x, y| 0.6 * x - 0.3 * y + 0.4 * x * y + 0.1 * (5.0 * x).cos());
        let fit = fit(&points, Length::mm(1.0), Estimator::Orthogonal).expect("a plane").value;
        assert_eq!((fit.redundancy.as_ref(), fit.w.as_ref()), (None, None));
        let (a, b) = (fit.plane.slope_x.to_ratio(), fit.plane.slope_y.to_ratio());
        let distances = |a: f64, b: f64| -> f64 {
            let height = fit.plane.height.to_mm();
            let off = |p: &Point| p.z.to_mm() - height - a * p.x.to_mm() - b * p.y.to_mm();
            points.iter().map(|p| off(p).powi(2)).sum::<f64>() / (1.0 + a * a + b * b)
        };
        for (da, db) in [(1e-4, 0.0), (-1e-4, 0.0), (0.0, 1e-4), (0.0, -1e-4)] {
            assert!(distances(a + da, b + db) > distances(a, b));
        }
    }

    #[test]
    fn a_plane_on_edge_is_refused() {
        let points: Vec<Point> =
            (0..6).map(|i| Point::mm(0.01 * f64::from(i % 2), f64::from(i % 3), 1e16 * f64::from(i - 2))).collect();
        assert!(fit(&points, Length::mm(1.0), Estimator::Orthogonal).is_err());
    }
}
