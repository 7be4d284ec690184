//! The thinnest slab that holds every point.

use super::Answer;
use crate::forms::fields::{WirePoints};
use crate::forms::problems;
use super::floor::{self, plan};
use super::plane::no_plane;
use crate::forms::refusal::Refusal;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use survey::plane::{Plane, duplicates};
use survey::units::Ratio;

#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Input {
    points: WirePoints,
}

#[derive(Debug, Serialize, JsonSchema)]
pub struct Output {
    minimum_zone: f64,
    least_squares_range: f64,
    /// The plane midway in the slab.
    plane: WirePlane,
    /// The readings that hold the slab from above and from below.
    above: Vec<usize>,
    below: Vec<usize>,
}

#[derive(Debug, Serialize, JsonSchema)]
struct WirePlane {
    centroid: [f64; 2],
    height: f64,
    slope_x: f64,
    slope_y: f64,
    normal: [f64; 3],
}

impl From<Plane> for WirePlane {
    fn from(plane: Plane) -> Self {
        Self {
            centroid: plan(plane.at),
            height: plane.height.to_mm(),
            slope_x: plane.slope_x.to_ratio(),
            slope_y: plane.slope_y.to_ratio(),
            normal: plane.normal().map(Ratio::to_f64),
        }
    }
}

/// Readings at one place are all kept, and reported where they differ.
///
/// # Errors
/// As the plane's.
pub fn run(input: Input) -> Result<Answer<Output>, Refusal> {
    let readings = input.points.kept("points")?;
    let zone = survey::flatness_zone::flatness_zone(&readings.items).map_err(no_plane)?;
    let in_input = |all: Vec<usize>| all.into_iter().map(|reading| readings.input_index(reading)).collect();
    let output = Output {
        minimum_zone: zone.minimum_zone.to_mm(),
        least_squares_range: zone.least_squares_range.to_mm(),
        plane: zone.plane.into(),
        above: in_input(zone.above),
        below: in_input(zone.below),
    };
    let mut all = readings.problems.clone();
    all.extend(floor::in_input(&readings, duplicates(&readings.items)));
    Ok(Answer::new(output, problems(all)))
}
