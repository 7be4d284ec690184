//! The shape of every joist.

use super::Answer;
use crate::forms::problems;
use super::grid::{Input, misfit};
use crate::forms::refusal::Refusal;
use schemars::JsonSchema;
use serde::Serialize;
use survey::joists::{Departure, Shape, shapes};
use survey::units::Length;

/// A joist that departs from its own chord by no more, in mm, is one of the rest.
const STRAIGHT: f64 = 6.35;

#[derive(Debug, Serialize, JsonSchema)]
pub struct Output {
    joists: Vec<WireShape>,
}

#[derive(Debug, Serialize, JsonSchema)]
struct WireShape {
    id: String,
    crown_or_sag: Option<CrownOrSag>,
    out_of_level: Option<f64>,
    twist: Vec<Option<f64>>,
    of_the_rest: Vec<Option<f64>>,
    sagging: bool,
}

/// Up is positive: a crown.
#[derive(Debug, Serialize, JsonSchema)]
struct CrownOrSag {
    value: f64,
    station: f64,
    u: f64,
}

/// # Errors
/// `too-few-points` where nothing was read; `out-of-range` or `not-finite` naming the field.
pub fn run(input: Input) -> Result<Answer<Output>, Refusal> {
    input.settings()?;
    let found = shapes(&input.grid()?, input.sag_ratio()?, Length::mm(STRAIGHT)).map_err(misfit)?;
    let joists = found.value.into_iter().map(WireShape::from).collect();
    Ok(Answer::new(Output { joists }, problems(found.problems)))
}

impl From<Shape> for WireShape {
    fn from(shape: Shape) -> Self {
        let mm = |heights: Vec<Option<Length>>| heights.into_iter().map(|height| height.map(Length::to_mm)).collect();
        Self {
            id: shape.id,
            crown_or_sag: shape.crown_or_sag.map(CrownOrSag::from),
            out_of_level: shape.out_of_level.map(|level| level.value.to_mm()),
            twist: mm(shape.twist),
            of_the_rest: mm(shape.of_the_rest),
            sagging: shape.sagging,
        }
    }
}

impl From<Departure> for CrownOrSag {
    fn from(departure: Departure) -> Self {
        let [value, station, u] = [departure.value.value, departure.station, departure.value.u].map(Length::to_mm);
        Self { value, station, u }
    }
}
