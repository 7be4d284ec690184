//! Whether a way of reading can decide a limit at all, and what would.

use crate::normal;
use crate::straightedge::NoiseAlone;
use crate::units::{Length, Ratio};

/// What a way of reading can do about a limit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Decidable {
    /// Whether a perfect floor read this way is found within the limit 19 times in 20.
    pub decides: bool,
    /// The largest standard deviation of a reading that would.
    pub largest_sd: Length,
    /// How often each place must be read, and the mean taken, until it does.
    pub readings_each: Option<u64>,
}

/// Whether readings of this standard deviation can show that a floor keeps to a limit under a straightedge.
///
/// A perfect floor must be found within it 19 times in 20: what noise alone shows one time in twenty, and the guard of
/// one gap on top, must stay under the limit. Where they do not, readings of this kind can only ever say *out* or *too
/// close to call*: say so before the first one is taken.
///
/// # Units
/// Lengths. `alone` is what noise of a standard deviation of 1 mm shows at these places: see
/// [`noise_alone`](crate::straightedge::line::noise_alone).
///
/// # Uncertainty
/// Of the safe side: the guard is that of two readings' worth, a gap has a little less. Taking means does not help
/// against what is wrong with all readings alike.
///
/// # Source
/// Our own, from the rule for the largest of many gaps.
///
/// ```
/// use survey::decidable::decidable;
/// use survey::straightedge::{Definition, line};
/// use survey::units::Length;
///
/// let places: Vec<line::LinePoint> = (0..11).map(|i| line::LinePoint::mm(f64::from(i) * 304.8, 0.0)).collect();
/// let (bar, limit) = (Length::inches(120.0), Length::inches(0.125));
/// let alone = line::noise_alone(&places, bar, Definition::Supported, Length::mm(1.0), 1)?;
/// // A tape against a line cannot certify 1/8 in under ten feet; the mean of three readings can, and so can a gauge.
/// let tape = decidable(limit, Length::mm(0.8), &alone);
/// assert_eq!((tape.decides, tape.readings_each), (false, Some(3)));
/// assert!(decidable(limit, Length::mm(0.4), &alone).decides);
/// # Ok::<(), survey::straightedge::StraightedgeError>(())
/// ```
pub fn decidable(limit: Length, reading_sd: Length, alone: &NoiseAlone) -> Decidable {
    let shown = alone.p95.to_mm() - normal::quantile(0.05) * 2.0_f64.sqrt();
    let largest_sd = limit.max(Length::ZERO) / shown.max(f64::MIN_POSITIVE);
    let times = reading_sd.abs().ratio_to(largest_sd).to_f64().powi(2);
    let readings_each = (largest_sd > Length::ZERO).then(|| Ratio::of(times).to_f64().ceil().max(1.0) as u64);
    Decidable { decides: reading_sd.abs().at_most(largest_sd), largest_sd, readings_each }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_limit_of_nothing_is_decided_by_nothing() {
        let alone = NoiseAlone { mean: Length::mm(2.6), p95: Length::mm(3.9) };
        let found = decidable(Length::ZERO, Length::mm(0.3), &alone);
        assert_eq!((found.decides, found.largest_sd, found.readings_each), (false, Length::ZERO, None));
        let sure = decidable(Length::mm(3.0), Length::ZERO, &alone);
        assert_eq!((sure.decides, sure.readings_each), (true, Some(1)));
    }

    #[test]
    fn the_mean_of_as_many_as_it_says_decides() {
        let alone = NoiseAlone { mean: Length::mm(2.6), p95: Length::mm(3.9) };
        for sd in [0.1, 0.5, 0.9, 2.0] {
            let found = decidable(Length::mm(3.175), Length::mm(sd), &alone);
            let each = found.readings_each.expect("a limit") as f64;
            assert!(decidable(Length::mm(3.175), Length::mm(sd / each.sqrt()), &alone).decides, "{sd}");
        }
    }
}
