//! The private texts of a room: its place, who read and what they noted, people and notes on the record. The journal
//! holds their digests only, so what comes in from a file is sealed before it is written.

use super::salt::salt;
use crate::app::App;
use crate::fault::Fault;
use crate::files::journal_entries::entry_out;
use crate::files::sha256sums::sha256;
use crate::forms::*;
use crate::rooms::read_private;
use judge::Refusal;
use std::collections::HashMap;
use store::{EntryId, SALT_BYTES, Tx, is_digest, private_digest};

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

/// Seals the private texts of one change, each under a salt of its own.
pub(crate) struct Sealing {
    drawn: String,
    digests: HashMap<String, String>,
    sealed: Vec<PrivateText>,
}

impl Sealing {
    /// For the change of an id: a repeat is sealed as it was the first time, so that it is the same change.
    ///
    /// # Errors
    /// Whatever keeps the rooms from being read.
    pub(crate) fn of(app: &App, id: &str) -> Result<Self, Refusal> {
        let before = app.store.read(|read| match read.entry(&EntryId::from(id))? {
            Some(entry) => read_private(read, &[entry_out(entry)]),
            None => Ok(Vec::new()),
        })?;
        let digests = before.into_iter().map(|text| Ok((digest(&text)?, text.value)));
        let digests = digests.map(|pair| pair.map(|(digest, value)| (value, digest)));
        let digests = digests.collect::<Result<_, Refusal>>()?;
        Ok(Self { drawn: format!("{}{}", app.new_id(), app.new_id()), digests, sealed: Vec::new() })
    }

    /// Puts its digest in the place of a text.
    ///
    /// # Errors
    /// None in practice: the salt is made here.
    pub(crate) fn seal(&mut self, text: &mut String) -> Result<(), Refusal> {
        if !in_clear(text) {
            return Ok(());
        }
        if let Some(known) = self.digests.get(text) {
            text.clone_from(known);
            return Ok(());
        }
        let salt: String =
            sha256(format!("{}{}", self.drawn, self.sealed.len()).as_bytes()).chars().take(2 * SALT_BYTES).collect();
        let private = PrivateText { salt, value: std::mem::take(text) };
        *text = digest(&private)?;
        self.digests.insert(private.value.clone(), text.clone());
        self.sealed.push(private);
        Ok(())
    }

    /// Keeps what was sealed beside the journal.
    ///
    /// # Errors
    /// Whatever keeps it from being written.
    pub(crate) fn keep(&self, tx: &Tx<'_>) -> Result<(), Fault> {
        self.sealed
            .iter()
            .try_for_each(|text| tx.keep_private(&salt(&text.salt)?, &text.value).map(drop).map_err(Into::into))
    }
}

fn digest(text: &PrivateText) -> Result<String, Refusal> {
    Ok(private_digest(&salt(&text.salt)?, &text.value))
}

impl App {
    /// A fresh salt for a private text, and the digest that stands for it.
    pub fn seal(&self, value: &str) -> Sealed {
        let drawn = sha256(format!("{}{}", self.new_id(), self.new_id()).as_bytes());
        let digits: String = drawn.chars().take(2 * SALT_BYTES).collect();
        let bytes = salt(&digits).unwrap_or_default();
        Sealed { digest: private_digest(&bytes, value), salt: digits }
    }
}
