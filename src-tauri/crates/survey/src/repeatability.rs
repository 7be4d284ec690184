//! How closely a person reads: the same point read several times.

use crate::units::{Estimate, Length};
use statrs::distribution::{ChiSquared, ContinuousCDF};
use std::fmt;

/// Nineteen in twenty, shared between both sides.
const ASIDE: f64 = 0.025;

/// What repeated readings of one point say of one reading.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Repeatability {
    /// The mean and its standard uncertainty.
    pub mean: Estimate<Length>,
    /// The standard deviation of one reading.
    pub sd: Length,
    /// The standard deviation may be this small, or this large, nineteen times in twenty.
    pub sd_least: Length,
    pub sd_most: Length,
    /// The largest reading less the smallest.
    pub range: Length,
}

/// Fewer than two readings say nothing of how they scatter.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct TooFewReadings;

impl fmt::Display for TooFewReadings {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("read the same point at least twice, better five times")
    }
}

impl std::error::Error for TooFewReadings {}

/// The scatter of readings of one point, as a standard deviation and how well it is known.
///
/// # Units
/// Lengths.
///
/// # Uncertainty
/// The interval of the standard deviation is that of normal readings (chi-square, n − 1 degrees of freedom).
///
/// # Errors
/// Fewer than two readings.
///
/// # Source
/// Textbook statistics; limits checked against a published table (five readings: 0.5991 to 2.8736 times the figure).
///
/// ```
/// use survey::repeatability::repeatability;
/// use survey::units::Length;
/// let found = repeatability(&[1121.0, 1122.0, 1121.5, 1121.0, 1122.0].map(Length::mm)).unwrap();
/// assert!((found.mean.value.to_mm() - 1121.5).abs() < 1e-9);
/// assert!((found.sd.to_mm() - 0.5).abs() < 1e-9);
/// assert!((found.sd_most.to_mm() / 0.5 - 2.8736).abs() < 1e-4);
/// ```
pub fn repeatability(readings: &[Length]) -> Result<Repeatability, TooFewReadings> {
    let n = readings.len() as f64;
    if readings.len() < 2 {
        return Err(TooFewReadings);
    }
    let mm = || readings.iter().map(|reading| reading.to_mm());
    let mean = mm().sum::<f64>() / n;
    let sd = (mm().map(|value| (value - mean).powi(2)).sum::<f64>() / (n - 1.0)).sqrt();
    let (least, most) = (mm().fold(f64::INFINITY, f64::min), mm().fold(f64::NEG_INFINITY, f64::max));
    let limit = |share: f64| chi_square(n - 1.0, share).map_or(sd, |chi| sd * ((n - 1.0) / chi).sqrt());
    Ok(Repeatability {
        mean: Estimate::new(Length::mm(mean), Length::mm(sd / n.sqrt())),
        sd: Length::mm(sd),
        sd_least: Length::mm(limit(1.0 - ASIDE)),
        sd_most: Length::mm(limit(ASIDE)),
        range: Length::mm(most - least),
    })
}

fn chi_square(freedom: f64, share: f64) -> Option<f64> {
    Some(ChiSquared::new(freedom).ok()?.inverse_cdf(share))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Published limits on a standard deviation of 1 at 95 % two-sided, by the number of observations (the table in the
    /// documentation of a general-purpose C++ mathematics library).
    #[test]
    fn the_limits_are_those_of_the_published_table() {
        for (n, least, most) in [(2, 0.4461, 31.9102), (3, 0.5207, 6.2847), (5, 0.5991, 2.8736), (10, 0.6878, 1.8256)] {
            let readings: Vec<Length> = (0..n).map(|k| Length::mm(f64::from(k))).collect();
            let found = repeatability(&readings).expect("enough readings");
            let ratio = |limit: Length| limit.to_mm() / found.sd.to_mm();
            assert!((ratio(found.sd_least) - least).abs() < 6e-5, "{n}: {}", ratio(found.sd_least));
            assert!((ratio(found.sd_most) - most).abs() < 6e-5, "{n}: {}", ratio(found.sd_most));
        }
    }

    #[test]
    fn one_reading_says_nothing() {
        assert_eq!(repeatability(&[Length::mm(1.0)]), Err(TooFewReadings));
        let same = repeatability(&[Length::mm(3.0); 5]).expect("readings");
        assert_eq!((same.sd, same.range), (Length::ZERO, Length::ZERO));
    }
}
