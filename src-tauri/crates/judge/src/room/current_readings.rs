//! Which readings count: those that were neither taken back nor corrected.

use crate::forms::{Reading, RoomFile, Sense};
use std::collections::{HashMap, HashSet};

/// The readings in force: not taken back, and not corrected by one that is not taken back.
pub fn current_readings(file: &RoomFile) -> impl Iterator<Item = &Reading> {
    let standing = file.readings.iter().filter(|reading| !reading.withdrawn);
    let superseded: HashSet<&str> = standing.clone().filter_map(|reading| reading.supersedes.as_deref()).collect();
    standing.filter(move |reading| !superseded.contains(reading.id.as_str()))
}

/// The reading of its height that is in force at each point; a gap or a tilt that begins there is none.
pub fn latest_by_point(file: &RoomFile) -> HashMap<&str, &Reading> {
    let heights = current_readings(file).filter(|reading| matches!(reading.sense, Sense::Down | Sense::Up));
    heights.map(|reading| (reading.point.as_str(), reading)).collect()
}
