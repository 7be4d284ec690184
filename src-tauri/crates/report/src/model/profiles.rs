use serde::Serialize;
use survey::units::Length;

use super::{Side, mm};

/// The joists seen from the side, all at one scale.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Profiles {
    /// What stands over them: "Along the joists".
    pub title: String,
    /// A sentence: what the figures are, "down from the line, inches, stations from the door wall".
    pub caption: String,
    pub joists: Vec<Profile>,
}

/// One joist along its length.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Profile {
    pub name: String,
    /// A sentence: "sags 1/2 at 60".
    pub sentence: String,
    pub points: Vec<ProfilePoint>,
}

/// A station; one that was not read is left out.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ProfilePoint {
    #[serde(serialize_with = "mm::length")]
    pub station: Length,
    /// Height, up positive, over anything that all joists share.
    #[serde(serialize_with = "mm::length")]
    pub height: Length,
    /// The figure under the station.
    pub figure: String,
    /// Chalked X or O here.
    pub spot: Option<Side>,
}
