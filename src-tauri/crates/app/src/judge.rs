//! One value, or the largest of many, against a limit, by the decision of the room.

use crate::rules::Figures;
use crate::wire::{Decision, Verdict};
use survey::units::{Estimate, Length, Probability};
use survey::verdict::{self, Limited, Limits, Maximum, conformance};

/// The verdict on a value that may be at most `limit`, and the probability that it keeps to it.
pub(crate) fn at_most(figures: &Figures, value: Estimate<Length>, limit: Length) -> (Verdict, f64) {
    let confidence = Probability::of(figures.value("confidence"));
    match conformance(value, Limits::at_most(limit), confidence, decision(figures)) {
        Ok(answer) => (named(answer.verdict), answer.probability.to_f64()),
        Err(_) => (Verdict::NotTested, 0.0),
    }
}

/// The verdict on a value between limits.
pub(crate) fn inside<Q: Limited>(figures: &Figures, value: Estimate<Q>, limits: Limits<Q>) -> Verdict {
    let confidence = Probability::of(figures.value("confidence"));
    conformance(value, limits, confidence, decision(figures)).map_or(Verdict::NotTested, |answer| named(answer.verdict))
}

/// The verdict on the largest of many values.
pub(crate) fn of_maximum<P>(figures: &Figures, most: &Maximum<Length, P>) -> Verdict {
    named(most.verdict_by(decision(figures)))
}

fn decision(figures: &Figures) -> verdict::Decision {
    match figures.decision() {
        Decision::Guarded => verdict::Decision::Guarded,
        Decision::Simple => verdict::Decision::Simple,
    }
}

fn named(verdict: verdict::Verdict) -> Verdict {
    match verdict {
        verdict::Verdict::Within => Verdict::Within,
        verdict::Verdict::Out => Verdict::Out,
        verdict::Verdict::TooCloseToCall => Verdict::TooCloseToCall,
        verdict::Verdict::NotTested => Verdict::NotTested,
    }
}
