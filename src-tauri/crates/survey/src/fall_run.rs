//! The fall of a run between two readings, and what may be said of it.

use crate::drainage::FallLimits;
use crate::normal;
use crate::point::Point;
use crate::units::{Estimate, Length, Probability, Slope};
use crate::verdict::{Conformance, ConformanceError, Decision, Limits, Maximum, Verdict, conformance};

/// The confidence a run is judged with.
const CONFIDENCE: f64 = 0.95;

/// The fall from one reading down to another.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FallRun {
    /// Plan length.
    pub length: Length,
    /// The upper reading less the lower: negative where the floor falls backward.
    pub rise: Estimate<Length>,
    pub fall: Estimate<Slope>,
}

/// The verdict on all runs together.
#[derive(Debug, Clone, PartialEq)]
pub struct JudgedRuns {
    pub verdict: Verdict,
    /// The indices of the runs nearest to deciding: against the least fall, and against the greatest.
    pub deciding: Vec<usize>,
}

/// The fall from `upper` to `lower`, the end nearer the drain; `None` for two readings at one place.
///
/// # Uncertainty
/// That of a difference of two independent readings: √2 of one, over the run.
///
/// # Source
/// JCGM 100, 5.1.2 (recalled, not read).
///
/// ```
/// use survey::{Point, fall_run::fall_run, units::Length};
/// let run = fall_run(Point::mm(600.0, 0.0, 8.3), Point::mm(900.0, 0.0, 12.5), Length::mm(0.5)).unwrap();
/// assert!((run.fall.value.to_ratio() - 4.2 / 300.0).abs() < 1e-12);
/// assert!((run.fall.u.to_ratio() - 0.00236).abs() < 5e-6, "0.24 % over 300 mm");
/// ```
pub fn fall_run(lower: Point, upper: Point, reading_sd: Length) -> Option<FallRun> {
    let (dx, dy) = ((upper.x - lower.x).to_mm(), (upper.y - lower.y).to_mm());
    let length = Length::mm(dx.hypot(dy));
    if length <= Length::ZERO {
        return None;
    }
    let rise = Estimate::new(upper.z - lower.z, reading_sd * 2.0_f64.sqrt());
    Some(FallRun { length, rise, fall: Estimate::new(rise.value.over(length), rise.u.over(length)) })
}

impl FallRun {
    /// What may be said of this run alone against both limits.
    ///
    /// # Errors
    /// Crossed limits, or an uncertainty below zero.
    pub fn judged(self, limits: FallLimits, by: Decision) -> Result<Conformance<Slope>, ConformanceError> {
        conformance(self.fall, Limits::between(limits.minimum, limits.maximum), Probability::of(CONFIDENCE), by)
    }
}

/// The shortest run that can be found within both limits at all, read with this standard deviation.
///
/// `None` where the limits leave nothing between them: then no run can, however long.
///
/// ```
/// use survey::drainage::{FallLimits, FallRule};
/// use survey::fall_run::shortest_to_decide;
/// use survey::units::{Length, Slope};
/// let falls = FallLimits { minimum: Slope::one_in(80.0), maximum: Slope::one_in(50.0), rule: FallRule::Path };
/// let shortest = shortest_to_decide(falls, Length::mm(0.5)).unwrap();
/// assert!((shortest.to_mm() - 310.2).abs() < 0.1, "runs of 300 mm are too short");
/// ```
pub fn shortest_to_decide(limits: FallLimits, reading_sd: Length) -> Option<Length> {
    let room = (limits.maximum - limits.minimum).to_ratio();
    let guard = -normal::quantile(1.0 - CONFIDENCE);
    (room > 0.0).then(|| reading_sd.abs() * (2.0 * guard * 2.0_f64.sqrt() / room))
}

/// The verdict on the smallest and the largest fall of all runs, by the rule for the largest of many.
///
/// Not tested without runs. See [`Maximum`] for the rule.
pub fn judge_runs(runs: &[FallRun], limits: FallLimits, by: Decision) -> JudgedRuns {
    let (mut steepest, mut gentlest) = (Maximum::against(limits.maximum), Maximum::against(-limits.minimum));
    for (index, run) in runs.iter().enumerate() {
        steepest.judged(run.fall, index);
        gentlest.judged(Estimate::new(-run.fall.value, run.fall.u), index);
    }
    let verdict = match [steepest.verdict_by(by), gentlest.verdict_by(by)] {
        [Verdict::NotTested, _] | [_, Verdict::NotTested] => Verdict::NotTested,
        [Verdict::Out, _] | [_, Verdict::Out] => Verdict::Out,
        [Verdict::Within, Verdict::Within] => Verdict::Within,
        _ => Verdict::TooCloseToCall,
    };
    JudgedRuns { verdict, deciding: gentlest.deciding().into_iter().chain(steepest.deciding()).copied().collect() }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drainage::FallRule;

    const FALLS: fn() -> FallLimits =
        || FallLimits { minimum: Slope::one_in(80.0), maximum: Slope::one_in(50.0), rule: FallRule::Path };

    fn run(length: f64, rise: f64) -> FallRun {
        fall_run(Point::mm(0.0, 0.0, 0.0), Point::mm(length, 0.0, rise), Length::mm(0.5)).expect("a run")
    }

    #[test]
    fn runs_alone_and_together() {
        let check = |rises: &[f64], expected: Verdict, deciding: &[usize]| {
            let runs: Vec<FallRun> = rises.iter().map(|&rise| run(1800.0, rise)).collect();
            let found = judge_runs(&runs, FALLS(), Decision::Guarded);
            assert_eq!((found.verdict, &found.deciding[..]), (expected, deciding), "{rises:?}");
        };
        check(&[], Verdict::NotTested, &[]);
        check(&[25.0, 29.0, 27.0], Verdict::Within, &[0, 1]);
        check(&[25.0, 35.5, 27.0], Verdict::TooCloseToCall, &[0, 1]);
        check(&[25.0, 39.0, 27.0], Verdict::Out, &[0, 1]);
        check(&[19.0, 29.0, 27.0], Verdict::Out, &[0, 1]);
    }

    #[test]
    fn by_simple_acceptance_the_limit_itself_is_inside() {
        let found = judge_runs(&[run(1600.0, 20.0), run(1600.0, 32.0)], FALLS(), Decision::Simple);
        assert_eq!(found.verdict, Verdict::Within);
        assert!(fall_run(Point::mm(1.0, 1.0, 0.0), Point::mm(1.0, 1.0, 5.0), Length::mm(0.5)).is_none());
    }
}
