//! What a filled shower floor lost, beyond what the air took.

use crate::units::{Duration, Estimate, Length};

/// One look at the water: how far it has dropped since the test began, and how far it dropped in an open vessel
/// beside it, which only the air can lower.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Mark {
    /// Since the start.
    pub after: Duration,
    /// Down positive.
    pub drop: Length,
    /// Of the vessel beside it, down positive; none where none was set out.
    pub control: Option<Length>,
}

/// What a flood test came to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Loss {
    /// The drop over the whole time that was asked for, less what the vessel beside it lost. Without that vessel it
    /// still holds what evaporated.
    pub loss: Estimate<Length>,
    /// Whether evaporation is taken off.
    pub controlled: bool,
    /// How long was really looked at.
    pub lasted: Duration,
}

/// Why nothing can be said.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FloodError {
    /// The water was not looked at after the start.
    NoMark,
    /// Time, or the uncertainty of a mark, is not more than zero.
    OutOfRange,
}

/// The loss of a flooded floor over `asked`, from the straight line through all marks and the start.
///
/// # Units
/// Drops and loss are lengths of water, down positive, as a rule against the wall shows them.
///
/// # Uncertainty
/// Each drop is the difference of two readings of a rule, the first common to all. A line through the start's own
/// reading and the marks has the slope's uncertainty σ/√Σ(t − t̄)²; with the vessel beside it σ grows by √2.
///
/// # Source
/// The control vessel is common practice. The line is least squares (any textbook); a leak is taken as steady, which
/// understates one that has only begun.
///
/// ```
/// use survey::flood_test::{Mark, loss};
/// use survey::units::{Duration, Length};
///
/// let day = Duration::seconds(86_400.0);
/// let mark = Mark { after: day, drop: Length::mm(3.0), control: Some(Length::mm(2.5)) };
/// let found = loss(&[mark], Length::mm(0.5), day).unwrap();
/// assert!((found.loss.value.to_mm() - 0.5).abs() < 1e-9);
/// // Four readings of a rule: 0.5 · √4.
/// assert!((found.loss.u.to_mm() - 1.0).abs() < 1e-9);
/// ```
///
/// # Errors
/// [`FloodError`].
pub fn loss(marks: &[Mark], sd: Length, asked: Duration) -> Result<Loss, FloodError> {
    let (seconds, sd) = (asked.to_seconds(), sd.to_mm());
    let marks: Vec<&Mark> = marks.iter().filter(|mark| mark.after.to_seconds() > 0.0).collect();
    if marks.is_empty() {
        return Err(FloodError::NoMark);
    }
    if seconds <= 0.0 || sd <= 0.0 {
        return Err(FloodError::OutOfRange);
    }
    let controlled = marks.iter().all(|mark| mark.control.is_some());
    let net = |mark: &&Mark| {
        let air = if controlled { mark.control.unwrap_or(Length::ZERO) } else { Length::ZERO };
        (mark.after.to_seconds(), (mark.drop - air).to_mm())
    };
    let points: Vec<(f64, f64)> = std::iter::once((0.0, 0.0)).chain(marks.iter().map(net)).collect();
    let (slope, spread) = line(&points);
    let of_one = if controlled { sd * std::f64::consts::SQRT_2 } else { sd };
    let lasted = points.iter().map(|point| point.0).fold(0.0, f64::max);
    Ok(Loss {
        loss: Estimate::new(Length::mm(slope * seconds), Length::mm(of_one * seconds / spread.sqrt())),
        controlled,
        lasted: Duration::seconds(lasted),
    })
}

/// The slope of the line through points, and the sum of squares of their first coordinates about the mean.
fn line(points: &[(f64, f64)]) -> (f64, f64) {
    let n = points.len() as f64;
    let mean = |pick: fn(&(f64, f64)) -> f64| points.iter().map(pick).sum::<f64>() / n;
    let (x, y) = (mean(|point| point.0), mean(|point| point.1));
    let spread: f64 = points.iter().map(|point| (point.0 - x).powi(2)).sum();
    let joint: f64 = points.iter().map(|point| (point.0 - x) * (point.1 - y)).sum();
    if spread > 0.0 { (joint / spread, spread) } else { (0.0, f64::MIN_POSITIVE) }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn hours(hours: f64) -> Duration {
        Duration::seconds(hours * 3600.0)
    }

    fn mark(after: f64, drop: f64, control: Option<f64>) -> Mark {
        Mark { after: hours(after), drop: Length::mm(drop), control: control.map(Length::mm) }
    }

    #[test]
    fn evaporation_is_taken_off_where_it_was_looked_at() {
        let marks = [mark(12.0, 1.5, Some(1.0)), mark(24.0, 3.0, Some(2.0))];
        let found = loss(&marks, Length::mm(0.5), hours(24.0)).unwrap();
        assert!(found.controlled && (found.loss.value.to_mm() - 1.0).abs() < 1e-9);
        let open = loss(&[mark(12.0, 1.5, None), mark(24.0, 3.0, Some(2.0))], Length::mm(0.5), hours(24.0)).unwrap();
        assert!(!open.controlled && (open.loss.value.to_mm() - 3.0).abs() < 1e-9);
        assert_eq!(open.lasted, hours(24.0));
    }

    /// By the formula worked by hand: times 0, 12, 24 h, mean 12, Σ(t − t̄)² = 288 h², so u = 0.5·√2·24/√288 = 1.
    #[test]
    fn the_uncertainty_is_that_of_the_line() {
        let marks = [mark(12.0, 0.0, Some(0.0)), mark(24.0, 0.0, Some(0.0))];
        let found = loss(&marks, Length::mm(0.5), hours(24.0)).unwrap();
        assert!((found.loss.u.to_mm() - 1.0).abs() < 1e-9, "{:?}", found.loss);
        // A short look says little of a day: 15 minutes stretched to 24 hours.
        let short = loss(&[mark(0.25, 0.0, None)], Length::mm(0.5), hours(24.0)).unwrap();
        assert!(short.loss.u.to_mm() > 60.0);
    }

    /// By simulation: of 4,000 tests of a floor that loses 2 mm, the mean is right and the spread is the one stated.
    #[test]
    fn what_is_stated_is_what_happens() {
        use rand::SeedableRng;
        use rand_distr::{Distribution, Normal};
        let (mut random, normal) = (rand_chacha::ChaCha8Rng::seed_from_u64(7), Normal::new(0.0, 0.5).unwrap());
        let mut read = |truth: f64| truth + normal.sample(&mut random);
        let (mut sum, mut squares, n) = (0.0, 0.0, 4000);
        let mut stated = 0.0;
        for _ in 0..n {
            let (start, vessel) = (read(0.0), read(0.0));
            let marks = [6.0, 12.0, 24.0].map(|t: f64| {
                let (drop, air) = (read(t * (2.0 + 3.0) / 24.0) - start, read(t * 3.0 / 24.0) - vessel);
                mark(t, drop, Some(air))
            });
            let found = loss(&marks, Length::mm(0.5), hours(24.0)).unwrap().loss;
            sum += found.value.to_mm();
            squares += (found.value.to_mm() - 2.0).powi(2);
            stated = found.u.to_mm();
        }
        assert!((sum / f64::from(n) - 2.0).abs() < 4.0 * stated / f64::from(n).sqrt());
        assert!(((squares / f64::from(n)).sqrt() / stated - 1.0).abs() < 0.05);
    }

    #[test]
    fn nothing_is_said_of_nothing() {
        assert_eq!(loss(&[], Length::mm(0.5), hours(24.0)), Err(FloodError::NoMark));
        assert_eq!(loss(&[mark(-1.0, 0.0, None)], Length::mm(0.5), hours(24.0)), Err(FloodError::NoMark));
        assert_eq!(loss(&[mark(1.0, 0.0, None)], Length::ZERO, hours(24.0)), Err(FloodError::OutOfRange));
        assert_eq!(loss(&[mark(1.0, 0.0, None)], Length::mm(0.5), hours(0.0)), Err(FloodError::OutOfRange));
        let far = [mark(f64::MAX, f64::MAX, Some(-f64::MAX)), mark(1e-300, 1.0, Some(1.0))];
        assert!(loss(&far, Length::mm(0.5), hours(24.0)).is_ok(), "no panic on any number");
    }
}
