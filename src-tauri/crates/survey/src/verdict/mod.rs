//! What may be said of a measured value beside a limit, and how sure that is.

mod combined;
mod conformance;
mod guard_band;
mod joint;
mod maximum;
mod readings_needed;

pub use combined::{Combined, Component, Shape, combined};
pub use conformance::{Conformance, ConformanceError, Limited, Limits, conformance};
pub use guard_band::{Outcome, outcome};
pub use joint::all_within;
pub use maximum::Maximum;
pub use readings_needed::readings_needed;

/// What is said of a value, or of the largest of many, against its limits.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Verdict {
    /// Inside the limits, with the confidence asked for.
    Within,
    /// Outside a limit, with the confidence asked for.
    Out,
    /// The uncertainty covers the limit: read again, or with something better.
    TooCloseToCall,
    /// The readings lie too far apart to tell.
    NotTested,
}

impl Verdict {
    /// The name used on every wire: `too-close-to-call`.
    pub fn name(self) -> &'static str {
        match self {
            Self::Within => "within",
            Self::Out => "out",
            Self::TooCloseToCall => "too-close-to-call",
            Self::NotTested => "not-tested",
        }
    }
}

/// How the uncertainty of a value is treated when it is held against a limit; printed with every verdict.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum Decision {
    /// The limit is drawn in by the uncertainty: *within* and *out* are said only when they are sure.
    #[default]
    Guarded,
    /// The measured value itself is held against the limit; the risk is shared, as the trade usually does.
    Simple,
}

impl Decision {
    /// The name used on every wire: `guarded`, `simple`.
    pub fn name(self) -> &'static str {
        match self {
            Self::Guarded => "guarded",
            Self::Simple => "simple",
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_names_are_those_of_the_wire() {
        let all = [Verdict::Within, Verdict::Out, Verdict::TooCloseToCall, Verdict::NotTested];
        assert_eq!(all.map(Verdict::name), ["within", "out", "too-close-to-call", "not-tested"]);
        assert_eq!([Decision::Guarded, Decision::Simple].map(Decision::name), ["guarded", "simple"]);
        assert_eq!(Decision::default(), Decision::Guarded);
    }
}
