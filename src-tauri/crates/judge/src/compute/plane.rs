//! The plane through points, with residuals and what checks them.

use super::Answer;
use crate::forms::fields::{self, Kept, WirePoints};
use crate::forms::problems;
use super::floor::{in_input, plan, sentence};
use crate::forms::refusal::{Kind, Refusal};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use survey::plane::{self, Fit, PlaneError};
use survey::units::{Length, Ratio};
use survey::{PlanPosition, Point};

#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Input {
    points: WirePoints,
    reading_sd: f64,
    #[serde(default)]
    estimator: Estimator,
    #[serde(default)]
    predict_at: Vec<(f64, f64)>,
}

#[derive(Debug, Clone, Copy, Default, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
enum Estimator {
    #[default]
    LeastSquares,
    Huber,
    Orthogonal,
}

#[derive(Debug, Serialize, JsonSchema)]
pub struct Output {
    estimator: &'static str,
    centroid: [f64; 2],
    height: f64,
    slope_x: f64,
    slope_y: f64,
    rss: f64,
    s0: Option<f64>,
    dof: usize,
    normal: [f64; 3],
    residuals: Vec<Option<f64>>,
    redundancy: Option<Vec<Option<f64>>>,
    w: Option<Vec<Option<f64>>>,
    predicted: Vec<Predicted>,
}

/// The plane's height at a place, with its standard uncertainty.
#[derive(Debug, Serialize, JsonSchema)]
struct Predicted {
    x: f64,
    y: f64,
    z: f64,
    u: f64,
}

/// # Errors
/// `too-few-points`, `coincident-points`, `collinear-points`; `not-finite`, `out-of-range` for the fields.
pub fn run(input: Input) -> Result<Answer<Output>, Refusal> {
    let readings = input.points.kept("points")?;
    let sd = fields::positive("reading_sd", input.reading_sd)?;
    let at = fields::positions("predict_at", &input.predict_at)?;
    let estimator = match input.estimator {
        Estimator::LeastSquares => plane::Estimator::LeastSquares,
        Estimator::Huber => plane::Estimator::Huber,
        Estimator::Orthogonal => plane::Estimator::Orthogonal,
    };
    let found = plane::fit(&readings.items, sd, estimator).map_err(no_plane)?;
    let mut all = readings.problems.clone();
    all.extend(in_input(&readings, found.problems));
    Ok(Answer::new(output(&found.value, &readings, &at), problems(all)))
}

/// A fit as it is written, its lists as long as the input's.
pub(super) fn output(fit: &Fit, readings: &Kept<Point>, at: &[PlanPosition]) -> Output {
    let ratios = |all: &Vec<Ratio>| readings.spread(all.iter().map(|ratio| ratio.to_f64()));
    let predicted = |place: &PlanPosition| {
        let [x, y] = plan(*place);
        let height = fit.predict(*place);
        Predicted { x, y, z: height.value.to_mm(), u: height.u.to_mm() }
    };
    Output {
        estimator: fit.estimator.name(),
        centroid: plan(fit.plane.at),
        height: fit.plane.height.to_mm(),
        slope_x: fit.plane.slope_x.to_ratio(),
        slope_y: fit.plane.slope_y.to_ratio(),
        rss: fit.rss.to_mm2(),
        s0: fit.s0.map(Ratio::to_f64),
        dof: fit.dof,
        normal: fit.plane.normal().map(Ratio::to_f64),
        residuals: readings.spread(fit.residuals.iter().copied().map(Length::to_mm)),
        redundancy: fit.redundancy.as_ref().map(ratios),
        w: fit.w.as_ref().map(ratios),
        predicted: at.iter().map(predicted).collect(),
    }
}

/// The refusal for readings without a plane.
pub(super) fn no_plane(why: PlaneError) -> Refusal {
    let (kind, field) = match why {
        PlaneError::TooFewPoints => (Kind::TooFewPoints, "points"),
        PlaneError::CoincidentPoints => (Kind::CoincidentPoints, "points"),
        PlaneError::CollinearPoints => (Kind::CollinearPoints, "points"),
        PlaneError::Upright => (Kind::OutOfRange, "points"),
        PlaneError::NoUncertainty => (Kind::OutOfRange, "reading_sd"),
    };
    Refusal::new(kind, sentence(why)).field(field)
}
