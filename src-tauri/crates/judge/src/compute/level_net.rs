//! Several set-ups of the level adjusted together.

use super::Answer;
use crate::forms::fields::{self, keep};
use crate::forms::problems;
use super::floor::sentence;
use crate::forms::refusal::{Kind, Refusal, spoken};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;
use survey::level_net::{Fixed, LevelNet, NoNet, Sight};
use survey::units::{Estimate, Length, Probability, Ratio};

#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Input {
    observations: Vec<Observation>,
    fixed: BTreeMap<String, WireFixed>,
    significance: Option<f64>,
    differences_of: Option<Vec<(String, String)>>,
}

#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
struct Observation {
    setup: String,
    point: String,
    /// Down from the line; `null` is a missing reading.
    reading: Option<f64>,
    sd: f64,
}

#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
struct WireFixed {
    height: f64,
    sd: f64,
}

#[derive(Debug, Serialize, JsonSchema)]
pub struct Output {
    heights: BTreeMap<String, Height>,
    setups: BTreeMap<String, f64>,
    vtpv: f64,
    dof: usize,
    p_global: Option<f64>,
    largest_w: Option<LargestW>,
    critical: f64,
    blunder_suspected: bool,
    #[serde(skip_serializing_if = "Option::is_none")]
    differences: Option<Vec<Height>>,
}

#[derive(Debug, Serialize, JsonSchema)]
struct Height {
    height: f64,
    u: f64,
}

#[derive(Debug, Serialize, JsonSchema)]
struct LargestW {
    index: usize,
    w: f64,
}

/// # Errors
/// `datum-or-link-missing` names the set-up that nothing ties to a known height; `too-few-points`, `out-of-range`.
pub fn run(input: Input) -> Result<Answer<Output>, Refusal> {
    let sights = keep(input.observations.iter().enumerate().map(|(i, observation)| sight(i, observation)))?;
    let known = |(id, fixed): (&String, &WireFixed)| {
        let height = fields::length(&format!("fixed.{id}.height"), fixed.height)?;
        let sd = fields::not_negative(&format!("fixed.{id}.sd"), fixed.sd)?;
        Ok((id.clone(), Fixed { height, sd }))
    };
    let fixed = input.fixed.iter().map(known).collect::<Result<BTreeMap<_, _>, Refusal>>()?;
    let significance = fields::inner_probability("significance", input.significance.unwrap_or(0.001))?;
    let found = survey::level_net::level_net(&sights.items, &fixed, significance).map_err(no_net)?;
    let wanted = input.differences_of.map(|pairs| differences(&found.value, &pairs)).transpose()?;
    let mut all = sights.problems.clone();
    all.extend(found.problems);
    let index = |(sight, w): (usize, Ratio)| LargestW { index: sights.input_index(sight), w: w.to_f64() };
    let largest_w = found.value.largest_w.map(index);
    Ok(Answer::new(output(&found.value, largest_w, wanted), problems(all)))
}

fn sight(index: usize, observation: &Observation) -> Result<Option<Sight>, Refusal> {
    let field = |name: &str| format!("observations[{index}].{name}");
    let Some(reading) = observation.reading else { return Ok(None) };
    Ok(Some(Sight {
        setup: observation.setup.clone(),
        point: observation.point.clone(),
        reading: fields::length(&field("reading"), reading)?,
        sd: fields::positive(&field("sd"), observation.sd)?,
    }))
}

/// How much higher the second point of each pair stands than the first.
fn differences(net: &LevelNet, pairs: &[(String, String)]) -> Result<Vec<Height>, Refusal> {
    let difference = |(i, (from, to)): (usize, &(String, String))| {
        let found = net.difference(from, to).map(Height::from);
        found.ok_or_else(|| {
            let field = format!("differences_of[{i}]");
            Refusal::new(Kind::OutOfRange, format!("{} names a point that no set-up has read.", spoken(&field))).field(field)
        })
    };
    pairs.iter().enumerate().map(difference).collect()
}

fn no_net(why: NoNet) -> Refusal {
    let (kind, field) = match &why {
        NoNet::NoSights => (Kind::TooFewPoints, "observations".to_string()),
        NoNet::NotTied { .. } => (Kind::DatumOrLinkMissing, "observations".to_string()),
        NoNet::SightSd { sight } => (Kind::OutOfRange, format!("observations[{sight}].sd")),
        NoNet::FixedSd { point } => (Kind::OutOfRange, format!("fixed.{point}.sd")),
        NoNet::Significance => (Kind::OutOfRange, "significance".to_string()),
        NoNet::TooLarge => (Kind::OutOfRange, "observations".to_string()),
    };
    Refusal::new(kind, sentence(why)).field(field)
}

impl From<Estimate<Length>> for Height {
    fn from(estimate: Estimate<Length>) -> Self {
        Self { height: estimate.value.to_mm(), u: estimate.u.to_mm() }
    }
}

fn output(net: &LevelNet, largest_w: Option<LargestW>, differences: Option<Vec<Height>>) -> Output {
    Output {
        heights: net.heights.iter().map(|(id, height)| (id.clone(), Height::from(*height))).collect(),
        setups: net.setups.iter().map(|(id, line)| (id.clone(), line.to_mm())).collect(),
        vtpv: net.vtpv.to_f64(),
        dof: net.dof,
        p_global: net.p_global.map(Probability::to_f64),
        largest_w,
        critical: net.critical.to_f64(),
        blunder_suspected: net.blunder_suspected,
        differences,
    }
}
