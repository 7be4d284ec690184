//! The entries of the record, and what the tests among them came to.

pub mod built;
mod cable;
mod flood;
pub mod places;
mod plain;

use crate::forms::time::is_time;
use crate::forms::*;
use crate::room::rules::{Figures, LengthId, NumberId};
use crate::words;
use survey::units::Duration;

/// The tests of a room and what they came to at a time, in the order they began.
pub fn tests(file: &RoomFile, now: &str) -> Vec<TestView> {
    file.entries.iter().filter_map(|entry| judged(file, entry, now)).collect()
}

/// Every test of a room and what it came to, the latest first.
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

/// What a test came to.
struct CameTo {
    verdict: Verdict,
    why: TestWhy,
    cover: Cover,
    value: Option<f64>,
    u: Option<f64>,
    limit: Option<f64>,
    not_before: Option<String>,
    rule: Option<RuleRef>,
}

impl CameTo {
    fn new(verdict: Verdict, why: TestWhy, cover: Cover) -> Self {
        Self { verdict, why, cover, value: None, u: None, limit: None, not_before: None, rule: None }
    }

    fn with(self, value: f64, u: f64, limit: f64) -> Self {
        Self { value: Some(value), u: Some(u), limit: Some(limit), ..self }
    }
}

/// From one time to another; none where either is no time.
fn between(from: &str, to: &str) -> Option<Duration> {
    if !is_time(from) || !is_time(to) {
        return None;
    }
    let (from, to): (jiff::Timestamp, jiff::Timestamp) = (from.parse().ok()?, to.parse().ok()?);
    Duration::try_seconds(to.duration_since(from).as_secs_f64()).ok()
}

/// So many hours after a time, in the time's own offset.
fn after(time: &str, hours: f64) -> Option<String> {
    let offset = time.get(19..)?.trim_start_matches(|c: char| c == '.' || c.is_ascii_digit());
    let zoned = jiff::fmt::strtime::parse(
        "%Y-%m-%dT%H:%M:%S%:z",
        format!("{}{}", time.get(..19)?, if offset == "Z" { "+00:00" } else { offset }),
    )
    .ok()?;
    let at = zoned.to_timestamp().ok()?;
    let span = jiff::SignedDuration::try_from_secs_f64(hours * 3600.0).ok()?;
    let then = at.checked_add(span).ok()?.to_zoned_datetime(zoned.offset()?.to_time_zone());
    Some(then.strftime("%Y-%m-%dT%H:%M:%S%:z").to_string())
}
