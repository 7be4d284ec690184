//! Readings that the others do not bear out.

use super::Answer;
use crate::forms::fields::{self, Kept, WirePoints};
use crate::forms::problems;
use super::floor::in_input;
use super::plane::{self, no_plane};
use crate::forms::refusal::Refusal;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use survey::Point;
use survey::blunders::Blunders;
use survey::units::{Length, Ratio};

#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Input {
    points: WirePoints,
    reading_sd: f64,
    #[serde(default = "one_in_a_thousand")]
    significance: f64,
}

fn one_in_a_thousand() -> f64 {
    0.001
}

#[derive(Debug, Serialize, JsonSchema)]
pub struct Output {
    critical: f64,
    removed: Vec<usize>,
    w_at_removal: Vec<f64>,
    smallest_detectable: Vec<Option<f64>>,
    /// The plane of the rest; its lists are as long as the input's.
    plane: plane::Output,
}

/// # Errors
/// As the plane's.
pub fn run(input: Input) -> Result<Answer<Output>, Refusal> {
    let readings = input.points.kept("points")?;
    let sd = fields::positive("reading_sd", input.reading_sd)?;
    let significance = fields::inner_probability("significance", input.significance)?;
    let found = survey::blunders::blunders(&readings.items, sd, significance).map_err(no_plane)?;
    let mut all = readings.problems.clone();
    all.extend(in_input(&readings, found.problems));
    Ok(Answer::new(output(&found.value, &readings), problems(all)))
}

fn output(found: &Blunders, readings: &Kept<Point>) -> Output {
    let rest = Kept {
        items: found.kept.iter().filter_map(|&kept| readings.items.get(kept).copied()).collect(),
        index: found.kept.iter().map(|&kept| readings.input_index(kept)).collect(),
        total: readings.total,
        problems: Vec::new(),
    };
    let detectable = found.smallest_detectable.iter().map(|least| least.map(Length::to_mm));
    Output {
        critical: found.critical.to_f64(),
        removed: found.removed.iter().map(|&removed| readings.input_index(removed)).collect(),
        w_at_removal: found.w_at_removal.iter().copied().map(Ratio::to_f64).collect(),
        smallest_detectable: readings.spread(detectable).into_iter().map(Option::flatten).collect(),
        plane: plane::output(&found.plane, &rest, &[]),
    }
}
