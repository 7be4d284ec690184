//! The straightedge along one line.

use super::Answer;
use crate::forms::fields::{self, Kept};
use crate::forms::problems;
use super::floor::{in_input, sentence};
use super::verdict::WireDecision;
use crate::forms::refusal::{Kind, Refusal};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use survey::Problem;
use survey::straightedge::line::{self, LinePoint, Tolerance};
use survey::straightedge::{self, StraightedgeError};
use survey::units::Length;
use survey::verdict::Decision;

#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Input {
    line: Vec<(f64, Option<f64>)>,
    length: f64,
    #[serde(default)]
    definition: Definition,
    limit: Option<f64>,
    reading_sd: Option<f64>,
    #[serde(default)]
    bar_sd: f64,
    #[serde(default)]
    rule: WireDecision,
    #[serde(default = "first_seed")]
    seed: u64,
}

#[derive(Debug, Clone, Copy, Default, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
enum Definition {
    #[default]
    Supported,
    Resting,
    EndSupported,
}

fn first_seed() -> u64 {
    1
}

#[derive(Debug, Serialize, JsonSchema)]
pub struct Output {
    definition: &'static str,
    gap: f64,
    from: f64,
    to: f64,
    lowest_at: f64,
    short: bool,
    #[serde(flatten)]
    judged: Option<Judged>,
    #[serde(skip_serializing_if = "Option::is_none")]
    noise_alone: Option<NoiseAlone>,
}

#[derive(Debug, Serialize, JsonSchema)]
struct Judged {
    verdict: &'static str,
    rule: &'static str,
    deciding: Vec<usize>,
}

/// What a perfect floor would show, read the same way.
#[derive(Debug, Serialize, JsonSchema)]
struct NoiseAlone {
    mean: f64,
    p95: f64,
}

/// # Errors
/// `too-few-points`, `coincident-points`; `out-of-range` for a bar without length; `missing-field` for a limit without
/// `reading_sd`, unless the rule is simple.
pub fn run(input: Input) -> Result<Answer<Output>, Refusal> {
    let readings = kept(&input.line)?;
    let length = fields::positive("length", input.length)?;
    let sd = input.reading_sd.map(|sd| fields::positive("reading_sd", sd)).transpose()?;
    let definition = match input.definition {
        Definition::Supported => straightedge::Definition::Supported,
        Definition::Resting => straightedge::Definition::Resting,
        Definition::EndSupported => straightedge::Definition::EndSupported,
    };
    let tolerance = tolerance(&input, sd)?;
    let bar = Bar { readings, length, definition };
    let (mut output, found) = bar.lay(tolerance)?;
    output.noise_alone = sd.map(|sd| bar.noise_alone(sd, input.seed)).transpose()?;
    let mut all = bar.readings.problems.clone();
    all.extend(in_input(&bar.readings, found));
    Ok(Answer::new(output, problems(all)))
}

fn kept(line: &[(f64, Option<f64>)]) -> Result<Kept<LinePoint>, Refusal> {
    fields::keep(line.iter().enumerate().map(|(i, &(s, z))| {
        let Some(z) = z else { return Ok(None) };
        let (s, z) = (fields::length(&format!("line[{i}][0]"), s)?, fields::length(&format!("line[{i}][1]"), z)?);
        Ok(Some(LinePoint { s, z }))
    }))
}

fn tolerance(input: &Input, sd: Option<Length>) -> Result<Option<Tolerance>, Refusal> {
    let bar_sd = fields::not_negative("bar_sd", input.bar_sd)?;
    let Some(limit) = input.limit else { return Ok(None) };
    let decision = Decision::from(input.rule);
    let reading_sd = match (sd, decision) {
        (Some(sd), _) => sd,
        (None, Decision::Simple) => Length::ZERO,
        (None, Decision::Guarded) => {
            let message = "A verdict needs reading_sd, the standard deviation of one reading, or the rule \"simple\".";
            return Err(Refusal::new(Kind::MissingField, message).field("reading_sd"));
        }
    };
    Ok(Some(Tolerance { limit: fields::not_negative("limit", limit)?, reading_sd, bar_sd, decision }))
}

/// A bar over the readings of a line.
struct Bar {
    readings: Kept<LinePoint>,
    length: Length,
    definition: straightedge::Definition,
}

impl Bar {
    fn lay(&self, tolerance: Option<Tolerance>) -> Result<(Output, Vec<Problem>), Refusal> {
        let points = &self.readings.items;
        let Some(tolerance) = tolerance else {
            let found = line::gap(points, self.length, self.definition).map_err(not_laid)?;
            return Ok((self.output(found.value, None), found.problems));
        };
        let found = line::judge(points, self.length, self.definition, tolerance).map_err(not_laid)?;
        let judged = Judged {
            verdict: found.value.verdict.name(),
            rule: found.value.decision.name(),
            deciding: found.value.deciding.iter().map(|&reading| self.readings.input_index(reading)).collect(),
        };
        Ok((self.output(found.value.gap, Some(judged)), found.problems))
    }

    fn output(&self, gap: straightedge::Gap, judged: Option<Judged>) -> Output {
        Output {
            definition: self.definition.name(),
            gap: gap.gap.to_mm(),
            from: gap.from.to_mm(),
            to: gap.to.to_mm(),
            lowest_at: gap.lowest_at.to_mm(),
            short: gap.short,
            judged,
            noise_alone: None,
        }
    }

    fn noise_alone(&self, sd: Length, seed: u64) -> Result<NoiseAlone, Refusal> {
        let noise = line::noise_alone(&self.readings.items, self.length, self.definition, sd, seed);
        noise.map(|noise| NoiseAlone { mean: noise.mean.to_mm(), p95: noise.p95.to_mm() }).map_err(not_laid)
    }
}

fn not_laid(why: StraightedgeError) -> Refusal {
    let (kind, field) = match why {
        StraightedgeError::TooFewPoints => (Kind::TooFewPoints, "line"),
        StraightedgeError::CoincidentPoints => (Kind::CoincidentPoints, "line"),
        StraightedgeError::ZeroLength => (Kind::OutOfRange, "length"),
        StraightedgeError::NoUncertainty => (Kind::OutOfRange, "reading_sd"),
    };
    Refusal::new(kind, sentence(why)).field(field)
}
