//! `truefall compute OPERATION`: each operation of the core as one pure call, JSON in and JSON out.
//!
//! One file an operation: an `Input` that refuses unknown fields, an `Output`, and a `run` between them that calls
//! `survey` and nothing else. The shared reading of fields is in [`fields`](crate::forms::fields).

pub mod floor;
pub mod grid;

use crate::forms::WireProblem;
use crate::forms::json;
use crate::forms::refusal::{Kind, Refusal};
use serde::Serialize;

/// An answer as it is written: the output's own fields, and the problems of the data where there are any.
#[derive(Debug, Serialize)]
pub struct Answer<T> {
    #[serde(flatten)]
    pub output: T,
    pub problems: Vec<WireProblem>,
}

impl<T> Answer<T> {
    pub fn new(output: T, problems: Vec<WireProblem>) -> Self {
        Self { output, problems }
    }
}

macro_rules! operations {
    ($($name:literal => $module:ident),* $(,)?) => {
        $(pub mod $module;)*

        /// The names of all operations.
        pub const OPERATIONS: &[&str] = &[$($name),*];

        /// Runs one operation on its JSON input and returns its JSON answer.
        ///
        /// # Errors
        /// A [`Refusal`] where the operation is not known, the input is not of its form, or nothing can be computed.
        pub fn compute(operation: &str, input: &str) -> Result<String, Refusal> {
            match operation {
                $($name => json::write(&$module::run(json::read(input)?)?),)*
                other => Err(unknown(other)),
            }
        }
    };
}

// One line an operation, in the order of the command line's own help.
operations! {
    "plane" => plane,
    "blunders" => blunders,
    "straightedge-line" => straightedge_line,
    "straightedge-surface" => straightedge_surface,
    "flatness-zone" => flatness_zone,
    "f-numbers" => f_numbers,
    "verdict" => verdict,
    "framing-plan" => framing_plan,
    "joists" => joists,
    "level-net" => level_net,
    "drainage" => drainage,
    "pond-probability" => pond_probability,
    "surface" => surface,
    "fill" => fill,
    "length" => length,
}

fn unknown(operation: &str) -> Refusal {
    let known = OPERATIONS.join(", ");
    Refusal::new(Kind::UnknownOperation, format!("There is no operation {operation:?}. There are: {known}."))
        .field("operation")
}
