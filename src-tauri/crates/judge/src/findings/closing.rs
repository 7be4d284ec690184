//! How a set-up closes: the benchmark read at the end against the benchmark read at the start.

use super::judging::Judging;

use crate::forms::{Decision, Finding, FindingKind, RuleRef, Setup, Verdict};
use crate::room::closing::{error, verdict};
use crate::room::from_walls::nowhere;
use crate::room::rules::LengthId;

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
        limit: Some(judging.figures.length(LengthId::Closing).to_mm()),
        least: None,
        reach: None,
        rule: RuleRef { decision: Decision::Simple, ..judging.figures.name(LengthId::Closing) },
        verdict: error.map_or(Verdict::NotTested, |error| verdict(error, &judging.figures)),
        retake: if error.is_none() { vec![setup.benchmark.name.clone()] } else { Vec::new() },
        noise_alone: None,
    }
}
