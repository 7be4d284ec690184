//! Whether a way of reading can decide a straightedge limit at all, said before the first reading.

use super::{LinePoint, noise_alone};
use crate::normal;
use crate::straightedge::{Definition, StraightedgeError};
use crate::units::Length;

/// The guard of a *within*: what 19 in 20 keep to.
const RISK: f64 = 0.05;

/// What decides a limit on one layout of points.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Decides {
    /// The largest standard deviation of a reading with which a perfect floor is still found within, 19 times in 20.
    pub needs_sd: Length,
    /// How many readings at each point bring `reading_sd` down to that.
    pub readings: usize,
}

/// What would decide `limit` under a bar of `length` on points laid out so, where one reading has `reading_sd`.
///
/// A perfect floor read this way shows a gap of its own, and a *within* wants the uncertainty of the worst chord on
/// top; both grow with the standard deviation of a reading, so one figure answers for all.
///
/// # Units
/// Lengths.
///
/// # Uncertainty
/// From 10,000 seeded draws: about one in a hundred.
///
/// # Errors
/// As [`super::gap`].
///
/// # Source
/// The rule for a maximum of this library, with the noise alone of a perfect floor; ours.
///
/// ```
/// use survey::straightedge::line::{LinePoint, decides};
/// use survey::units::Length;
/// // Eleven points a foot apart: a tape against a line (0.8 mm) does not decide 1/8 in in 10 ft, 0.5 mm does.
/// let points: Vec<LinePoint> = (0..11).map(|i| LinePoint::mm(304.8 * f64::from(i), 0.0)).collect();
/// let found = decides(&points, Length::inches(120.0), Length::inches(0.125), Length::mm(0.8))?;
/// assert!(found.needs_sd < Length::mm(0.8) && found.needs_sd > Length::mm(0.5));
/// assert_eq!(found.readings, 3);
/// # Ok::<(), survey::straightedge::StraightedgeError>(())
/// ```
pub fn decides(
    points: &[LinePoint],
    length: Length,
    limit: Length,
    reading_sd: Length,
) -> Result<Decides, StraightedgeError> {
    let noise = noise_alone(points, length, Definition::Supported, Length::mm(1.0), 1)?;
    // The chord that shows most lies over a reading about its middle: weights 1, 1/2, 1/2.
    let per_sd = noise.p95.to_mm() - normal::quantile(RISK) * 1.5_f64.sqrt();
    let needs_sd = limit / per_sd;
    let times = reading_sd.ratio_to(needs_sd).to_f64().powi(2);
    Ok(Decides { needs_sd, readings: if times.is_finite() { (times - 1e-9).ceil().max(1.0) as usize } else { 1 } })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::straightedge::line::{Tolerance, judge};
    use crate::verdict::{Decision, Verdict};
    use rand::SeedableRng;
    use rand_chacha::ChaCha8Rng;
    use rand_distr::{Distribution, Normal};

    /// Perfect floors read with the figure found are within 19 times in 20, and clearly less often with twice as much.
    #[test]
    fn perfect_floors_are_found_within() {
        let at = |i: u32| 304.8 * f64::from(i);
        let layout: Vec<LinePoint> = (0..9).map(|i| LinePoint::mm(at(i), 0.0)).collect();
        let (length, limit) = (Length::inches(96.0), Length::mm(3.175));
        let sd = decides(&layout, length, limit, Length::mm(1.0)).expect("a line").needs_sd;
        let within = |sd: Length| {
            let noise = Normal::new(0.0, sd.to_mm()).expect("a deviation");
            let mut source = ChaCha8Rng::seed_from_u64(7);
            let tolerance = Tolerance { limit, reading_sd: sd, bar_sd: Length::ZERO, decision: Decision::Guarded };
            let draws = (0..400).filter(|_| {
                let line: Vec<LinePoint> = (0..9).map(|i| LinePoint::mm(at(i), noise.sample(&mut source))).collect();
                judge(&line, length, Definition::Supported, tolerance).is_ok_and(|j| j.value.verdict == Verdict::Within)
            });
            draws.count()
        };
        assert!(within(sd) >= 360, "{} of 400", within(sd));
        assert!(within(sd * 2.0) <= 200, "{} of 400", within(sd * 2.0));
    }
}
