//! The private texts of a room: its place, who read and what they noted, people and notes on the record. The journal
//! holds their digests only, so what comes in from a file is sealed before it is written.

use crate::forms::*;
use judge::Refusal;
use store::is_digest;

/// Where a private text stands: `readings[3].by`.
pub(crate) struct Spot(&'static str, usize, &'static str);

impl Spot {
    pub(crate) fn field(&self) -> String {
        let Self(list, at, name) = self;
        if *list == "room" { format!("room.{name}") } else { format!("{list}[{at}].{name}") }
    }
}

/// What is done with a private text.
pub(crate) type Visit<'v> = dyn FnMut(&Spot, &mut String) -> Result<(), Refusal> + 'v;

/// Goes through the private texts of a room.
///
/// # Errors
/// Those of the visit.
pub(crate) fn each_of_room(file: &mut RoomFile, visit: &mut Visit<'_>) -> Result<(), Refusal> {
    if let Some(place) = &mut file.room.place {
        visit(&Spot("room", 0, "place"), place)?;
    }
    for (k, reading) in file.readings.iter_mut().enumerate() {
        each_of_reading(k, &mut reading.by, &mut reading.note, visit)?;
    }
    for (k, entry) in file.entries.iter_mut().enumerate() {
        each_of_entry(k, entry, visit)?;
    }
    Ok(())
}

/// The same of readings that are added.
///
/// # Errors
/// Those of the visit.
pub(crate) fn each_of_readings(readings: &mut [ReadingAdd], visit: &mut Visit<'_>) -> Result<(), Refusal> {
    readings
        .iter_mut()
        .enumerate()
        .try_for_each(|(k, reading)| each_of_reading(k, &mut reading.by, &mut reading.note, visit))
}

fn each_of_reading(
    k: usize,
    by: &mut Option<String>,
    note: &mut Option<String>,
    visit: &mut Visit<'_>,
) -> Result<(), Refusal> {
    for (name, text) in [("by", by), ("note", note)] {
        if let Some(text) = text {
            visit(&Spot("readings", k, name), text)?;
        }
    }
    Ok(())
}

/// The same of an entry of the record.
///
/// # Errors
/// Those of the visit.
pub(crate) fn each_of_entry(k: usize, entry: &mut RecordEntry, visit: &mut Visit<'_>) -> Result<(), Refusal> {
    private_text(entry).map_or(Ok(()), |text| visit(&Spot("entries", k, "what"), text))
}

/// The text of an entry that is private, where it has one.
fn private_text(entry: &mut RecordEntry) -> Option<&mut String> {
    match &mut entry.what {
        EntryKind::Note(Note { text }) => Some(text),
        EntryKind::Person(Person { name, .. }) | EntryKind::SignOff(SignOff { name, .. }) => Some(name),
        _ => None,
    }
}

/// Whether a text can be read by everybody: it is not empty, and no digest stands in its place.
pub(crate) fn in_clear(text: &str) -> bool {
    !text.is_empty() && !is_digest(text)
}
