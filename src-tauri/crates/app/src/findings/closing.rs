//! How a set-up closes: the benchmark read at the end against the benchmark read at the start.

use super::Judging;
use super::place::nowhere;
use crate::rules::Figures;
use crate::wire::{Decision, Finding, FindingKind, RuleRef, Setup, Verdict};
use survey::units::Length;

/// Closing minus opening, mm; none while the set-up stands open.
pub(crate) fn error(setup: &Setup) -> Option<f64> {
    setup.closing.as_ref().map(|closing| closing.mm - setup.opening.mm)
}

/// A plausibility check: inclusive, without a probability.
pub(crate) fn verdict(error: f64, figures: &Figures) -> Verdict {
    if Length::mm(error.abs()).at_most(figures.length("closing")) { Verdict::Within } else { Verdict::Out }
}

/// One finding for each set-up.
pub(super) fn findings(judging: &Judging<'_>) -> Vec<Finding> {
    judging.setups().map(|setup| finding(judging, setup)).collect()
}

fn finding(judging: &Judging<'_>, setup: &Setup) -> Finding {
    let error = error(setup);
    Finding {
        kind: FindingKind::Closing,
        subject: setup.benchmark.name.clone(),
        place: nowhere(),
        value: error,
        u: error.map(|_| setup.sd_mm * std::f64::consts::SQRT_2),
        limit: Some(judging.figures.mm("closing")),
        least: None,
        reach: None,
        rule: RuleRef { decision: Decision::Simple, ..judging.figures.name("closing") },
        verdict: error.map_or(Verdict::NotTested, |error| verdict(error, &judging.figures)),
        retake: if error.is_none() { vec![setup.benchmark.name.clone()] } else { Vec::new() },
        noise_alone: None,
    }
}
