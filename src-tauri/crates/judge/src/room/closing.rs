//! How far a set-up is from its benchmark when the benchmark is read again.

use crate::forms::{Setup, Verdict};
use crate::room::rules::{Figures, LengthId};
use survey::units::Length;

/// Closing minus opening, mm; none while the set-up stands open.
pub fn error(setup: &Setup) -> Option<f64> {
    setup.closing.as_ref().map(|closing| closing.mm - setup.opening.mm)
}

/// A plausibility check: inclusive, without a probability.
pub fn verdict(error: f64, figures: &Figures) -> Verdict {
    if Length::mm(error.abs()).at_most(figures.length(LengthId::Closing)) { Verdict::Within } else { Verdict::Out }
}
