//! The whole state of a room out of its tables, in the form of its file.

use crate::commands::entries::PREFIX;
use crate::commands::{answer, approval, reading, setup};
use crate::fault::{Fault, refused};
use crate::forms::*;
use crate::rooms::private::each_of_room;
use judge::Refusal;
use judge::forms::json;
use serde::de::DeserializeOwned;
use store::{Read, Room, RoomId};

/// The room as its file states it, without the journal: private texts as far as they are still kept.
///
/// # Errors
/// `not-found` if there is no such room.
pub(crate) fn read_room(read: &Read<'_>, id: &RoomId) -> Result<RoomFile, Fault> {
    let mut room = read_sealed(read, id)?;
    // A place that was forgotten is none; elsewhere its digest says that something stood there.
    room.room.place = room.room.place.map(|place| read.reveal(&place)).transpose()?.flatten();
    each_of_room(&mut room, &mut |_, text| {
        if let Some(revealed) = read.reveal(text).map_err(refused)? {
            *text = revealed;
        }
        Ok(())
    })?;
    Ok(room)
}

/// The same with digests in the place of private texts.
///
/// # Errors
/// `not-found` if there is no such room.
pub(crate) fn read_sealed(read: &Read<'_>, id: &RoomId) -> Result<RoomFile, Fault> {
    let room = read.rooms().get(id)?.ok_or_else(|| Refusal::not_found("room", id.as_str()))?;
    Ok(RoomFile {
        schema: SCHEMA,
        room: head(room),
        plan: document(read, id, "plan")?.unwrap_or_default(),
        setups: read.setups().of_room(id)?.into_iter().filter_map(setup).collect(),
        readings: read.readings().of_room(id)?.into_iter().map(reading).collect(),
        rules: document(read, id, "rules")?.unwrap_or_default(),
        layers: document(read, id, "layers")?,
        works: document(read, id, "works")?.unwrap_or_default(),
        gate: read.answers().of_room(id)?.into_iter().map(answer).collect(),
        approvals: read.approvals().of_room(id)?.into_iter().map(approval).collect(),
        target: document(read, id, "target")?,
        done: read.ticks().of_room(id)?.into_iter().filter(|tick| tick.done).map(|tick| tick.item).collect(),
        entries: entries(read, id)?,
        journal: None,
        private: Vec::new(),
    })
}

fn head(room: Room) -> RoomHead {
    let units = match room.units {
        store::Units::Inches => Units::In,
        store::Units::Millimetres => Units::Mm,
    };
    RoomHead { id: room.id.to_string(), name: room.name, units, place: room.place, created: room.created_at }
}

/// The entries in the order they happened.
fn entries(read: &Read<'_>, room: &RoomId) -> Result<Vec<RecordEntry>, Fault> {
    let documents = read.documents().of_room(Some(room))?;
    let bodies = documents.iter().filter(|document| document.name.starts_with(PREFIX));
    let mut entries: Vec<RecordEntry> = bodies.map(|document| json::read(&document.body)).collect::<Result<_, _>>()?;
    entries.sort_by(|a, b| (&a.at, &a.id).cmp(&(&b.at, &b.id)));
    Ok(entries)
}

fn document<T: DeserializeOwned>(read: &Read<'_>, room: &RoomId, name: &str) -> Result<Option<T>, Fault> {
    Ok(read.documents().get(Some(room), name)?.map(|body| json::read(&body)).transpose()?)
}

/// The private texts that a room's journal names, as far as they are still kept.
pub(crate) fn read_private(read: &Read<'_>, journal: &[JournalEntry]) -> Result<Vec<PrivateText>, Fault> {
    let mut texts = Vec::new();
    for digest in digests(journal) {
        if let Some(text) = read.private_text(&digest)? {
            let salt = text.salt.iter().map(|byte| format!("{byte:02x}")).collect();
            texts.push(PrivateText { salt, value: text.value });
        }
    }
    Ok(texts)
}

/// Every `sha256:` digest that stands in a journal.
fn digests(journal: &[JournalEntry]) -> std::collections::BTreeSet<String> {
    let texts = journal.iter().flat_map(|entry| [Some(entry.payload.as_str()), entry.person.as_deref()]).flatten();
    texts
        .flat_map(|text| text.match_indices("sha256:").filter_map(|(at, _)| text.get(at..at + 71)))
        .map(str::to_string)
        .collect()
}
