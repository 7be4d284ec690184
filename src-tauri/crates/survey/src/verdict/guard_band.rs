//! The four outcomes of a value beside limits that have a guard band.

use super::{Limited, Limits};

/// What is said of a value, given a guard band to either side of each limit.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Outcome {
    Pass,
    /// Inside the limit, but within the guard band.
    ConditionalPass,
    /// Outside the limit, but within the guard band.
    ConditionalFail,
    Fail,
}

impl Outcome {
    /// The name used on every wire: `conditional-pass`.
    pub fn name(self) -> &'static str {
        match self {
            Self::Pass => "pass",
            Self::ConditionalPass => "conditional-pass",
            Self::ConditionalFail => "conditional-fail",
            Self::Fail => "fail",
        }
    }
}

/// The outcome of a value under a non-binary rule with a guard band; with two limits the worse of both.
///
/// # Units
/// Value, limits and guard band in one quantity; a value at a boundary takes the better side.
///
/// # Uncertainty
/// The guard band stands for it: 1.645 u leaves a risk of 5 %, twice u one of 2.3 %. A limit is guarded once only.
///
/// # Source
/// ILAC-G8:09/2019, p. 10: pass up to TL − w, conditional pass to TL, conditional fail to TL + w (read).
///
/// ```
/// use survey::units::Length;
/// use survey::verdict::{Limits, Outcome, outcome};
///
/// let limit = Limits::at_most(Length::mm(3.175));
/// assert_eq!(outcome(Length::mm(2.5), limit, Length::mm(0.70)), Outcome::ConditionalPass);
/// assert_eq!(outcome(Length::mm(2.475), limit, Length::mm(0.70)), Outcome::Pass);
/// ```
pub fn outcome<Q: Limited>(value: Q, limits: Limits<Q>, guard_band: Q) -> Outcome {
    let above = limits.upper.map(|upper| {
        let kept = [upper - guard_band, upper, upper + guard_band].map(|limit| value.is_at_most(limit));
        of(kept)
    });
    let below = limits.lower.map(|lower| {
        let kept = [lower + guard_band, lower, lower - guard_band].map(|limit| value.is_at_least(limit));
        of(kept)
    });
    above.into_iter().chain(below).max().unwrap_or(Outcome::Pass)
}

fn of([drawn_in, limit, pushed_out]: [bool; 3]) -> Outcome {
    match () {
        () if drawn_in => Outcome::Pass,
        () if limit => Outcome::ConditionalPass,
        () if pushed_out => Outcome::ConditionalFail,
        () => Outcome::Fail,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::Ratio;

    #[test]
    fn four_outcomes_to_either_side() {
        let limits = Limits::between(Ratio::of(-3.0), Ratio::of(3.0));
        let check = |value: f64, expected: &str| {
            assert_eq!(outcome(Ratio::of(value), limits, Ratio::of(1.0)).name(), expected, "{value}");
        };
        for side in [1.0, -1.0] {
            check(side * 2.0, "pass");
            check(side * 2.000_001, "conditional-pass");
            check(side * 3.0, "conditional-pass");
            check(side * 3.000_001, "conditional-fail");
            check(side * 4.0, "conditional-fail");
            check(side * 4.000_001, "fail");
        }
    }

    #[test]
    fn without_a_guard_band_there_are_two() {
        let limit = Limits::at_least(Ratio::of(1.0));
        assert_eq!(outcome(Ratio::of(1.0), limit, Ratio::ZERO), Outcome::Pass);
        assert_eq!(outcome(Ratio::of(0.9), limit, Ratio::ZERO), Outcome::Fail);
        assert_eq!(outcome(Ratio::of(0.9), Limits { lower: None, upper: None }, Ratio::ZERO), Outcome::Pass);
    }
}
