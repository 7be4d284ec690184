use serde::{Serialize, Serializer};
use survey::units::Length;

use super::{Moment, Paper};

/// Strips at full size, to lay on the wood.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct FullSize {
    pub paper: Paper,
    /// Typed: the room.
    pub room: String,
    /// A sentence: the height they are for.
    pub height: String,
    pub date: Moment,
    /// Sentences: how to print them and what to look out for.
    pub notes: Vec<String>,
    pub strips: Vec<FullSizeStrip>,
}

/// One strip: its name and its thickness along it.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct FullSizeStrip {
    /// A sentence: "J4, strip 1 of 2".
    pub name: String,
    pub stops: Vec<FullSizeStop>,
}

/// The thickness of a strip at a place along it.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct FullSizeStop {
    #[serde(serialize_with = "mm")]
    pub along: Length,
    #[serde(serialize_with = "mm")]
    pub thick: Length,
    /// Figures: the thickness, and the station it is at.
    pub figure: String,
    pub station: String,
}

fn mm<S: Serializer>(length: &Length, to: S) -> Result<S::Ok, S::Error> {
    super::mm::length(length, to)
}
