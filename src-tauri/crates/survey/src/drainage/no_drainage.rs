//! Why the drainage of a floor cannot be said.

use std::fmt;

/// Why the drainage of a floor cannot be said.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NoDrainage {
    /// The drain, or an end of it, is off the surface.
    DrainOutside,
    /// The ends of a linear drain are one place.
    DrainTooShort,
    /// The drain has no vertices.
    NoDrain,
    /// This reading is not on the surface.
    NotOnSurface { vertex: usize },
    /// An open edge does not join vertices of the outer edge.
    NotAnOuterEdge { open_edge: usize },
    /// Falls square to the drain need a drain line.
    RuleNeedsALine,
    /// The least fall is negative or above the greatest.
    FallLimits,
}

impl NoDrainage {
    /// The name used on every wire: `rule-needs-a-line`.
    pub fn name(self) -> &'static str {
        match self {
            Self::DrainOutside => "outside-boundary",
            Self::RuleNeedsALine => "rule-needs-a-line",
            _ => "out-of-range",
        }
    }
}

impl fmt::Display for NoDrainage {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::DrainOutside => f.write_str("the drain is off the surface that was read"),
            Self::DrainTooShort => f.write_str("the ends of the drain line are one place"),
            Self::NoDrain => f.write_str("the drain has no vertices"),
            Self::NotOnSurface { vertex } => write!(f, "reading {vertex} is not on the surface"),
            Self::NotAnOuterEdge { open_edge } => {
                write!(f, "open edge {open_edge} does not run along the outer edge between two of its readings")
            }
            Self::RuleNeedsALine => f.write_str("falls square to the drain need a drain line, not a point"),
            Self::FallLimits => f.write_str("the least fall must be zero or more and no more than the greatest"),
        }
    }
}

impl std::error::Error for NoDrainage {}
