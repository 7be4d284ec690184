//! A warning in a box of its own.

use serde::Serialize;

/// Where the work can hurt.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Caution {
    /// A sentence: "J4 is not to be planed."
    pub title: String,
    /// Sentences.
    pub text: String,
}
