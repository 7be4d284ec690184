//! The problems of a computation, as they travel.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use survey::Problem;

/// One problem of the data, as it is written.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema, ts_rs::TS)]
pub struct WireProblem {
    pub kind: String,
    pub message: String,
    #[serde(skip_serializing_if = "Option::is_none", default)]
    #[ts(optional)]
    pub at: Option<String>,
}

impl From<Problem> for WireProblem {
    fn from(problem: Problem) -> Self {
        Self { kind: problem.kind.name().to_string(), message: problem.message, at: problem.at }
    }
}

/// The problems of an answer, as they are written.
pub fn problems(all: Vec<Problem>) -> Vec<WireProblem> {
    all.into_iter().map(WireProblem::from).collect()
}
