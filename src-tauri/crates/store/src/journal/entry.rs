//! An entry as it is handed in, and as it stands in its chain.

use crate::columns::Columns;
use crate::id::{EntryId, RoomId};
use crate::journal::hash::ChainHash;

/// A change: a command in bytes, who made it where and when, and the command that would take it back.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Entry {
    /// Made where the change was entered, so that sending it twice is harmless.
    pub id: EntryId,
    /// The room whose chain it joins; none for the chain of the settings.
    pub room: Option<RoomId>,
    /// RFC 3339 with an offset.
    pub at: String,
    pub device: String,
    /// Who made it, or the digest of a private text.
    pub person: Option<String>,
    pub command: String,
    /// The version of the payload's form, from 1.
    pub form: u32,
    /// Kept and hashed as it came, byte for byte.
    pub payload: Vec<u8>,
    /// The entry that this one undoes.
    pub undoes: Option<EntryId>,
    pub inverse: Option<Inverse>,
    /// The hash it had in the chain of another device, where it was taken over from one.
    pub origin: Option<ChainHash>,
}

/// The command that takes an entry back.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Inverse {
    pub command: String,
    pub form: u32,
    pub payload: Vec<u8>,
}

impl Entry {
    /// An entry of form 1 in the chain of the settings, with no inverse.
    pub fn new(id: impl Into<EntryId>, at: &str, device: &str, command: &str, payload: impl Into<Vec<u8>>) -> Self {
        Self {
            id: id.into(),
            room: None,
            at: at.into(),
            device: device.into(),
            person: None,
            command: command.into(),
            form: 1,
            payload: payload.into(),
            undoes: None,
            inverse: None,
            origin: None,
        }
    }

    /// The same entry in the chain of a room.
    pub fn in_room(self, room: &RoomId) -> Self {
        Self { room: Some(room.clone()), ..self }
    }

    /// The same entry with the command that takes it back, in the same form.
    pub fn with_inverse(self, command: &str, payload: impl Into<Vec<u8>>) -> Self {
        let inverse = Inverse { command: command.into(), form: self.form, payload: payload.into() };
        Self { inverse: Some(inverse), ..self }
    }

    /// Whether both ask for the same change of the same chain.
    pub(super) fn asks_the_same(&self, other: &Self) -> bool {
        self.room == other.room
            && self.command == other.command
            && self.form == other.form
            && self.payload == other.payload
            && self.undoes == other.undoes
    }
}

/// An entry in its place in the chain.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Recorded {
    /// Its number in its chain, from 1.
    pub seq: u32,
    pub entry: Entry,
    pub hash: ChainHash,
}

/// Where an entry came to stand.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Appended {
    pub seq: u32,
    pub hash: ChainHash,
    /// The entry was there already: nothing was appended, and it must not be applied again.
    pub repeat: bool,
}

/// The last entry of a chain; number 0 and a hash of zeros before the first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Head {
    pub seq: u32,
    pub hash: ChainHash,
}

/// Takes the columns of an entry in the order of `history.sql`.
pub(crate) fn take(columns: &mut Columns<'_>) -> rusqlite::Result<Recorded> {
    let seq = columns.take()?;
    let entry = Entry {
        id: columns.take()?,
        room: columns.take()?,
        at: columns.take()?,
        device: columns.take()?,
        person: columns.take()?,
        command: columns.take()?,
        form: columns.take()?,
        payload: columns.take()?,
        undoes: columns.take()?,
        inverse: inverse(columns)?,
        origin: columns.take()?,
    };
    Ok(Recorded { seq, entry, hash: columns.take()? })
}

fn inverse(columns: &mut Columns<'_>) -> rusqlite::Result<Option<Inverse>> {
    let command: Option<String> = columns.take()?;
    let (form, payload): (Option<u32>, Option<Vec<u8>>) = (columns.take()?, columns.take()?);
    Ok(command.zip(form).zip(payload).map(|((command, form), payload)| Inverse { command, form, payload }))
}
