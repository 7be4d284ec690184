//! The straightedge laid anywhere on a floor, in any direction.

use super::Answer;
use crate::forms::fields::{self, WirePoints};
use crate::forms::problems;
use super::floor::{Floor, plan};
use crate::forms::refusal::Refusal;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Input {
    points: WirePoints,
    triangles: Option<Vec<[usize; 3]>>,
    boundary: Option<Vec<(f64, f64)>>,
    length: f64,
}

#[derive(Debug, Serialize, JsonSchema)]
pub struct Output {
    gap: f64,
    from: [f64; 2],
    to: [f64; 2],
    lowest_at: [f64; 2],
    triangles: Vec<[usize; 3]>,
}

/// # Errors
/// The refusals of the surface; `out-of-range` for a bar without length.
pub fn run(input: Input) -> Result<Answer<Output>, Refusal> {
    let floor = Floor::read(&input.points, input.triangles.as_deref(), input.boundary.as_deref())?;
    let length = fields::positive("length", input.length)?;
    let found = survey::straightedge_surface::straightedge_surface(&floor.surface, length);
    let output = Output {
        gap: found.gap.to_mm(),
        from: plan(found.from),
        to: plan(found.to),
        lowest_at: plan(found.lowest_at),
        triangles: floor.triangles_in_input(floor.surface.triangles()),
    };
    Ok(Answer::new(output, problems(floor.problems)))
}
