//! The height of a floor where it was not read, and where to read next.

use super::Answer;
use crate::forms::fields::{self, WirePoints};
use crate::forms::problems;
use super::floor::{in_input, no_surface, sentence};
use crate::forms::refusal::{Kind, Refusal};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use survey::ProblemKind;
use survey::surface::{Between, Heights, NoHeights, Waves};
use survey::units::{Length, Probability};

#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Input {
    points: WirePoints,
    at: Vec<(f64, f64)>,
    method: Method,
    limit: Option<f64>,
}

#[derive(Debug, Clone, Copy, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
enum Method {
    Facets,
    ThinPlate,
    Kriging(Kriging),
}

#[derive(Debug, Clone, Copy, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
struct Kriging {
    sf: f64,
    ell: f64,
    sn: f64,
}

#[derive(Debug, Serialize, JsonSchema)]
pub struct Output {
    mean: Vec<Option<f64>>,
    sd: Option<Vec<f64>>,
    probability_above: Option<Vec<f64>>,
    next_reading: Option<NextReading>,
    #[serde(skip_serializing_if = "Option::is_none")]
    triangles: Option<Vec<[usize; 3]>>,
}

#[derive(Debug, Serialize, JsonSchema)]
struct NextReading {
    largest_sd: usize,
    most_undecided: Option<usize>,
}

/// # Errors
/// The refusals of the surface; `out-of-range` for waves that are none, or more places than are solved for at once.
pub fn run(input: Input) -> Result<Answer<Output>, Refusal> {
    let readings = input.points.kept("points")?;
    let at = fields::positions("at", &input.at)?;
    let limit = input.limit.map(|limit| fields::length("limit", limit)).transpose()?;
    let found = survey::surface::heights(&readings.items, &at, between(input.method)?, limit).map_err(no_heights)?;
    let (places, of_readings) = found.problems.into_iter().partition(|p| p.kind == ProblemKind::OutsideBoundary);
    let mut all = readings.problems.clone();
    all.extend(in_input(&readings, of_readings));
    all.extend::<Vec<_>>(places);
    let kept = |triangle: &[usize; 3]| triangle.map(|vertex| readings.input_index(vertex));
    let triangles = found.value.triangles.as_ref().map(|triangles| triangles.iter().map(kept).collect());
    Ok(Answer::new(output(found.value, triangles), problems(all)))
}

fn between(method: Method) -> Result<Between, Refusal> {
    Ok(match method {
        Method::Facets => Between::Facets,
        Method::ThinPlate => Between::ThinPlate,
        Method::Kriging(kriging) => Between::Kriging(Waves {
            height_sd: fields::positive("method.kriging.sf", kriging.sf)?,
            length: fields::positive("method.kriging.ell", kriging.ell)?,
            reading_sd: fields::not_negative("method.kriging.sn", kriging.sn)?,
        }),
    })
}

fn no_heights(why: NoHeights) -> Refusal {
    match why {
        NoHeights::Surface(why) => no_surface(why),
        NoHeights::TooManyPlaces => Refusal::new(Kind::OutOfRange, sentence(why)).field("points"),
        NoHeights::NoWaves | NoHeights::TooSmooth => Refusal::new(Kind::OutOfRange, sentence(why)).field("method"),
    }
}

fn output(found: Heights, triangles: Option<Vec<[usize; 3]>>) -> Output {
    let next = |next: survey::surface::NextReading| NextReading {
        largest_sd: next.largest_sd,
        most_undecided: next.most_undecided,
    };
    Output {
        mean: found.mean.into_iter().map(|z| z.map(Length::to_mm)).collect(),
        sd: found.sd.map(|sd| sd.into_iter().map(Length::to_mm).collect()),
        probability_above: found.probability_above.map(|all| all.into_iter().map(Probability::to_f64).collect()),
        next_reading: found.next_reading.map(next),
        triangles,
    }
}
