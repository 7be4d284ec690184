//! The entries of the record, and what the tests among them came to.

pub(crate) mod built;
mod cable;
mod flood;
mod places;
mod plain;

use crate::app::App;
use crate::clock::{Clock, is_time};
use crate::refusal::Refusal;
use crate::rules::Figures;
use crate::wire::*;
use crate::words;
use survey::units::Duration;

impl App {
    /// Every test of a room and what it came to, the latest first.
    ///
    /// # Errors
    /// `not-found` if there is no such room.
    pub fn tests(&self, room: &str) -> Result<TestsView, Refusal> {
        let (file, now) = (self.room_state(room)?, self.now());
        let figures = Figures::of(&file.rules);
        let mut tests = tests_of(&file, &now);
        tests.reverse();
        Ok(TestsView { tests, now, flood_hours: figures.value("flood-hours"), flood_depth: figures.mm("flood-depth") })
    }

    /// A fresh salt for a private text, and the digest that stands for it.
    pub fn seal(&self, value: &str) -> Sealed {
        let drawn = crate::sums::sha256(format!("{}{}", self.new_id(), self.new_id()).as_bytes());
        let salt: String = drawn.chars().take(2 * store::SALT_BYTES).collect();
        let bytes = crate::app::salt(&salt).unwrap_or_default();
        Sealed { digest: store::private_digest(&bytes, value), salt }
    }

    /// The entries of a room that are no tests, the latest first.
    ///
    /// # Errors
    /// `not-found` if there is no such room.
    pub fn entries(&self, room: &str) -> Result<EntriesView, Refusal> {
        let file = self.room_state(room)?;
        let mut entries: Vec<RecordEntry> =
            file.entries.iter().filter(|entry| judged(&file, entry, "").is_none()).cloned().collect();
        entries.reverse();
        let (hidden, built) = (places::of_entries(&file.plan, &entries), built::compared(&file, &entries));
        Ok(EntriesView { entries, hidden, built })
    }
}

/// What the tests of a room came to by now, in the order they began.
pub fn tests(file: &RoomFile) -> Vec<TestView> {
    tests_of(file, &Clock::from_environment().now())
}

/// The tests of a room in the order they began.
pub(crate) fn tests_of(file: &RoomFile, now: &str) -> Vec<TestView> {
    file.entries.iter().filter_map(|entry| judged(file, entry, now)).collect()
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
