//! One value, or the largest of many, against a limit, by the decision of the room.

use crate::forms::{Decision, Verdict};
use crate::room::rules::Figures;
use survey::units::{Estimate, Length};
use survey::verdict::{Limited, Limits, Maximum, conformance};

/// The verdict on a value that may be at most `limit`, and the probability that it keeps to it.
pub fn at_most(figures: &Figures, value: Estimate<Length>, limit: Length) -> (Verdict, f64) {
    let confidence = figures.confidence();
    match conformance(value, Limits::at_most(limit), confidence, decision(figures.decision())) {
        Ok(answer) => (verdict(answer.verdict), answer.probability.to_f64()),
        Err(_) => (Verdict::NotTested, 0.0),
    }
}

/// The verdict on a value between limits.
pub fn inside<Q: Limited>(figures: &Figures, value: Estimate<Q>, limits: Limits<Q>) -> Verdict {
    let confidence = figures.confidence();
    conformance(value, limits, confidence, decision(figures.decision()))
        .map_or(Verdict::NotTested, |answer| verdict(answer.verdict))
}

/// The verdict on the largest of many values.
pub fn of_maximum<P>(figures: &Figures, most: &Maximum<Length, P>) -> Verdict {
    verdict(most.verdict_by(decision(figures.decision())))
}

/// The decision as the core names it.
pub fn decision(decision: Decision) -> survey::verdict::Decision {
    match decision {
        Decision::Guarded => survey::verdict::Decision::Guarded,
        Decision::Simple => survey::verdict::Decision::Simple,
    }
}

/// The verdict as it travels.
pub fn verdict(verdict: survey::verdict::Verdict) -> Verdict {
    match verdict {
        survey::verdict::Verdict::Within => Verdict::Within,
        survey::verdict::Verdict::Out => Verdict::Out,
        survey::verdict::Verdict::TooCloseToCall => Verdict::TooCloseToCall,
        survey::verdict::Verdict::NotTested => Verdict::NotTested,
    }
}
