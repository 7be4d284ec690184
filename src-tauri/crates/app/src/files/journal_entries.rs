//! Entries of the journal as they travel in a room file.

use crate::forms::{InverseEntry, JournalEntry};
use judge::Refusal;
use store::{ChainHash, Entry, EntryId, Inverse, Recorded, RoomId};

/// An entry as it travels.
pub(crate) fn entry_out(recorded: Recorded) -> JournalEntry {
    let Recorded { seq, entry, hash } = recorded;
    JournalEntry {
        seq,
        id: entry.id.to_string(),
        at: entry.at,
        device: entry.device,
        person: entry.person,
        command: entry.command,
        form: entry.form,
        payload: text_of(entry.payload),
        undoes: entry.undoes.map(|id| id.to_string()),
        inverse: entry.inverse.map(|inverse| InverseEntry {
            command: inverse.command,
            form: inverse.form,
            payload: text_of(inverse.payload),
        }),
        origin: entry.origin.map(|hash| hash.to_string()),
        hash: hash.to_string(),
    }
}

/// Payloads are JSON text by construction.
fn text_of(payload: Vec<u8>) -> String {
    String::from_utf8_lossy(&payload).into_owned()
}

/// An entry of a file as the store keeps it.
pub(crate) fn recorded(entry: &JournalEntry, room: &RoomId) -> Result<Recorded, Refusal> {
    let hash = |text: &str| chain_hash(entry.seq, text);
    let inverse = entry.inverse.as_ref().map(|inverse| Inverse {
        command: inverse.command.clone(),
        form: inverse.form,
        payload: inverse.payload.clone().into_bytes(),
    });
    Ok(Recorded {
        seq: entry.seq,
        hash: hash(&entry.hash)?,
        entry: Entry {
            id: EntryId::from(entry.id.as_str()),
            room: Some(room.clone()),
            at: entry.at.clone(),
            device: entry.device.clone(),
            person: entry.person.clone(),
            command: entry.command.clone(),
            form: entry.form,
            payload: entry.payload.clone().into_bytes(),
            undoes: entry.undoes.as_deref().map(EntryId::from),
            inverse,
            origin: entry.origin.as_deref().map(hash).transpose()?,
        },
    })
}

pub(super) fn chain_hash(seq: u32, text: &str) -> Result<ChainHash, Refusal> {
    let field = || format!("journal[{}].hash", seq.saturating_sub(1));
    text.parse().map_err(|_| Refusal::out_of_range(field(), "64 hexadecimal digits"))
}
