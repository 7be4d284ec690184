//! F-numbers of a floor: flatness and levelness from lines of equally spaced readings.

use crate::units::{Length, Probability, Ratio};
use crate::{Analysis, Problem, ProblemKind};
use statrs::distribution::{ChiSquared, ContinuousCDF};
use std::fmt;

/// 4.57 in and 12.5 in.
const FLATNESS: f64 = 116.078;
const LEVELNESS: f64 = 317.5;
/// The spacings that count as one foot, in mm.
const SPACINGS: (f64, f64) = (300.0, 305.0);
/// Spacings between the two readings of a levelness difference.
const TEN: usize = 10;
/// A spread and mean below this, in mm, leave the figure without a bound.
const NOTHING: f64 = 1e-6;

/// One F-number and what it rests on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FNumber {
    /// `None` where the readings show no departure at all: the figure has no bound.
    pub f: Option<Ratio>,
    pub mean: Length,
    /// Standard deviation with n − 1.
    pub s: Length,
    /// How many differences were pooled.
    pub n: usize,
    /// Where the figure may lie at the confidence asked for.
    pub interval: Option<[Ratio; 2]>,
    /// The figure that the readings' own scatter would show on a perfect floor.
    pub noise_ceiling: Option<Ratio>,
    /// The figure with that scatter taken out; `None` where nothing would be left.
    pub noise_corrected: Option<Ratio>,
}

/// The F-numbers of a set of lines.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FNumbers {
    /// `None` with fewer than two curvatures.
    pub flatness: Option<FNumber>,
    /// `None` with fewer than two differences over ten spacings.
    pub levelness: Option<FNumber>,
}

/// Why there are no F-numbers.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NoFNumbers {
    /// No line has three readings in a row.
    TooFewPoints,
    /// The spacing is not a foot: 300 to 305 mm.
    SpacingNotAccepted,
}

impl NoFNumbers {
    /// The name used on every wire: `too-few-points`.
    pub fn name(self) -> &'static str {
        match self {
            Self::TooFewPoints => "too-few-points",
            Self::SpacingNotAccepted => "spacing-not-accepted",
        }
    }
}

impl fmt::Display for NoFNumbers {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::TooFewPoints => "an F-number needs a line with at least three readings in a row",
            Self::SpacingNotAccepted => "F-numbers are defined for readings a foot apart: 300 to 305 mm",
        })
    }
}

impl std::error::Error for NoFNumbers {}

/// Curvatures of a line, in order: h(i) − 2·h(i−1) + h(i−2), positive in a trough.
///
/// # Source
/// ASTM E1155, symbols (read in a stored copy of the 1996 text).
pub fn curvatures(line: &[Length]) -> Vec<Length> {
    line.windows(3).filter_map(|three| Some(*three.first()? - *three.get(1)? * 2.0 + *three.get(2)?)).collect()
}

/// Differences over ten spacings of a line, in order.
fn over_ten(line: &[Length]) -> Vec<Length> {
    line.iter().zip(line.iter().skip(TEN)).map(|(from, to)| *to - *from).collect()
}

/// One F-number for several parts of a floor, each with the number of differences it rests on; none without parts.
///
/// # Source
/// ASTM E1155: 1/F² is the mean of the parts' 1/F², weighted by their readings (recalled, not read).
///
/// ```
/// use survey::f_numbers::combined;
/// use survey::units::Ratio;
///
/// let both = combined(&[(Ratio::of(20.0), 50), (Ratio::of(40.0), 50)]).unwrap();
/// assert!((both.to_f64() - 25.298).abs() < 5e-4);
/// ```
pub fn combined(parts: &[(Ratio, usize)]) -> Option<Ratio> {
    let readings: f64 = parts.iter().map(|(_, n)| *n as f64).sum();
    let inverse: f64 = parts.iter().map(|(f, n)| *n as f64 / f.to_f64().powi(2)).sum();
    let sound = parts.iter().all(|(f, _)| *f > Ratio::ZERO) && readings > 0.0;
    sound.then(|| Ratio::of((readings / inverse).sqrt()))
}

/// The F-numbers of lines of readings a foot apart; all lines pooled. A missing reading splits its line.
///
/// An indication only: a bathroom is far below the standard's least area.
///
/// # Units
/// Readings and spacing in millimetres; an F-number is a plain number, larger where the floor is flatter.
///
/// # Uncertainty
/// `interval` is that of the standard deviation alone (chi-square, the mean held, differences taken as independent,
/// which is optimistic). With `reading_sd` the ceiling that noise sets stands beside it.
///
/// # Problems reported
/// `unbounded` where neither spread nor mean is left.
///
/// # Errors
/// No three readings in a row; a spacing that is not a foot.
///
/// # Source
/// ASTM E1155: FF = 4.57 in/(3·s + |mean|) of the curvatures, FL = 12.5 in/(3·s + |mean|) of the differences over ten
/// feet (constants recalled, not read).
///
/// ```
/// use survey::f_numbers::f_numbers;
/// use survey::units::{Length, Probability};
///
/// // A floor sloped 1/4 in per ft: no curvature, and a levelness of 5.
/// let line: Vec<Option<Length>> = (0..14).map(|ft| Some(Length::inches(0.25 * f64::from(ft)))).collect();
/// let found = f_numbers(&[line], Length::inches(12.0), None, Probability::of(0.9))?;
/// let level = found.value.levelness.and_then(|level| level.f).expect("differences over ten feet");
/// assert!((level.to_f64() - 5.0).abs() < 1e-12);
/// # Ok::<(), survey::f_numbers::NoFNumbers>(())
/// ```
pub fn f_numbers(
    lines: &[Vec<Option<Length>>],
    spacing: Length,
    reading_sd: Option<Length>,
    confidence: Probability,
) -> Result<Analysis<FNumbers>, NoFNumbers> {
    if !spacing.at_least(Length::mm(SPACINGS.0)) || !spacing.at_most(Length::mm(SPACINGS.1)) {
        return Err(NoFNumbers::SpacingNotAccepted);
    }
    let runs: Vec<Vec<Length>> = lines.iter().flat_map(|line| runs(line)).collect();
    if runs.iter().all(|run| run.len() < 3) {
        return Err(NoFNumbers::TooFewPoints);
    }
    let sd = reading_sd.map(Length::to_mm);
    let pooled = |differences: fn(&[Length]) -> Vec<Length>| -> Vec<f64> {
        runs.iter().flat_map(|run| differences(run)).map(Length::to_mm).collect()
    };
    let flatness = Kind { constant: FLATNESS, readings: 6.0 }.of(&pooled(curvatures), sd, confidence);
    let levelness = Kind { constant: LEVELNESS, readings: 2.0 }.of(&pooled(over_ten), sd, confidence);
    let named = [("FF", flatness), ("FL", levelness)];
    let unbounded = named.iter().filter(|(_, number)| number.is_some_and(|number| number.f.is_none()));
    let problems = unbounded.map(|(name, _)| without_bound(name)).collect();
    Ok(Analysis { value: FNumbers { flatness, levelness }, problems })
}

/// The unbroken parts of a line.
fn runs(line: &[Option<Length>]) -> Vec<Vec<Length>> {
    line.split(Option::is_none).map(|run| run.iter().flatten().copied().collect()).collect()
}

fn without_bound(name: &str) -> Problem {
    let message = format!("{name} has no upper bound: these readings show no departure at all.");
    Problem::at(ProblemKind::Unbounded, name, message)
}

/// What one kind of F-number is made of.
struct Kind {
    constant: f64,
    /// The squared weights of the readings in one difference, summed.
    readings: f64,
}

impl Kind {
    /// The figure of pooled differences in mm.
    fn of(&self, differences: &[f64], sd: Option<f64>, confidence: Probability) -> Option<FNumber> {
        if differences.len() < 2 {
            return None;
        }
        let n = differences.len() as f64;
        let mean = differences.iter().sum::<f64>() / n;
        let s = (differences.iter().map(|d| (d - mean) * (d - mean)).sum::<f64>() / (n - 1.0)).sqrt();
        let noise = sd.map(|sd| self.readings * sd * sd);
        let quiet = noise.map(|noise| s * s - noise).filter(|left| *left > 0.0);
        let bounds =
            spread_bounds(n - 1.0, confidence).map(|bounds| bounds.map(|factor| self.figure(s * factor, mean)));
        Some(FNumber {
            f: self.figure(s, mean),
            mean: Length::mm(mean),
            s: Length::mm(s),
            n: differences.len(),
            interval: bounds.and_then(|[low, high]| Some([low?, high?])),
            noise_ceiling: noise.and_then(|noise| self.figure(noise.sqrt(), 0.0)),
            noise_corrected: quiet.and_then(|left| self.figure(left.sqrt(), mean)),
        })
    }

    fn figure(&self, s: f64, mean: f64) -> Option<Ratio> {
        let departure = 3.0 * s + mean.abs();
        (departure >= NOTHING).then(|| Ratio::of(self.constant / departure))
    }
}

/// The factors on a standard deviation of `dof` degrees of freedom, upper first: √(dof/χ²) at either tail.
fn spread_bounds(dof: f64, confidence: Probability) -> Option<[f64; 2]> {
    let tail = (1.0 - confidence.to_f64()) / 2.0;
    let chi = ChiSquared::new(dof).ok().filter(|_| tail > 0.0 && tail < 0.5)?;
    Some([tail, 1.0 - tail].map(|share| (dof / chi.inverse_cdf(share)).sqrt()))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn line(heights: &[f64]) -> Vec<Option<Length>> {
        heights.iter().map(|&z| Some(Length::mm(z))).collect()
    }

    fn found(lines: &[Vec<Option<Length>>], sd: Option<f64>) -> Analysis<FNumbers> {
        f_numbers(lines, Length::mm(304.8), sd.map(Length::mm), Probability::of(0.9)).expect("readings in a row")
    }

    #[test]
    fn spacing_and_number_are_refused_by_kind() {
        let three = [line(&[0.0, 1.0, 0.0])];
        let of = |lines: &[Vec<Option<Length>>], mm| f_numbers(lines, Length::mm(mm), None, Probability::of(0.9));
        for accepted in [300.0, 304.8, 305.0] {
            assert!(of(&three, accepted).is_ok());
        }
        for refused in [0.0, 299.9, 305.1, 600.0] {
            assert_eq!(of(&three, refused), Err(NoFNumbers::SpacingNotAccepted));
        }
        assert_eq!(of(&[line(&[0.0, 1.0])], 304.8), Err(NoFNumbers::TooFewPoints));
        assert_eq!(of(&[], 304.8), Err(NoFNumbers::TooFewPoints));
    }

    #[test]
    fn a_missing_reading_splits_its_line() {
        let whole: Vec<f64> = (0..12).map(|i| f64::from(i * i % 7)).collect();
        let mut broken = line(&whole);
        broken[4] = None;
        let split = found(&[broken], None).value;
        let parts = found(&[line(&whole[..4]), line(&whole[5..])], None).value;
        assert_eq!(split, parts);
        assert_eq!((split.flatness.expect("curvatures").n, split.levelness), (7, None));
    }

    #[test]
    fn levelness_needs_more_than_ten_readings_a_line() {
        let heights: Vec<f64> = (0..12).map(|i| f64::from(i * i % 7)).collect();
        assert_eq!(found(&[line(&heights[..10]), line(&heights[..10])], None).value.levelness, None);
        assert_eq!(found(&[line(&heights), line(&heights[..11])], None).value.levelness.expect("three").n, 3);
    }

    #[test]
    fn no_departure_has_no_bound() {
        let level = found(&[line(&[3.0; 14])], Some(0.5));
        let said: Vec<_> = level.problems.iter().map(|p| (p.kind.name(), p.at.as_deref())).collect();
        assert_eq!(said, [("unbounded", Some("FF")), ("unbounded", Some("FL"))]);
        let flat = level.value.flatness.expect("curvatures");
        assert_eq!((flat.f, flat.interval, flat.noise_corrected, flat.n), (None, None, None, 12));
    }

    /// Ceilings of algorithms worked out: FF ≤ 4.57/(3√6 σ), FL ≤ 12.5/(3√2 σ), in inches.
    #[test]
    fn noise_sets_a_ceiling_and_is_taken_out() {
        let heights: Vec<f64> = (0..40).map(|i| 3.0 * f64::from(i * i % 7)).collect();
        for (sd, ceiling) in [(0.3, 53.0), (0.5, 32.0), (1.0, 16.0), (1.5, 10.5)] {
            let flat = found(&[line(&heights)], Some(sd)).value.flatness.expect("curvatures");
            assert!((flat.noise_ceiling.expect("a ceiling").to_f64() - ceiling).abs() < 0.5, "{sd}");
            let left = (flat.s.to_mm().powi(2) - 6.0 * sd * sd).sqrt();
            let corrected = FLATNESS / (3.0 * left + flat.mean.to_mm().abs());
            assert!((flat.noise_corrected.expect("something left").to_f64() - corrected).abs() < 1e-9);
        }
        let drowned = found(&[line(&heights)], Some(50.0)).value.flatness.expect("curvatures");
        assert_eq!(drowned.noise_corrected, None);
    }

    #[test]
    fn the_interval_is_that_of_the_standard_deviation() {
        // scipy.stats.chi2.ppf(0.05, 9) = 3.325112843, ppf(0.95, 9) = 16.918977605.
        let [low, high] = spread_bounds(9.0, Probability::of(0.9)).expect("bounds");
        assert!((low - (9.0f64 / 3.325_112_843_066_815).sqrt()).abs() < 1e-9, "{low}");
        assert!((high - (9.0f64 / 16.918_977_604_620_45).sqrt()).abs() < 1e-9, "{high}");
        let heights: Vec<f64> = (0..12).map(|i| f64::from(i * i % 7)).collect();
        let flat = found(&[line(&heights)], None).value.flatness.expect("curvatures");
        let [low, high] = flat.interval.expect("an interval");
        assert!(low < flat.f.expect("bounded") && flat.f.expect("bounded") < high);
    }
}
