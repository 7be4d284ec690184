//! Points that two people read, each without knowing of the other: both readings stay until somebody chooses.

use super::current_readings;
use crate::forms::{Doubled, DoubledReading, Reading, RoomFile, Sense};
use std::collections::{BTreeMap, HashSet};

/// The points of which several readings by different people are in force, in the order of their names. A point of
/// which somebody said that all count is left out until it is read again.
pub(super) fn doubled(file: &RoomFile) -> Vec<Doubled> {
    let mut places: BTreeMap<(&str, &str), Vec<&Reading>> = BTreeMap::new();
    for reading in current_readings(file).filter(|reading| matches!(reading.sense, Sense::Down | Sense::Up)) {
        let edge = reading.edge.as_deref().unwrap_or_default();
        places.entry((reading.point.as_str(), edge)).or_default().push(reading);
    }
    let undecided = |all: &[&Reading]| by_several(all) && !file.done.contains(&all_count(all));
    let places = places.into_iter().filter(|(_, all)| undecided(all));
    places.map(|((point, _), all)| Doubled { survey: survey_of(file, point), ..of(point, &all) }).collect()
}

fn by_several(all: &[&Reading]) -> bool {
    all.iter().map(|reading| reading.by.as_deref()).collect::<HashSet<_>>().len() > 1
}

/// The tick that says that all readings of a point up to its last one count.
fn all_count(all: &[&Reading]) -> String {
    let last = all.last().map(|reading| reading.id.as_str()).unwrap_or_default();
    format!("all-count {last}")
}

fn survey_of(file: &RoomFile, point: &str) -> String {
    let own = file.plan.points.iter().find(|one| one.id == point);
    own.map(|point| point.survey.clone()).unwrap_or_default()
}

fn of(point: &str, all: &[&Reading]) -> Doubled {
    let readings = all.iter().map(|reading| DoubledReading {
        id: reading.id.clone(),
        entered: reading.entered.clone(),
        value: reading.value,
        at: reading.at.clone(),
        by: reading.by.clone(),
    });
    Doubled { point: point.to_string(), survey: String::new(), readings: readings.collect() }
}
