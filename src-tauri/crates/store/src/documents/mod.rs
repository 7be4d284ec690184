//! Documents: JSON texts under a name (`plan`, `rules`, `layers`, `target`), replaced whole.

use rusqlite::params;

use crate::access::{ReadWrite, Rows};
use crate::columns::Columns;
use crate::error::StoreError;
use crate::id::RoomId;

/// A JSON text of a room, or of the settings where the room is none.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Document {
    pub room: Option<RoomId>,
    pub name: String,
    pub body: String,
}

impl<Access> Rows<'_, Document, Access> {
    /// The text of a document.
    pub fn get(&self, room: Option<&RoomId>, name: &str) -> Result<Option<String>, StoreError> {
        self.first(include_str!("get.sql"), params![room, name], |columns| columns.take())
    }

    /// The documents of a room, or of the settings, by name.
    pub fn of_room(&self, room: Option<&RoomId>) -> Result<Vec<Document>, StoreError> {
        self.list(include_str!("of_room.sql"), [room], take)
    }
}

impl<Access> Rows<'_, Document, Access> {
    /// The entries of all rooms in whose JSON this text stands, in names of fields and digests too; ASCII letters of
    /// either case.
    pub fn entries_with(&self, text: &str) -> Result<Vec<Document>, StoreError> {
        self.list(include_str!("holding.sql"), [like(text)], take)
    }
}

/// A pattern that holds the text anywhere.
pub(crate) fn like(text: &str) -> String {
    let escaped = |c: char| "\\%_".contains(c).then_some('\\').into_iter().chain([c]);
    let plain: String = text.chars().flat_map(escaped).collect();
    format!("%{plain}%")
}

impl Rows<'_, Document, ReadWrite> {
    /// Puts a document in the place of the one of its name.
    ///
    /// # Errors
    /// [`StoreError::Refused`] unless the body is JSON and the room is there.
    pub fn put(&self, document: &Document) -> Result<(), StoreError> {
        let Document { room, name, body } = document;
        self.change(include_str!("put.sql"), params![room, name, body])?;
        Ok(())
    }

    /// Removes a document where there is one.
    pub fn remove(&self, room: Option<&RoomId>, name: &str) -> Result<(), StoreError> {
        self.change(include_str!("remove.sql"), params![room, name])?;
        Ok(())
    }
}

fn take(columns: &mut Columns<'_>) -> rusqlite::Result<Document> {
    Ok(Document { room: columns.take()?, name: columns.take()?, body: columns.take()? })
}
