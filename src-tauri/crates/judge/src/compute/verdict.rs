//! One value against its limits.

use super::Answer;
use crate::forms::fields;
use super::floor::sentence;
use crate::forms::refusal::{Kind, Refusal, spoken};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use survey::units::{Estimate, Length};
use survey::verdict::{self, ConformanceError, Limits};

#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Input {
    value: f64,
    u: f64,
    upper: Option<f64>,
    lower: Option<f64>,
    #[serde(default = "nineteen_in_twenty")]
    confidence: f64,
    #[serde(default)]
    rule: WireDecision,
    /// Of one reading, for the number of readings needed.
    sd: Option<f64>,
    margin: Option<f64>,
    #[serde(default = "one_in_twenty")]
    alpha: f64,
    #[serde(default = "one_in_ten")]
    beta: f64,
}

/// How the uncertainty is treated beside a limit.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub(super) enum WireDecision {
    #[default]
    Guarded,
    Simple,
}

impl From<WireDecision> for verdict::Decision {
    fn from(rule: WireDecision) -> Self {
        match rule {
            WireDecision::Guarded => Self::Guarded,
            WireDecision::Simple => Self::Simple,
        }
    }
}

fn nineteen_in_twenty() -> f64 {
    0.95
}

fn one_in_twenty() -> f64 {
    0.05
}

fn one_in_ten() -> f64 {
    0.10
}

#[derive(Debug, Serialize, JsonSchema)]
pub struct Output {
    verdict: &'static str,
    rule: &'static str,
    probability: f64,
    acceptance_limit: AcceptanceLimit,
    /// `null` where it was not asked for, or no number of readings is enough.
    readings_needed: Option<u64>,
}

#[derive(Debug, Serialize, JsonSchema)]
struct AcceptanceLimit {
    lower: Option<f64>,
    upper: Option<f64>,
}

/// # Errors
/// `missing-field` without a limit; `out-of-range` for limits that cross, a negative `u`, a confidence below a half.
pub fn run(input: Input) -> Result<Answer<Output>, Refusal> {
    let value = Estimate::new(fields::length("value", input.value)?, fields::not_negative("u", input.u)?);
    let limit = |field: &str, limit: Option<f64>| limit.map(|limit| fields::length(field, limit)).transpose();
    let limits = Limits { lower: limit("lower", input.lower)?, upper: limit("upper", input.upper)? };
    let confidence = fields::inner_probability("confidence", input.confidence)?;
    let said = verdict::conformance(value, limits, confidence, input.rule.into()).map_err(not_judged)?;
    let output = Output {
        verdict: said.verdict.name(),
        rule: said.decision.name(),
        probability: said.probability.to_f64(),
        acceptance_limit: AcceptanceLimit {
            lower: said.acceptance.lower.map(Length::to_mm),
            upper: said.acceptance.upper.map(Length::to_mm),
        },
        readings_needed: readings_needed(&input)?,
    };
    Ok(Answer::new(output, Vec::new()))
}

fn readings_needed(input: &Input) -> Result<Option<u64>, Refusal> {
    let alpha = fields::inner_probability("alpha", input.alpha)?;
    let beta = fields::inner_probability("beta", input.beta)?;
    match (input.sd, input.margin) {
        (None, None) => Ok(None),
        (Some(sd), Some(margin)) => {
            let (sd, margin) = (fields::not_negative("sd", sd)?, fields::length("margin", margin)?);
            Ok(verdict::readings_needed(sd, margin, alpha, beta))
        }
        (Some(_), None) => Err(missing("margin")),
        (None, Some(_)) => Err(missing("sd")),
    }
}

fn missing(field: &str) -> Refusal {
    Refusal::new(Kind::MissingField, format!("{} is missing: sd and margin go together.", spoken(field))).field(field)
}

fn not_judged(why: ConformanceError) -> Refusal {
    let (kind, field) = match why {
        ConformanceError::NoLimit => (Kind::MissingField, "upper"),
        ConformanceError::CrossedLimits => (Kind::OutOfRange, "lower"),
        ConformanceError::NegativeUncertainty => (Kind::OutOfRange, "u"),
        ConformanceError::Confidence => (Kind::OutOfRange, "confidence"),
    };
    Refusal::new(kind, sentence(why)).field(field)
}
