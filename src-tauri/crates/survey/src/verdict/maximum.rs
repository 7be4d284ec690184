//! The largest of many measured values against one limit.
//!
//! The largest of many noisy values lies above the largest true one, so it is not judged as one reading would be.

use super::{Decision, Limited, Verdict};
use crate::normal;
use crate::units::Estimate;

/// The accepted risk of a wrong *within*, and of a wrong *out* for all judged values together.
const RISK: f64 = 0.05;

/// Collects candidate values and says whether the largest true one keeps to the limit.
///
/// *Within*: every candidate, with 1.645 of its standard uncertainties on top, stays at or under the limit, so the
/// candidate that is truly largest passes wrongly one time in twenty at most. *Out*: some judged value exceeds the
/// limit by more than noise alone brings the largest of that many (a twentieth, shared among them). Else too close to
/// call. Judged values are fixed before the readings are seen; candidates may follow the readings.
///
/// # Uncertainty
/// Each value brings its own standard uncertainty; 0 makes its comparison a step, the limit included.
///
/// # Source
/// Union bound (Bonferroni) for *out*, intersection–union test for *within* (textbook statistics).
///
/// ```
/// use survey::units::{Estimate, Length};
/// use survey::verdict::{Maximum, Verdict};
///
/// let mut steps = Maximum::against(Length::mm(3.0));
/// for (joist, step) in [1.2, 2.8, 0.4].into_iter().enumerate() {
///     steps.judged(Estimate::new(Length::mm(step), Length::mm(0.5)), joist);
/// }
/// assert_eq!(steps.verdict(), Verdict::TooCloseToCall);
/// assert_eq!(steps.deciding(), Some(&1));
/// ```
#[derive(Debug, Clone)]
pub struct Maximum<Q, P> {
    limit: Q,
    all_within: bool,
    nearest: Option<(f64, f64, P)>,
    largest_judged: f64,
    judged: usize,
    largest: Option<Q>,
    guard: f64,
}

impl<Q: Limited, P> Maximum<Q, P> {
    /// Nothing collected yet against `limit`.
    pub fn against(limit: Q) -> Self {
        Self {
            limit,
            all_within: true,
            nearest: None,
            largest_judged: f64::NEG_INFINITY,
            judged: 0,
            largest: None,
            guard: -normal::quantile(RISK),
        }
    }

    /// A value at `place` that must keep to the limit; it alone never says *out*.
    pub fn candidate(&mut self, value: Estimate<Q>, place: P) {
        self.candidate_with(value, || place);
    }

    /// A value at `place` that was bound to be judged whatever the readings.
    pub fn judged(&mut self, value: Estimate<Q>, place: P) {
        self.judged_with(value, || place);
    }

    /// As [`Self::candidate`], naming the place only if it is needed.
    pub(crate) fn candidate_with(&mut self, value: Estimate<Q>, place: impl FnOnce() -> P) -> f64 {
        let score = self.score(value);
        self.all_within &= (value.value + value.u * self.guard).is_at_most(self.limit);
        let excess = value.value.number();
        if self.nearest.as_ref().is_none_or(|(nearest, most, _)| (score, excess) > (*nearest, *most)) {
            self.nearest = Some((score, excess, place()));
        }
        if self.largest.is_none_or(|largest| value.value.number() > largest.number()) {
            self.largest = Some(value.value);
        }
        score
    }

    /// As [`Self::judged`], naming the place only if it is needed.
    pub(crate) fn judged_with(&mut self, value: Estimate<Q>, place: impl FnOnce() -> P) {
        let score = self.candidate_with(value, place);
        self.largest_judged = self.largest_judged.max(score);
        self.judged += 1;
    }

    /// How many standard uncertainties a value stands above the limit.
    fn score(&self, value: Estimate<Q>) -> f64 {
        let excess = value.value.number() - self.limit.number();
        if value.u.number() > 0.0 {
            excess / value.u.number()
        } else if value.value.is_at_most(self.limit) {
            f64::NEG_INFINITY
        } else {
            f64::INFINITY
        }
    }

    /// The verdict on the largest; not tested where nothing was collected.
    pub fn verdict(&self) -> Verdict {
        if self.nearest.is_none() {
            Verdict::NotTested
        } else if self.all_within {
            Verdict::Within
        } else if self.judged > 0 && self.largest_judged > -normal::quantile(RISK / self.judged as f64) {
            Verdict::Out
        } else {
            Verdict::TooCloseToCall
        }
    }

    /// The verdict by `decision`: simple acceptance holds the largest value itself against the limit.
    pub fn verdict_by(&self, decision: Decision) -> Verdict {
        match (decision, self.largest) {
            (Decision::Guarded, _) => self.verdict(),
            (Decision::Simple, None) => Verdict::NotTested,
            (Decision::Simple, Some(largest)) if largest.is_at_most(self.limit) => Verdict::Within,
            (Decision::Simple, Some(_)) => Verdict::Out,
        }
    }

    /// The place that stands most uncertainties above the limit: the one that decides, or would first.
    pub fn deciding(&self) -> Option<&P> {
        self.nearest.as_ref().map(|(_, _, place)| place)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::Length;

    fn of(values: &[(f64, f64)]) -> Maximum<Length, usize> {
        let mut all = Maximum::against(Length::mm(3.0));
        for (place, &(value, u)) in values.iter().enumerate() {
            all.judged(Estimate::new(Length::mm(value), Length::mm(u)), place);
        }
        all
    }

    #[test]
    fn each_of_the_verdicts() {
        let check = |values: &[(f64, f64)], verdict, place| {
            let all = of(values);
            assert_eq!((all.verdict(), all.deciding().copied()), (verdict, place), "{values:?}");
        };
        check(&[], Verdict::NotTested, None);
        check(&[(1.0, 0.5), (2.0, 0.5)], Verdict::Within, Some(1));
        check(&[(1.0, 0.5), (2.5, 0.5)], Verdict::TooCloseToCall, Some(1));
        check(&[(1.0, 0.5), (5.0, 0.5)], Verdict::Out, Some(1));
        // One reading at 3 + 1.7 u is out; among ten such chances it is not.
        check(&[(3.0 + 1.7 * 0.5, 0.5)], Verdict::Out, Some(0));
        let mut ten = [(0.0, 0.5); 10];
        ten[3].0 = 3.0 + 1.7 * 0.5;
        check(&ten, Verdict::TooCloseToCall, Some(3));
    }

    #[test]
    fn without_uncertainty_it_is_a_step_with_the_limit_inside() {
        assert_eq!(of(&[(3.0, 0.0), (1.0, 0.0)]).verdict(), Verdict::Within);
        assert_eq!(of(&[(3.1, 0.0), (1.0, 0.0)]).verdict(), Verdict::Out);
    }

    #[test]
    fn a_candidate_alone_never_says_out() {
        let mut all = Maximum::against(Length::mm(3.0));
        all.judged(Estimate::new(Length::mm(1.0), Length::mm(0.1)), 0);
        all.candidate(Estimate::new(Length::mm(9.0), Length::mm(0.1)), 1);
        assert_eq!((all.verdict(), all.deciding()), (Verdict::TooCloseToCall, Some(&1)));
        assert_eq!(all.verdict_by(Decision::Simple), Verdict::Out);
    }
}
