//! One measured value against its limits, by the probability that the true value conforms.

use super::{Decision, Verdict};
use crate::normal;
use crate::units::{Angle, Estimate, Length, Probability, Ratio, Resistance, Slope, Temperature, Volume};
use std::fmt;
use std::ops::{Add, Mul, Sub};

/// A quantity that can be held against a limit of its own kind.
pub trait Limited: Copy + Add<Output = Self> + Sub<Output = Self> + Mul<f64, Output = Self> {
    /// The bare number, in the quantity's own unit.
    fn number(self) -> f64;
    /// Whether this is no more than `limit`, the limit included.
    fn is_at_most(self, limit: Self) -> bool;
    /// Whether this is no less than `limit`, the limit included.
    fn is_at_least(self, limit: Self) -> bool;
}

macro_rules! limited {
    ($($quantity:ident $number:ident),*) => {$(
        impl Limited for $quantity {
            fn number(self) -> f64 {
                self.$number()
            }
            fn is_at_most(self, limit: Self) -> bool {
                self.at_most(limit)
            }
            fn is_at_least(self, limit: Self) -> bool {
                self.at_least(limit)
            }
        }
    )*};
}
limited!(Length to_mm, Slope to_ratio, Angle to_degrees, Volume to_litres, Resistance to_ohms);
limited!(Temperature to_celsius, Ratio to_f64);

/// The least and the greatest value allowed; one of them may be absent.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Limits<Q> {
    pub lower: Option<Q>,
    pub upper: Option<Q>,
}

impl<Q> Limits<Q> {
    /// No more than `upper`.
    pub fn at_most(upper: Q) -> Self {
        Self { lower: None, upper: Some(upper) }
    }

    /// No less than `lower`.
    pub fn at_least(lower: Q) -> Self {
        Self { lower: Some(lower), upper: None }
    }

    /// No less than `lower` and no more than `upper`.
    pub fn between(lower: Q, upper: Q) -> Self {
        Self { lower: Some(lower), upper: Some(upper) }
    }
}

/// What is said of one value, and why.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Conformance<Q> {
    pub verdict: Verdict,
    /// The probability that the true value lies inside the limits.
    pub probability: Probability,
    /// The values inside which a reading is accepted: the limits themselves by simple acceptance, else drawn inward.
    pub acceptance: Limits<Q>,
    pub decision: Decision,
}

/// Why a value cannot be judged.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ConformanceError {
    /// There is neither a lower nor an upper limit.
    NoLimit,
    /// The lower limit stands above the upper.
    CrossedLimits,
    /// The standard uncertainty is below zero.
    NegativeUncertainty,
    /// The confidence is not at least a half and below 1.
    Confidence,
}

impl ConformanceError {
    /// The name used on every wire: `no-limit`.
    pub fn name(self) -> &'static str {
        match self {
            Self::NoLimit => "no-limit",
            Self::CrossedLimits => "crossed-limits",
            Self::NegativeUncertainty => "negative-uncertainty",
            Self::Confidence => "confidence-out-of-range",
        }
    }
}

impl fmt::Display for ConformanceError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::NoLimit => "a verdict needs a lower or an upper limit",
            Self::CrossedLimits => "the lower limit stands above the upper limit",
            Self::NegativeUncertainty => "an uncertainty cannot be below zero",
            Self::Confidence => "the confidence must be at least 0.5 and below 1",
        })
    }
}

impl std::error::Error for ConformanceError {}

/// Whether a measured value lies inside its limits, with the probability that the true value does.
///
/// *Within* where that probability is at least `confidence`, *out* where it is at most 1 − `confidence`, else too close
/// to call. Without uncertainty the answer is a step, the limits included. By simple acceptance the value itself is
/// compared; the probability is stated all the same.
///
/// # Units
/// Value, uncertainty and limits in one quantity; probability 0 to 1.
///
/// # Uncertainty
/// `value.u` is a standard uncertainty (k = 1), taken as normal. The limits are exact: never guard them twice.
///
/// # Errors
/// No limit, crossed limits, a negative uncertainty, or a confidence outside 0.5 ≤ c < 1.
///
/// # Source
/// JCGM 106:2012, 7.2 to 7.4 and 8.3 (recalled, not read). Simple acceptance: guard band w = 0, ILAC-G8:09/2019 p. 8.
///
/// ```
/// use survey::units::{Estimate, Length, Probability};
/// use survey::verdict::{Decision, Limits, Verdict, conformance};
///
/// // 2.5 mm read with u = 0.35 mm under a limit of 1/8 in.
/// let gap = Estimate::new(Length::mm(2.5), Length::mm(0.35));
/// let said = conformance(gap, Limits::at_most(Length::mm(3.175)), Probability::of(0.95), Decision::Guarded)?;
/// assert_eq!(said.verdict, Verdict::Within);
/// assert!((said.probability.to_f64() - 0.973108).abs() < 1e-6);
/// # Ok::<(), survey::verdict::ConformanceError>(())
/// ```
pub fn conformance<Q: Limited>(
    value: Estimate<Q>,
    limits: Limits<Q>,
    confidence: Probability,
    decision: Decision,
) -> Result<Conformance<Q>, ConformanceError> {
    refuse(value, limits, confidence)?;
    let inside = limits.lower.is_none_or(|lower| value.value.is_at_least(lower))
        && limits.upper.is_none_or(|upper| value.value.is_at_most(upper));
    let probability = probability(value, limits, inside);
    let verdict = match decision {
        Decision::Simple if inside => Verdict::Within,
        Decision::Simple => Verdict::Out,
        Decision::Guarded => guarded(probability, confidence),
    };
    Ok(Conformance { verdict, probability, acceptance: acceptance(value.u, limits, confidence, decision), decision })
}

fn refuse<Q: Limited>(value: Estimate<Q>, limits: Limits<Q>, confidence: Probability) -> Result<(), ConformanceError> {
    if value.u.number() < 0.0 {
        return Err(ConformanceError::NegativeUncertainty);
    }
    if !(0.5..1.0).contains(&confidence.to_f64()) {
        return Err(ConformanceError::Confidence);
    }
    match (limits.lower, limits.upper) {
        (None, None) => Err(ConformanceError::NoLimit),
        (Some(lower), Some(upper)) if !lower.is_at_most(upper) => Err(ConformanceError::CrossedLimits),
        _ => Ok(()),
    }
}

fn probability<Q: Limited>(value: Estimate<Q>, limits: Limits<Q>, inside: bool) -> Probability {
    let u = value.u.number();
    if u == 0.0 {
        return Probability::of(if inside { 1.0 } else { 0.0 });
    }
    let score = |limit: Q| (limit.number() - value.value.number()) / u;
    Probability::of(match (limits.lower.map(score), limits.upper.map(score)) {
        (Some(lower), Some(upper)) => normal::between(lower, upper),
        (Some(lower), None) => normal::below(-lower),
        (None, Some(upper)) => normal::below(upper),
        (None, None) => 1.0,
    })
}

fn guarded(probability: Probability, confidence: Probability) -> Verdict {
    if probability.at_least(confidence) {
        Verdict::Within
    } else if probability.at_most(Probability::of(1.0 - confidence.to_f64())) {
        Verdict::Out
    } else {
        Verdict::TooCloseToCall
    }
}

fn acceptance<Q: Limited>(u: Q, limits: Limits<Q>, confidence: Probability, decision: Decision) -> Limits<Q> {
    let guard = match decision {
        Decision::Guarded => u * normal::quantile(confidence.to_f64()),
        Decision::Simple => u * 0.0,
    };
    Limits { lower: limits.lower.map(|lower| lower + guard), upper: limits.upper.map(|upper| upper - guard) }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn judge(y: f64, u: f64, lower: Option<f64>, upper: Option<f64>) -> Conformance<Length> {
        let limits = Limits { lower: lower.map(Length::mm), upper: upper.map(Length::mm) };
        let value = Estimate::new(Length::mm(y), Length::mm(u));
        conformance(value, limits, Probability::of(0.95), Decision::Guarded).expect("limits stand")
    }

    #[test]
    fn without_uncertainty_it_is_a_step_with_the_limit_inside() {
        let check = |y, verdict, p| {
            let said = judge(y, 0.0, None, Some(3.175));
            assert_eq!((said.verdict, said.probability.to_f64()), (verdict, p), "{y}");
        };
        check(3.0, Verdict::Within, 1.0);
        check(3.175, Verdict::Within, 1.0);
        check(3.175 + 0.9e-6, Verdict::Within, 1.0);
        check(3.175 + 1.1e-6, Verdict::Out, 0.0);
    }

    #[test]
    fn at_the_limit_with_uncertainty_it_is_even() {
        let said = judge(3.175, 0.35, None, Some(3.175));
        assert_eq!(said.probability.to_f64(), 0.5);
        assert_eq!(said.verdict, Verdict::TooCloseToCall);
    }

    #[test]
    fn a_wide_uncertainty_against_two_limits_is_never_within() {
        assert_eq!(judge(0.0, 10.0, Some(-1.0), Some(1.0)).verdict, Verdict::TooCloseToCall);
        assert_eq!(judge(0.0, 100.0, Some(-1.0), Some(1.0)).verdict, Verdict::Out);
        assert_eq!(judge(0.0, 0.4, Some(-1.0), Some(1.0)).verdict, Verdict::Within);
    }

    #[test]
    fn the_acceptance_limit_is_where_the_verdict_turns() {
        let said = judge(0.0, 0.35, Some(-3.0), Some(3.0));
        let (Some(low), Some(high)) = (said.acceptance.lower, said.acceptance.upper) else { panic!("both limits") };
        assert!((high.to_mm() - (3.0 - 1.644_853_626_951_472_7 * 0.35)).abs() < 1e-12);
        assert_eq!(low, -high);
        assert_eq!(judge(high.to_mm() - 1e-9, 0.35, None, Some(3.0)).verdict, Verdict::Within);
        assert_eq!(judge(high.to_mm() + 1e-9, 0.35, None, Some(3.0)).verdict, Verdict::TooCloseToCall);
    }

    #[test]
    fn simple_acceptance_compares_the_value_itself() {
        let value = Estimate::new(Length::mm(3.17), Length::mm(0.35));
        let said = conformance(value, Limits::at_most(Length::mm(3.175)), Probability::of(0.95), Decision::Simple)
            .expect("a limit stands");
        assert_eq!((said.verdict, said.decision), (Verdict::Within, Decision::Simple));
        assert!(said.probability.to_f64() < 0.51);
        assert_eq!(said.acceptance.upper, Some(Length::mm(3.175)));
    }

    #[test]
    fn what_cannot_be_judged_is_refused_by_kind() {
        let check = |y: f64, u: f64, lower: Option<f64>, upper: Option<f64>, confidence: f64, kind: &str| {
            let limits = Limits { lower: lower.map(Ratio::of), upper: upper.map(Ratio::of) };
            let value = Estimate::new(Ratio::of(y), Ratio::of(u));
            let said = conformance(value, limits, Probability::of(confidence), Decision::Guarded);
            assert_eq!(said.expect_err("refused").name(), kind);
        };
        check(1.0, 1.0, None, None, 0.95, "no-limit");
        check(1.0, 1.0, Some(2.0), Some(1.0), 0.95, "crossed-limits");
        check(1.0, -1.0, None, Some(1.0), 0.95, "negative-uncertainty");
        check(1.0, 1.0, None, Some(1.0), 0.4, "confidence-out-of-range");
        check(1.0, 1.0, None, Some(1.0), 1.0, "confidence-out-of-range");
    }
}
