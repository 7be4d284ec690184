//! The volume between a floor and a level or plane, and what it takes to fill it.

use super::Answer;
use crate::forms::fields::{self, WirePoints};
use crate::forms::problems;
use super::floor::Floor;
use crate::forms::refusal::Refusal;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use survey::fill::{FillNoise, FillTo};
use survey::units::{Length, Ratio, Slope, Volume};

#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Input {
    points: WirePoints,
    triangles: Option<Vec<[usize; 3]>>,
    boundary: Option<Vec<(f64, f64)>>,
    level: Option<f64>,
    plane: Option<WirePlane>,
    /// In kg per litre.
    density: Option<f64>,
    reading_sd: Option<f64>,
    level_sd: Option<f64>,
    yield_litres: Option<f64>,
    waste: Option<f64>,
}

#[derive(Debug, Clone, Copy, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
struct WirePlane {
    height: f64,
    slope_x: f64,
    slope_y: f64,
    at: (f64, f64),
}

#[derive(Debug, Serialize, JsonSchema)]
pub struct Output {
    area: f64,
    volume: f64,
    u_volume: Option<f64>,
    bags: Option<u64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    mass_kg: Option<f64>,
    triangles: Vec<[usize; 3]>,
}

/// # Errors
/// The refusals of the surface; `out-of-range` unless exactly one of `level` and `plane` is given.
pub fn run(input: Input) -> Result<Answer<Output>, Refusal> {
    let floor = Floor::read(&input.points, input.triangles.as_deref(), input.boundary.as_deref())?;
    let per_bag = input.yield_litres.map(|yields| positive("yield_litres", yields)).transpose()?;
    let waste = fields::not_negative("waste", input.waste.unwrap_or(0.05))?.to_mm();
    let density = input.density.map(|density| positive("density", density)).transpose()?;
    let fill = survey::fill::fill(&floor.surface, fill_to(&input)?, noise(&input)?);
    let output = Output {
        area: fill.area.to_mm2(),
        volume: fill.volume.to_litres(),
        u_volume: fill.u_volume.map(Volume::to_litres),
        bags: per_bag.and_then(|per_bag| fill.bags(Volume::litres(per_bag.to_f64()), Ratio::of(waste))),
        mass_kg: density.map(|density| fill.mass(density).to_kg()),
        triangles: floor.triangles_in_input(floor.surface.triangles()),
    };
    Ok(Answer::new(output, problems(floor.problems)))
}

fn fill_to(input: &Input) -> Result<FillTo, Refusal> {
    match (input.level, input.plane) {
        (Some(level), None) => Ok(FillTo::Level(fields::length("level", level)?)),
        (None, Some(plane)) => Ok(FillTo::Plane {
            height: fields::length("plane.height", plane.height)?,
            slope_x: slope("plane.slope_x", plane.slope_x)?,
            slope_y: slope("plane.slope_y", plane.slope_y)?,
            at: fields::position("plane.at", plane.at)?,
        }),
        _ => Err(Refusal::out_of_range("level", "given, or else a plane, and not both")),
    }
}

fn noise(input: &Input) -> Result<Option<FillNoise>, Refusal> {
    let level_sd = fields::not_negative("level_sd", input.level_sd.unwrap_or(0.0))?;
    let noise = |sd: Length| FillNoise { reading_sd: sd, level_sd };
    Ok(input.reading_sd.map(|sd| fields::positive("reading_sd", sd)).transpose()?.map(noise))
}

fn slope(field: &str, ratio: f64) -> Result<Slope, Refusal> {
    Slope::try_ratio(ratio).map_err(|_| Refusal::not_finite(field))
}

/// A plain number above zero.
fn positive(field: &str, value: f64) -> Result<Ratio, Refusal> {
    fields::positive(field, value).map(|number| Ratio::of(number.to_mm()))
}
