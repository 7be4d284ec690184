//! A room without its private texts: only their digests stay, and the journal still verifies.

use crate::refusal::{Kind, Refusal};
use crate::wire::*;
use std::collections::HashMap;
use store::private_digest;

/// The file with every private text taken out.
///
/// # Errors
/// `not-ready` where a place was written into the journal in plain words, which cannot be taken out.
pub(crate) fn black_out(file: RoomFile) -> Result<RoomFile, Refusal> {
    let digests: HashMap<String, String> = file
        .private
        .iter()
        .map(|text| Ok((text.value.clone(), private_digest(&crate::app::salt(&text.salt)?, &text.value))))
        .collect::<Result<_, Refusal>>()?;
    if let Some(place) = file.room.place.as_ref().filter(|place| !digests.contains_key(*place)) {
        let message = format!(
            "The place {place:?} was entered before places were private, so it stands in the journal and cannot be blacked out."
        );
        return Err(Refusal::new(Kind::NotReady, message).field("room.place"));
    }
    let in_plain = |name: &str| file.journal.iter().flatten().any(|entry| entry.payload.contains(name));
    let mut readings = file.readings;
    for by in readings.iter_mut().filter_map(|reading| reading.by.as_mut()) {
        if let Some(digest) = digests.get(by).filter(|_| !in_plain(by)) {
            by.clone_from(digest);
        }
    }
    let mut entries = file.entries;
    for text in entries.iter_mut().filter_map(private_text) {
        if let Some(digest) = digests.get(text) {
            text.clone_from(digest);
        }
    }
    Ok(RoomFile { room: RoomHead { place: None, ..file.room }, entries, readings, private: Vec::new(), ..file })
}

/// The text of an entry that is private, where it has one.
pub(crate) fn private_text(entry: &mut RecordEntry) -> Option<&mut String> {
    match &mut entry.what {
        EntryKind::Note(Note { text }) => Some(text),
        EntryKind::Person(Person { name, .. }) | EntryKind::SignOff(SignOff { name, .. }) => Some(name),
        _ => None,
    }
}
