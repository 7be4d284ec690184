//! How likely water stands deeper than each depth, given the noise of the readings.

use super::Answer;
use super::drainage::{WireDrain, WireRule, drain, no_drainage, open_edges};
use crate::forms::fields::{self, WirePoints};
use crate::forms::problems;
use super::floor::Floor;
use crate::forms::refusal::Refusal;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use serde_json::{Map, Number, Value};
use survey::pond_probability::{Draws, PondProbability};
use survey::units::Length;

/// More draws than this are refused: they would tell nothing more.
const MOST_DRAWS: u32 = 10_000_000;

#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Input {
    boundary: Option<Vec<(f64, f64)>>,
    points: WirePoints,
    triangles: Option<Vec<[usize; 3]>>,
    drain: WireDrain,
    open_edges: Option<Vec<[usize; 2]>>,
    /// Falls play no part in ponds; they may be sent along with the rest of a floor.
    minimum_fall: Option<f64>,
    maximum_fall: Option<f64>,
    #[serde(rename = "rule")]
    _rule: Option<WireRule>,
    reading_sd: f64,
    draws: u32,
    seed: u64,
    depths: Vec<Number>,
    drain_exact: bool,
}

#[derive(Debug, Serialize, JsonSchema)]
pub struct Output {
    /// By depth, written as it came.
    probability_deeper_than: Map<String, Value>,
    mean_max_depth: f64,
    sd_max_depth: f64,
}

/// # Errors
/// As `drainage`; `out-of-range` for no draws, too many, or a depth below zero.
pub fn run(input: Input) -> Result<Answer<Output>, Refusal> {
    let floor = Floor::read(&input.points, input.triangles.as_deref(), input.boundary.as_deref())?;
    let drain = drain(&floor, &input.drain)?;
    let open_edges = open_edges(&floor, input.open_edges.as_deref())?;
    for (field, fall) in [("minimum_fall", input.minimum_fall), ("maximum_fall", input.maximum_fall)] {
        fall.map(|fall| fields::length(field, fall)).transpose()?;
    }
    if !(1..=MOST_DRAWS).contains(&input.draws) {
        return Err(Refusal::out_of_range("draws", &format!("from 1 to {MOST_DRAWS}")));
    }
    let draws = Draws {
        reading_sd: fields::positive("reading_sd", input.reading_sd)?,
        count: input.draws,
        seed: input.seed,
        drain_exact: input.drain_exact,
    };
    let depth = |(i, depth): (usize, &Number)| {
        fields::not_negative(&format!("depths[{i}]"), depth.as_f64().unwrap_or(f64::NAN))
    };
    let depths = input.depths.iter().enumerate().map(depth).collect::<Result<Vec<Length>, _>>()?;
    let found = survey::pond_probability::pond_probability(&floor.surface, &drain, &open_edges, draws, &depths)
        .map_err(no_drainage)?;
    Ok(Answer::new(output(&input.depths, &found), problems(floor.problems)))
}

fn output(depths: &[Number], found: &PondProbability) -> Output {
    let shares = depths.iter().zip(&found.deeper_than);
    Output {
        probability_deeper_than: shares.map(|(depth, p)| (depth.to_string(), Value::from(p.to_f64()))).collect(),
        mean_max_depth: found.mean_max_depth.to_mm(),
        sd_max_depth: found.sd_max_depth.to_mm(),
    }
}
