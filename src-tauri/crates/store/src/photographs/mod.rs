//! Photographs: the digest and the name of each; the pictures are files beside the database.

use rusqlite::params;

use crate::access::{ReadWrite, Rows};
use crate::columns::Columns;
use crate::error::StoreError;
use crate::id::RoomId;

/// A photograph of a room.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Photograph {
    pub room: RoomId,
    /// The SHA-256 of the file's bytes, in 64 lower-case hexadecimal digits.
    pub sha256: String,
    pub name: String,
    pub taken_at: Option<String>,
    pub note: Option<String>,
}

impl<Access> Rows<'_, Photograph, Access> {
    /// The photographs of a room in the order they were kept.
    pub fn of_room(&self, room: &RoomId) -> Result<Vec<Photograph>, StoreError> {
        self.list(include_str!("of_room.sql"), [room], take)
    }
}

impl Rows<'_, Photograph, ReadWrite> {
    pub fn insert(&self, photograph: &Photograph) -> Result<(), StoreError> {
        let Photograph { room, sha256, name, taken_at, note } = photograph;
        self.change(include_str!("insert.sql"), params![room, sha256, name, taken_at, note])?;
        Ok(())
    }

    /// Takes a photograph off the room where it is there.
    pub fn remove(&self, room: &RoomId, sha256: &str) -> Result<(), StoreError> {
        self.change(include_str!("remove.sql"), params![room, sha256])?;
        Ok(())
    }
}

fn take(columns: &mut Columns<'_>) -> rusqlite::Result<Photograph> {
    Ok(Photograph {
        room: columns.take()?,
        sha256: columns.take()?,
        name: columns.take()?,
        taken_at: columns.take()?,
        note: columns.take()?,
    })
}
