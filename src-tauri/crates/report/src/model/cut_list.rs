use serde::Serialize;
use survey::units::Length;

use super::{Approval, Caution, mm};

/// What to make for each joist, in the order it is made.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CutList {
    /// A sentence: "Hold 43-7/8 below the line."
    pub sentence: String,
    /// Sentences: "6 strips", "1 sister", "nothing cut".
    pub counts: Vec<String>,
    /// A sentence: what the figures are, "inches up from the joist as found, stations from the door wall".
    pub caption: String,
    pub pieces: Vec<Piece>,
    /// What may not be done; stands at the foot.
    pub forbidden: Vec<Caution>,
}

/// What one joist gets.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Piece {
    pub joist: String,
    pub action: Action,
    /// As they will be cut; for a sister or an engineer the lift that is missing.
    pub strips: Vec<Strip>,
    /// Sentences: lengths, material, what to look at first.
    pub notes: Vec<String>,
    pub approval: Approval,
    /// One box to tick each: "ripped", "fixed".
    pub ticks: Vec<String>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Action {
    Leave,
    Sheet,
    Strip,
    TallStrip,
    Dress,
    DressAndStrip,
    Sister,
    AskEngineer,
}

/// One continuous piece, or one continuous cut where the thicknesses are negative.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Strip {
    /// Along the joist, in order.
    pub stations: Vec<Thickness>,
    /// A figure, "90 in long".
    pub length: String,
}

#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Thickness {
    #[serde(serialize_with = "mm::length")]
    pub station: Length,
    /// Up positive; negative is wood taken off.
    #[serde(serialize_with = "mm::length")]
    pub thickness: Length,
    /// The figure under the station.
    pub figure: String,
}
