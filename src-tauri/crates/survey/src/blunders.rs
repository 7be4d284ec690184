//! Readings that do not belong: misread, mistyped, or taken at the wrong place.

use crate::normal;
use crate::plane::{self, Estimator, Fit, PlaneError};
use crate::units::{Length, Probability, Ratio};
use crate::{Analysis, Point};

/// The chance with which the smallest detectable error is in fact detected.
const POWER: f64 = 0.8;
/// No reading is removed unless more than this many are left.
const LEAST: usize = 4;

/// What a search for blunders found.
#[derive(Debug, Clone, PartialEq)]
pub struct Blunders {
    /// The w beyond which a reading is suspect.
    pub critical: Ratio,
    /// The readings removed, in the order of removal, by their index in the input.
    pub removed: Vec<usize>,
    /// The w of each when it was removed.
    pub w_at_removal: Vec<Ratio>,
    /// For every reading of the full set, the error that would be found four times in five; `None` where nothing
    /// checks the reading.
    pub smallest_detectable: Vec<Option<Length>>,
    /// The input indices of the readings that were kept, rising.
    pub kept: Vec<usize>,
    /// The plane through them.
    pub plane: Fit,
}

/// The readings that a plane through the others does not bear out, removed one at a time: indices, in order of removal.
///
/// The reading of largest |w| goes while it exceeds the critical value and more than four are left; the plane is fitted
/// anew each time. A true hump looks like a blunder: read again before believing either.
///
/// # Units
/// w is in standard deviations; `smallest_detectable` a length.
///
/// # Uncertainty
/// `reading_sd` is the standard deviation of one height. `significance` is the chance that one good reading is called a
/// blunder.
///
/// # Problems reported
/// As [`plane::fit`], on the full set.
///
/// # Errors
/// As [`plane::fit`].
///
/// # Source
/// Data snooping, Baarda 1968 (recalled, not read): critical value Φ⁻¹(1 − α/2), detectable error
/// (Φ⁻¹(1 − α/2) + Φ⁻¹(0.8))·σ/√redundancy.
///
/// ```
/// use survey::units::{Length, Probability};
/// use survey::{Point, blunders};
///
/// // A flat floor read on a 4 × 3 grid; reading 5 was mistyped by an inch.
/// let floor: Vec<Point> = (0..12)
///     .map(|i| Point::mm(f64::from(i % 4) * 300.0, f64::from(i / 4) * 300.0, if i == 5 { 25.4 } else { 0.0 }))
///     .collect();
/// let found = blunders::blunders(&floor, Length::mm(0.8), Probability::of(0.001))?.value;
/// assert_eq!(found.removed, [5]);
/// assert!((found.critical.to_f64() - 3.2905).abs() < 1e-4);
/// # Ok::<(), survey::plane::PlaneError>(())
/// ```
pub fn blunders(
    points: &[Point],
    reading_sd: Length,
    significance: Probability,
) -> Result<Analysis<Blunders>, PlaneError> {
    let Analysis { value: full, problems } = plane::fit(points, reading_sd, Estimator::LeastSquares)?;
    let critical = -normal::quantile(significance.to_f64() / 2.0);
    let mut found = Blunders {
        critical: Ratio::of(critical),
        removed: Vec::new(),
        w_at_removal: Vec::new(),
        smallest_detectable: smallest_detectable(&full, points.len(), critical),
        kept: (0..points.len()).collect(),
        plane: full,
    };
    while let Some((place, w)) = suspect(&found.plane).filter(|(_, w)| w.abs().to_f64() > critical) {
        if found.kept.len() <= LEAST || !found.remove(place, w, points) {
            break;
        }
    }
    Ok(Analysis { value: found, problems })
}

impl Blunders {
    /// Takes out the kept reading at `place`; false, and nothing done, where the rest would span no plane.
    fn remove(&mut self, place: usize, w: Ratio, points: &[Point]) -> bool {
        let mut kept = self.kept.clone();
        let index = kept.remove(place);
        let rest: Vec<Point> = kept.iter().filter_map(|&index| points.get(index).copied()).collect();
        let Ok(fit) = plane::fit(&rest, self.plane.reading_sd(), Estimator::LeastSquares) else { return false };
        self.removed.push(index);
        self.w_at_removal.push(w);
        (self.kept, self.plane) = (kept, fit.value);
        true
    }
}

/// Two that differ by less are equal but for rounding.
const EQUAL: f64 = 1.0 + 1e-9;

/// The place and w of the reading that stands out most; the first of equals.
fn suspect(fit: &Fit) -> Option<(usize, Ratio)> {
    let all = fit.w.as_ref()?.iter().copied().enumerate();
    all.reduce(|most, next| if next.1.abs() > most.1.abs() * EQUAL { next } else { most })
}

fn smallest_detectable(fit: &Fit, count: usize, critical: f64) -> Vec<Option<Length>> {
    let Some(redundancy) = &fit.redundancy else { return vec![None; count] };
    let scale = critical + normal::quantile(POWER);
    let of = |r: &Ratio| plane::is_checked(*r).then(|| fit.reading_sd() * (scale / r.to_f64().sqrt()));
    redundancy.iter().map(of).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use rand::SeedableRng;
    use rand_chacha::ChaCha8Rng;
    use rand_distr::{Distribution, StandardNormal};

    fn grid(z: impl Fn(u32) -> f64) -> Vec<Point> {
        (0..24).map(|i| Point::mm(f64::from(i % 6) * 300.0, f64::from(i / 6) * 300.0, z(i))).collect()
    }

    fn search(points: &[Point]) -> Blunders {
        blunders(points, Length::mm(0.5), Probability::of(0.001)).expect("a plane").value
    }

    #[test]
    fn two_blunders_are_removed_the_worse_first() {
        let found = search(&grid(|i| {
            if i == 7 {
                12.0
            } else if i == 20 {
                -25.4
            } else {
                0.01 * f64::from(i)
            }
        }));
        assert_eq!(found.removed, [20, 7]);
        assert_eq!(found.w_at_removal.len(), 2);
        assert!(found.w_at_removal[0].to_f64() < -30.0 && found.w_at_removal[1].to_f64() > 20.0);
        assert_eq!((found.kept.len(), found.plane.residuals.len()), (22, 22));
        assert!(!found.kept.contains(&7) && !found.kept.contains(&20));
    }

    #[test]
    fn four_readings_are_never_thinned() {
        let all = grid(|i| if i == 0 { 50.0 } else { 0.0 });
        let four: Vec<Point> = [0, 5, 18, 23].map(|i| all[i]).into();
        assert_eq!((four.len(), search(&four).removed), (4, vec![]));
    }

    #[test]
    fn three_readings_have_nothing_to_find() {
        let three = [Point::mm(0.0, 0.0, 0.0), Point::mm(1.0, 0.0, 9.0), Point::mm(0.0, 1.0, 0.0)];
        let found = search(&three);
        assert_eq!((found.removed, found.smallest_detectable), (vec![], vec![None; 3]));
    }

    #[test]
    fn the_rest_is_never_left_without_a_plane() {
        // A row of six and one reading aside: nothing checks the one, and it stays whatever it says.
        let mut points: Vec<Point> = (0..6).map(|i| Point::mm(f64::from(i), 0.0, f64::from(i * i % 5) * 9.0)).collect();
        points.push(Point::mm(0.0, 5.0, 80.0));
        let found = search(&points);
        assert!(!found.removed.contains(&6));
        assert_eq!(found.smallest_detectable[6], None);
    }

    /// By simulation: one error of the smallest detectable size is found with the power stated; good readings are
    /// suspected no oftener than the significance says.
    #[test]
    fn power_and_false_alarms_are_as_stated() {
        let mut source = ChaCha8Rng::seed_from_u64(1);
        let mut noise = || -> f64 { StandardNormal.sample(&mut source) };
        let smallest: Vec<f64> =
            search(&grid(|_| 0.0)).smallest_detectable.iter().map(|d| d.expect("checked").to_mm()).collect();
        let (rounds, mut found, mut alarms) = (2_000, 0, 0);
        for round in 0..rounds {
            let wild = round % 24;
            let mut points = grid(|_| 0.0);
            points.iter_mut().for_each(|point| point.z = Length::mm(0.5 * noise()));
            let w = |points: &[Point]| {
                let fit = plane::fit(points, Length::mm(0.5), Estimator::LeastSquares).expect("a plane").value;
                fit.w.expect("redundant")[wild].abs().to_f64()
            };
            alarms += usize::from(w(&points) > 3.290_527);
            points[wild].z += Length::mm(smallest[wild]);
            found += usize::from(w(&points) > 3.290_527);
        }
        // 0.8 ± four standard errors of 0.009; 0.001 of 2,000 is 2 expected.
        assert!((found as f64 / f64::from(rounds as u32) - 0.8).abs() < 0.036, "{found}");
        assert!(alarms <= 8, "{alarms}");
    }
}
