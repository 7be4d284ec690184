//! Tests of one figure against one limit.

use super::came_to::CameTo;
use super::hours::{after, between};
use crate::forms::*;
use crate::room::rules::Figures;
use crate::room::verdict;
use survey::units::{Duration, Estimate, Length, Ratio};
use survey::verdict::Limits;

/// Cured once the hours of its own sheet have passed, and not where it was colder than the sheet allows.
pub(super) fn cure(cure: &MembraneCure, now: &str) -> CameTo {
    let passed = between(&cure.finished, now);
    let cold = cure.air_c.zip(cure.least_c).is_some_and(|(air, least)| air < least);
    let done = passed.is_some_and(|passed| passed.at_least(Duration::seconds(cure.hours * 3600.0)));
    let came = match (cold, done) {
        (true, _) => CameTo::new(Verdict::TooCloseToCall, TestWhy::TooCold, Cover::NotYet),
        (false, true) => CameTo::new(Verdict::Within, TestWhy::Cured, Cover::Yes),
        (false, false) => CameTo::new(Verdict::NotTested, TestWhy::StillCuring, Cover::NotYet),
    };
    CameTo { not_before: after(&cure.finished, cure.hours).filter(|_| !done), ..came }
}

pub(super) fn moisture(figures: &Figures, one: &Moisture) -> CameTo {
    let value = Estimate::new(Ratio::of(one.value), Ratio::of(one.u));
    let verdict = verdict::inside(figures, value, Limits::at_most(Ratio::of(one.most)));
    of_limit(verdict, [TestWhy::Dry, TestWhy::Wet]).with(one.value, one.u, one.most)
}

pub(super) fn coating(figures: &Figures, one: &Coating) -> CameTo {
    let value = Estimate::new(Length::mm(one.value), Length::mm(one.u));
    let verdict = verdict::inside(figures, value, Limits::at_least(Length::mm(one.least)));
    of_limit(verdict, [TestWhy::Enough, TestWhy::TooLittle]).with(one.value, one.u, one.least)
}

pub(super) fn slope_water(one: &SlopeWater) -> CameTo {
    match one.stands {
        true => CameTo { value: one.deepest, ..CameTo::new(Verdict::Out, TestWhy::WaterStands, Cover::No) },
        false => CameTo::new(Verdict::Within, TestWhy::RunsOff, Cover::Yes),
    }
}

fn of_limit(verdict: Verdict, [within, out]: [TestWhy; 2]) -> CameTo {
    match verdict {
        Verdict::Within => CameTo::new(verdict, within, Cover::Yes),
        Verdict::Out => CameTo::new(verdict, out, Cover::No),
        _ => CameTo::new(verdict, TestWhy::Unsure, Cover::NotYet),
    }
}
