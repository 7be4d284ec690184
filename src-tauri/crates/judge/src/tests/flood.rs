//! A flood test: whether what is gone is more than the air took.

use super::came_to::CameTo;
use super::hours::{after, between};
use crate::forms::*;
use crate::room::rules::{Figures, LengthId};
use crate::room::verdict;
use survey::flood_test::{Loss, Mark, loss};
use survey::units::{Duration, Length};

pub(super) fn judged(figures: &Figures, entry: &RecordEntry, test: &FloodTest, now: &str) -> CameTo {
    let asked = Duration::seconds(test.hours * 3600.0);
    let least = figures.length(LengthId::FloodDepth);
    let rule = Some(figures.name(LengthId::FloodDepth));
    if !Length::mm(test.depth).at_least(least) {
        let came = CameTo::new(Verdict::Out, TestWhy::TooShallow, Cover::No);
        return CameTo { rule, ..came.with(test.depth, 0.0, least.to_mm()) };
    }
    let marks: Vec<Mark> = test.marks.iter().filter_map(|mark| mark_of(entry, mark)).collect();
    let end = after(&entry.at, test.hours);
    let came = match loss(&marks, figures.length(LengthId::FloodMarkSd), asked) {
        Err(_) => CameTo::new(Verdict::NotTested, TestWhy::NoMark, Cover::NotYet),
        Ok(found) => of_loss(figures, found, asked),
    };
    let stands_on = end.as_deref().and_then(|end| between(now, end)).is_some_and(|left| left > Duration::ZERO);
    let waits = matches!(came.why, TestWhy::NoMark | TestWhy::StandsOn) && stands_on;
    CameTo { not_before: end.filter(|_| waits), rule: Some(figures.name(LengthId::FloodLoss)), ..came }
}

fn mark_of(entry: &RecordEntry, mark: &FloodMark) -> Option<Mark> {
    let control = mark.control.and_then(|control| Length::try_mm(control).ok());
    Some(Mark { after: between(&entry.at, &mark.at)?, drop: Length::try_mm(mark.drop).ok()?, control })
}

/// The verdict on a loss: *out* is said as soon as it is sure, *within* only after the whole time.
fn of_loss(figures: &Figures, found: Loss, asked: Duration) -> CameTo {
    let limit = figures.length(LengthId::FloodLoss);
    let (verdict, _) = verdict::at_most(figures, found.loss, limit);
    let whole = found.lasted.at_least(asked);
    let (verdict, why, cover) = match verdict {
        Verdict::Out if found.controlled => (verdict, TestWhy::Leaks, Cover::No),
        Verdict::Out => (Verdict::TooCloseToCall, TestWhy::NoControl, Cover::NotYet),
        _ if !whole => (Verdict::NotTested, TestWhy::StandsOn, Cover::NotYet),
        Verdict::Within => (verdict, TestWhy::Tight, Cover::Yes),
        _ if !found.controlled => (verdict, TestWhy::NoControl, Cover::NotYet),
        _ => (verdict, TestWhy::Unsure, Cover::NotYet),
    };
    CameTo::new(verdict, why, cover).with(found.loss.value.to_mm(), found.loss.u.to_mm(), limit.to_mm())
}
