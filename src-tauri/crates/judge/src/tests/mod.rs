//! The entries of the record, and what the tests among them came to.

pub mod built;
mod cable;
mod came_to;
mod flood;
mod hours;
pub mod places;
mod plain;

use crate::forms::*;
use crate::room::rules::{Figures, LengthId, NumberId};
use crate::words;

/// The tests of a room and what they came to at a time, in the order they began.
pub fn tests(file: &RoomFile, now: &str) -> Vec<TestView> {
    file.entries.iter().filter_map(|entry| judged(file, entry, now)).collect()
}

/// Every test of a room with its verdict, the latest first.
pub fn tests_view(file: &RoomFile, now: String) -> TestsView {
    let figures = Figures::of(&file.rules);
    let mut tests = tests(file, &now);
    tests.reverse();
    TestsView {
        tests,
        now,
        flood_hours: figures.number(NumberId::FloodHours),
        flood_depth: figures.length(LengthId::FloodDepth).to_mm(),
    }
}

/// The entries of a room that are no tests, the latest first.
pub fn entries_view(file: &RoomFile) -> EntriesView {
    let mut entries: Vec<RecordEntry> =
        file.entries.iter().filter(|entry| judged(file, entry, "").is_none()).cloned().collect();
    entries.reverse();
    let (hidden, built) = (places::of_entries(&file.plan, &entries), built::compared(file, &entries));
    EntriesView { entries, hidden, built }
}

/// What a test came to at a time; none for an entry that is no test.
fn judged(file: &RoomFile, entry: &RecordEntry, now: &str) -> Option<TestView> {
    let figures = Figures::of(&file.rules);
    let came_to = match &entry.what {
        EntryKind::Flood(test) => flood::judged(&figures, entry, test, now),
        EntryKind::Cure(cure) => plain::cure(cure, now),
        EntryKind::HeatCable(cable) => cable::judged(&figures, cable),
        EntryKind::Moisture(one) => plain::moisture(&figures, one),
        EntryKind::Coating(one) => plain::coating(&figures, one),
        EntryKind::SlopeWater(one) => plain::slope_water(one),
        EntryKind::Photograph(_) | EntryKind::Hidden(_) | EntryKind::Material(_) | EntryKind::AsBuilt(_) => {
            return None;
        }
        EntryKind::Note(_) | EntryKind::Person(_) | EntryKind::SignOff(_) => return None,
    };
    let view = TestView {
        entry: entry.clone(),
        verdict: came_to.verdict,
        why: came_to.why,
        cover: came_to.cover,
        value: came_to.value,
        u: came_to.u,
        limit: came_to.limit,
        not_before: came_to.not_before,
        rule: came_to.rule,
        sentence: String::new(),
    };
    let sentence = words::tests::sentence(&view, words::Say::new(file.room.units));
    Some(TestView { sentence, ..view })
}
