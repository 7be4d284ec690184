//! What a net is adjusted from: readings, and known heights.

use crate::units::Length;

/// One reading down from the line of a set-up: bigger is lower.
#[derive(Debug, Clone, PartialEq)]
pub struct Sight {
    pub setup: String,
    pub point: String,
    pub reading: Length,
    /// The standard deviation of the reading.
    pub sd: Length,
}

/// A point of known height: held where its standard deviation is zero, else itself an observation.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Fixed {
    pub height: Length,
    pub sd: Length,
}
