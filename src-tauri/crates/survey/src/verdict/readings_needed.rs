//! How many readings it takes to decide.

use crate::normal;
use crate::units::{Length, Probability};

/// The number of repeat readings whose mean decides a limit `margin` away.
///
/// `alpha` is the accepted risk of saying *out* wrongly, `beta` that of missing it. `None` where no number of readings
/// helps: the margin is zero, or a risk is not between 0 and 1. Averaging cannot beat what all readings share: a
/// systematic part of the uncertainty stays.
///
/// # Units
/// `sd` (of one reading) and `margin` are lengths; the answer is a count.
///
/// # Source
/// One-sided normal test of a mean with known standard deviation, ⌈((z₁₋α + z₁₋β)·sd/margin)²⌉ (textbook).
///
/// ```
/// use survey::units::{Length, Probability};
/// use survey::verdict::readings_needed;
///
/// let risks = (Probability::of(0.05), Probability::of(0.10));
/// assert_eq!(readings_needed(Length::mm(0.8), Length::mm(0.4), risks.0, risks.1), Some(35));
/// assert_eq!(readings_needed(Length::mm(0.8), Length::mm(0.8), risks.0, risks.1), Some(9));
/// ```
pub fn readings_needed(sd: Length, margin: Length, alpha: Probability, beta: Probability) -> Option<u64> {
    let open = |risk: Probability| risk.to_f64() > 0.0 && risk.to_f64() < 1.0;
    if margin == Length::ZERO || !open(alpha) || !open(beta) {
        return None;
    }
    let scores = -normal::quantile(alpha.to_f64()) - normal::quantile(beta.to_f64());
    let root = (scores * sd.to_mm() / margin.to_mm()).abs();
    Some((root * root).ceil() as u64)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_margin_or_no_risk_has_no_number() {
        let (sd, p) = (Length::mm(1.0), Probability::of);
        assert_eq!(readings_needed(sd, Length::ZERO, p(0.05), p(0.1)), None);
        assert_eq!(readings_needed(sd, sd, p(0.0), p(0.1)), None);
        assert_eq!(readings_needed(sd, sd, p(0.05), p(1.0)), None);
        assert_eq!(readings_needed(Length::ZERO, sd, p(0.05), p(0.1)), Some(0));
    }
}
