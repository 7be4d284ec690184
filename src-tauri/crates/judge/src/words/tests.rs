//! What a test came to, as one sentence for the terminal and the printed sheets.

use super::{Say, moment};
use crate::forms::*;

/// What was tested, what it came to, and what may be covered.
pub fn sentence(view: &TestView, say: Say) -> String {
    format!("{}: {}. {}", subject(&view.entry.what), why(view, say), cover(view))
}

/// What was tested, and where.
pub fn subject(what: &EntryKind) -> String {
    match what {
        EntryKind::Flood(test) => format!("Flood test, {}", test.place),
        EntryKind::Cure(cure) => format!("Cure of {}", cure.product),
        EntryKind::HeatCable(cable) => format!("Heat cable {}", cable.product),
        EntryKind::Moisture(one) => format!("Moisture of {}, {}", one.substrate, one.place),
        EntryKind::SlopeWater(one) => format!("Water on the slope, {}", one.place),
        EntryKind::Coating(one) => match one.measured {
            CoatingMeasure::Lap => format!("Lap of {}, {}", one.product, one.place),
            CoatingMeasure::Thickness => format!("Thickness of {}, {}", one.product, one.place),
        },
        EntryKind::Photograph(_) | EntryKind::Hidden(_) | EntryKind::Material(_) | EntryKind::AsBuilt(_) => {
            String::new()
        }
        EntryKind::Note(_) | EntryKind::Person(_) | EntryKind::SignOff(_) => String::new(),
    }
}

fn why(view: &TestView, say: Say) -> String {
    let (value, limit) = (view.value.unwrap_or(0.0), view.limit.unwrap_or(0.0));
    let length = |mm: f64| say.apart(value, limit).length(mm);
    let ohms = |ohms: f64| format!("{ohms:.1} Ω");
    match view.why {
        TestWhy::StillCuring => "still curing by its sheet".into(),
        TestWhy::TooCold => "it was colder than its sheet allows, so its hours do not count: ask the maker".into(),
        TestWhy::Cured => "cured by the hours of its sheet".into(),
        TestWhy::NoMark => "the water was not looked at yet".into(),
        TestWhy::StandsOn => "it holds so far and has not stood its time".into(),
        TestWhy::TooShallow => {
            format!("the water stands {} at the threshold, less than {}", length(value), length(limit))
        }
        TestWhy::Tight => format!("it lost {} beyond evaporation", length(value.max(0.0))),
        TestWhy::Leaks => format!("it lost {} beyond evaporation, more than {}", length(value), length(limit)),
        TestWhy::NoControl => {
            format!(
                "it dropped {}, and without an open vessel beside it evaporation cannot be told from a leak",
                length(value)
            )
        }
        TestWhy::Unsure => "too close to its limit for what it was read with".into(),
        TestWhy::StageMissing => "it has to be read in the box and again where it lies".into(),
        TestWhy::InsulationMissing => "its resistance to earth was not read where it lies".into(),
        TestWhy::InsulationLow => format!("{value} MΩ to earth, less than {limit}"),
        TestWhy::InBand => format!("{} is inside the band of its label", ohms(value)),
        TestWhy::OutOfBand => {
            format!("{} is outside the band of its label, which ends at {}", ohms(value), ohms(limit))
        }
        TestWhy::Dry => format!("{}, at most {}", with_unit(view, value), with_unit(view, limit)),
        TestWhy::Wet => format!("{}, more than {}", with_unit(view, value), with_unit(view, limit)),
        TestWhy::RunsOff => "all water ran off".into(),
        TestWhy::WaterStands => "water stands".into(),
        TestWhy::Enough => format!("{}, at least {}", length(value), length(limit)),
        TestWhy::TooLittle => format!("{}, less than {}", length(value), length(limit)),
    }
}

fn with_unit(view: &TestView, value: f64) -> String {
    let unit = if let EntryKind::Moisture(one) = &view.entry.what { one.unit.as_str() } else { "" };
    format!("{value} {unit}")
}

fn cover(view: &TestView) -> String {
    match (view.cover, &view.not_before) {
        (Cover::Yes, _) => "May be covered.".into(),
        (Cover::NotYet, Some(time)) => format!("Not to be covered before {}.", moment(time)),
        (Cover::NotYet, None) => "Not to be covered yet.".into(),
        (Cover::No, _) => "Not to be covered.".into(),
    }
}
