//! What noise alone shows under a straightedge.

use super::{Definition, Laid, LinePoint, StraightedgeError, largest};
use crate::straightedge::NoiseAlone;
use crate::units::Length;
use rand::SeedableRng;
use rand_chacha::ChaCha8Rng;
use rand_distr::{Distribution, StandardNormal};

/// Perfect floors drawn.
const DRAWS: usize = 10_000;

/// The gap a perfectly flat floor would show if read at the same places with the same instrument: mean, and what
/// one in twenty exceeds. Information only; the heights of `points` are not looked at.
///
/// # Units
/// Millimetres.
///
/// # Uncertainty
/// 10,000 seeded draws: the mean is good to about half a percent.
///
/// # Errors
/// As [`super::gap`]; a `reading_sd` below zero.
///
/// # Source
/// Monte Carlo of independent normal readings (JCGM 101; recalled, not read).
///
/// ```
/// use survey::straightedge::{Definition, line};
/// use survey::units::Length;
///
/// let places: Vec<line::LinePoint> = (0..11).map(|i| line::LinePoint::mm(f64::from(i) * 304.8, 0.0)).collect();
/// let noise = line::noise_alone(&places, Length::inches(120.0), Definition::Supported, Length::mm(0.5), 1)?;
/// assert!((noise.mean.to_mm() - 2.6 * 0.5).abs() < 0.05);
/// # Ok::<(), survey::straightedge::StraightedgeError>(())
/// ```
pub fn noise_alone(
    points: &[LinePoint],
    length: Length,
    definition: Definition,
    reading_sd: Length,
    seed: u64,
) -> Result<NoiseAlone, StraightedgeError> {
    if reading_sd.to_mm() < 0.0 {
        return Err(StraightedgeError::NoUncertainty);
    }
    let laid = Laid::on(points, length)?;
    let reach = laid.reach();
    let sds: Vec<f64> = laid.profile.readings.iter().map(|readings| 1.0 / (readings.len() as f64).sqrt()).collect();
    let mut source = ChaCha8Rng::seed_from_u64(seed);
    let mut z = vec![0.0; sds.len()];
    let mut shown: Vec<f64> = (0..DRAWS)
        .map(|_| {
            for (height, sd) in z.iter_mut().zip(&sds) {
                let standard: f64 = StandardNormal.sample(&mut source);
                *height = sd * standard;
            }
            largest(&reach, &z, definition).gap.abs()
        })
        .collect();
    shown.sort_by(f64::total_cmp);
    let mean = shown.iter().sum::<f64>() / DRAWS as f64;
    let p95 = shown.get(DRAWS * 95 / 100 - 1).copied().unwrap_or(0.0);
    Ok(NoiseAlone { mean: reading_sd * mean, p95: reading_sd * p95 })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn places(count: u32) -> Vec<LinePoint> {
        (0..count).map(|i| LinePoint::mm(f64::from(i) * 304.8, 0.0)).collect()
    }

    #[test]
    fn it_grows_with_the_readings_and_scales_with_their_scatter() {
        let noise = |count, sd| {
            noise_alone(&places(count), Length::mm(1e5), Definition::Supported, Length::mm(sd), 1).expect("a line")
        };
        let (few, many) = (noise(11, 1.0), noise(21, 1.0));
        assert!(few.mean < many.mean && few.p95 < many.p95 && few.mean < few.p95);
        assert!((noise(11, 0.25).p95.to_mm() - 0.25 * few.p95.to_mm()).abs() < 1e-12);
        assert_eq!(noise(11, 0.0), NoiseAlone { mean: Length::ZERO, p95: Length::ZERO });
    }

    #[test]
    fn three_readings_have_a_known_distribution() {
        // One chord: the positive part of a normal of sd √1.5; its mean is √1.5/√(2π), its 95 % point 1.645·√1.5.
        let noise =
            noise_alone(&places(3), Length::mm(1e5), Definition::Supported, Length::mm(1.0), 7).expect("a line");
        assert!((noise.mean.to_mm() - 0.488_603).abs() < 4.0 * 0.0072, "{noise:?}");
        assert!((noise.p95.to_mm() - 2.014_526).abs() < 0.1, "{noise:?}");
    }

    #[test]
    fn a_seed_repeats_itself_and_another_differs() {
        let noise = |seed| noise_alone(&places(5), Length::mm(900.0), Definition::Supported, Length::mm(1.0), seed);
        assert_eq!(noise(1), noise(1));
        assert_ne!(noise(1), noise(2));
    }
}
