//! F-numbers of lines of readings a foot apart.

use super::Answer;
use crate::forms::fields;
use crate::forms::problems;
use super::floor::sentence;
use crate::forms::refusal::{Kind, Refusal};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use survey::f_numbers::{FNumber, NoFNumbers};
use survey::units::{Length, Ratio};
use survey::{Problem, ProblemKind};

#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Input {
    lines: Vec<Vec<Option<f64>>>,
    #[serde(default = "one_foot")]
    spacing: f64,
    reading_sd: Option<f64>,
    #[serde(default = "nine_in_ten")]
    confidence: f64,
}

fn one_foot() -> f64 {
    304.8
}

fn nine_in_ten() -> f64 {
    0.9
}

#[derive(Debug, Serialize, JsonSchema)]
pub struct Output {
    #[serde(rename = "FF")]
    flatness: Option<WireFNumber>,
    #[serde(rename = "FL")]
    levelness: Option<WireFNumber>,
    /// A bathroom is below the standard's least area.
    indication_only: bool,
}

/// One F-number; `mean` and `s` in mm.
#[derive(Debug, Serialize, JsonSchema)]
struct WireFNumber {
    f: Option<f64>,
    mean: f64,
    s: f64,
    n: usize,
    interval: Option<[f64; 2]>,
    noise_ceiling: Option<f64>,
    noise_corrected: Option<f64>,
}

impl From<FNumber> for WireFNumber {
    fn from(number: FNumber) -> Self {
        Self {
            f: number.f.map(Ratio::to_f64),
            mean: number.mean.to_mm(),
            s: number.s.to_mm(),
            n: number.n,
            interval: number.interval.map(|ends| ends.map(Ratio::to_f64)),
            noise_ceiling: number.noise_ceiling.map(Ratio::to_f64),
            noise_corrected: number.noise_corrected.map(Ratio::to_f64),
        }
    }
}

/// # Errors
/// `spacing-not-accepted` unless readings are 300 to 305 mm apart; `too-few-points` without three in a row.
pub fn run(input: Input) -> Result<Answer<Output>, Refusal> {
    let lines: Vec<Vec<Option<Length>>> =
        input.lines.iter().enumerate().map(|(at, line)| heights(at, line)).collect::<Result<_, _>>()?;
    let spacing = fields::positive("spacing", input.spacing)?;
    let sd = input.reading_sd.map(|sd| fields::positive("reading_sd", sd)).transpose()?;
    let confidence = fields::inner_probability("confidence", input.confidence)?;
    let found = survey::f_numbers::f_numbers(&lines, spacing, sd, confidence).map_err(no_f_numbers)?;
    let output = Output {
        flatness: found.value.flatness.map(WireFNumber::from),
        levelness: found.value.levelness.map(WireFNumber::from),
        indication_only: true,
    };
    let mut all = missing(&input.lines);
    all.extend(found.problems);
    Ok(Answer::new(output, problems(all)))
}

fn heights(at: usize, line: &[Option<f64>]) -> Result<Vec<Option<Length>>, Refusal> {
    let height = |(k, z): (usize, &Option<f64>)| z.map(|z| fields::length(&format!("lines[{at}][{k}]"), z)).transpose();
    line.iter().enumerate().map(height).collect()
}

fn missing(lines: &[Vec<Option<f64>>]) -> Vec<Problem> {
    let of_line = |(at, line): (usize, &Vec<Option<f64>>)| -> Vec<Problem> {
        let gaps = line.iter().enumerate().filter(|(_, z)| z.is_none());
        gaps.map(|(k, _)| left_out(at, k)).collect()
    };
    lines.iter().enumerate().flat_map(of_line).collect()
}

fn left_out(line: usize, reading: usize) -> Problem {
    let message = format!("Reading {reading} of line {line} has no height: the line is split there.");
    Problem::at(ProblemKind::MissingReading, format!("{line},{reading}"), message)
}

fn no_f_numbers(why: NoFNumbers) -> Refusal {
    let (kind, field) = match why {
        NoFNumbers::TooFewPoints => (Kind::TooFewPoints, "lines"),
        NoFNumbers::SpacingNotAccepted => (Kind::SpacingNotAccepted, "spacing"),
    };
    Refusal::new(kind, sentence(why)).field(field)
}
