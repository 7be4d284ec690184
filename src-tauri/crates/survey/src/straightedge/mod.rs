//! The straightedge: a rigid bar laid on the floor, and the gap that shows under it.

pub mod line;
pub mod walk;

use crate::units::Length;
use std::fmt;

/// What is meant by the gap under a straightedge; printed with every number.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum Definition {
    /// The largest gap between two supports no farther apart than the bar is long.
    #[default]
    Supported,
    /// The bar rests where its centre is carried; gaps count over its whole length, overhanging ends too.
    Resting,
    /// The bar stands on its two ends; departures are signed, positive where the floor stands above it.
    EndSupported,
}

impl Definition {
    /// The name used on every wire: `end-supported`.
    pub fn name(self) -> &'static str {
        match self {
            Self::Supported => "supported",
            Self::Resting => "resting",
            Self::EndSupported => "end-supported",
        }
    }
}

/// What a straightedge shows, and where.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Gap {
    /// The largest gap; signed with [`Definition::EndSupported`], else not negative.
    pub gap: Length,
    /// Where along the line the bar is supported, the nearer end first.
    pub from: Length,
    pub to: Length,
    /// Where the gap shows.
    pub lowest_at: Length,
    /// Whether the line is shorter than the bar, so that a bar as long as the line was used.
    pub short: bool,
}

/// What a perfect floor would show when read the same way: information beside a verdict, never part of it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct NoiseAlone {
    pub mean: Length,
    /// One time in twenty it would show more.
    pub p95: Length,
}

/// Why a straightedge cannot be laid.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum StraightedgeError {
    /// Fewer than two readings.
    TooFewPoints,
    /// All readings stand at one place.
    CoincidentPoints,
    /// The bar has no length.
    ZeroLength,
    /// The standard deviation of a reading is not above zero, or that of the bar is below.
    NoUncertainty,
}

impl StraightedgeError {
    /// The name used on every wire: `zero-length`.
    pub fn name(self) -> &'static str {
        match self {
            Self::TooFewPoints => "too-few-points",
            Self::CoincidentPoints => "coincident-points",
            Self::ZeroLength => "zero-length",
            Self::NoUncertainty => "no-uncertainty",
        }
    }
}

impl fmt::Display for StraightedgeError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::TooFewPoints => "a straightedge needs at least two readings under it",
            Self::CoincidentPoints => "all readings stand at one place",
            Self::ZeroLength => "the straightedge has no length",
            Self::NoUncertainty => "a reading's standard deviation must be above zero, and the bar's not below",
        })
    }
}

impl std::error::Error for StraightedgeError {}
