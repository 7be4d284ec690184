//! A heating cable: bury it, or replace it.

use super::came_to::CameTo;
use crate::forms::*;
use crate::room::rules::Figures;
use crate::room::verdict;
use survey::heat_cable::band;
use survey::units::{Estimate, Ratio, Resistance};

/// Every reading is held against the label; the first that is out decides. A cable may be covered once it was read in
/// the box and again where it lies, to earth too.
pub(super) fn judged(figures: &Figures, cable: &HeatCable) -> CameTo {
    let limits = band(Resistance::ohms(cable.label_ohms), Ratio::of(cable.less), Ratio::of(cable.more));
    let verdicts: Vec<(Verdict, &CableReading)> = cable
        .readings
        .iter()
        .map(|reading| {
            let value = Estimate::new(Resistance::ohms(reading.ohms), Resistance::ohms(reading.u));
            (verdict::inside(figures, value, limits), reading)
        })
        .collect();
    let of = |verdict: Verdict, why, cover, reading: &CableReading| {
        let limit = if reading.ohms < cable.label_ohms { limits.lower } else { limits.upper };
        CameTo::new(verdict, why, cover).with(reading.ohms, reading.u, limit.map_or(0.0, Resistance::to_ohms))
    };
    let found = |wanted: Verdict| verdicts.iter().find(|(verdict, _)| *verdict == wanted).map(|(_, reading)| *reading);
    if let Some(reading) = found(Verdict::Out) {
        return of(Verdict::Out, TestWhy::OutOfBand, Cover::No, reading);
    }
    if let Some(reading) = cable.readings.iter().find(|reading| leaks_to_earth(cable, reading)) {
        return CameTo::new(Verdict::Out, TestWhy::InsulationLow, Cover::No).with(
            reading.insulation.unwrap_or(0.0),
            0.0,
            cable.insulation_least,
        );
    }
    if let Some(reading) = found(Verdict::TooCloseToCall) {
        return of(Verdict::TooCloseToCall, TestWhy::Unsure, Cover::NotYet, reading);
    }
    let missing = missing(cable);
    match (missing, cable.readings.last()) {
        (Some(why), _) => CameTo::new(Verdict::NotTested, why, Cover::NotYet),
        (None, Some(last)) => of(Verdict::Within, TestWhy::InBand, Cover::Yes, last),
        (None, None) => CameTo::new(Verdict::NotTested, TestWhy::StageMissing, Cover::NotYet),
    }
}

fn leaks_to_earth(cable: &HeatCable, reading: &CableReading) -> bool {
    reading.insulation.is_some_and(|insulation| insulation < cable.insulation_least)
}

/// What is missing before the next cover goes on.
fn missing(cable: &HeatCable) -> Option<TestWhy> {
    let read = |stage: CableStage| cable.readings.iter().find(|reading| reading.stage == stage);
    let Some(laid) = read(CableStage::Laid).filter(|_| read(CableStage::Delivered).is_some()) else {
        return Some(TestWhy::StageMissing);
    };
    (laid.insulation.is_none() && cable.insulation_least > 0.0).then_some(TestWhy::InsulationMissing)
}
