//! The rooms: one row each, archived but never removed.

use rusqlite::params;
use rusqlite::types::Type;

use crate::access::{ReadWrite, Rows};
use crate::columns::Columns;
use crate::error::StoreError;
use crate::id::RoomId;
use crate::journal::ChainHash;

/// A room and where its journal leads.
#[derive(Debug, Clone, PartialEq)]
pub struct Room {
    pub id: RoomId,
    pub name: String,
    /// The place in words, or the digest of a private text.
    pub place: Option<String>,
    pub units: Units,
    pub created_at: String,
    pub archived_at: Option<String>,
}

impl Room {
    /// A room without a place, not archived.
    pub fn new(id: impl Into<RoomId>, name: &str, units: Units, created_at: &str) -> Self {
        Self { id: id.into(), name: name.into(), place: None, units, created_at: created_at.into(), archived_at: None }
    }
}

/// A room as a list of rooms shows it.
#[derive(Debug, Clone, PartialEq)]
pub struct Listed {
    pub room: Room,
    /// The private text of its place, where it is kept.
    pub place: Option<String>,
    /// When its journal was last written, and the hash it then had; none for a room that is not in the journal.
    pub last: Option<(String, ChainHash)>,
}

/// The units in which a room is read and answered.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Units {
    Inches,
    Millimetres,
}

impl Units {
    /// The name used in the file: `in` or `mm`.
    pub fn name(self) -> &'static str {
        match self {
            Self::Inches => "in",
            Self::Millimetres => "mm",
        }
    }

    /// The units of a name; none for any other text.
    pub fn of_name(name: &str) -> Option<Self> {
        [Self::Inches, Self::Millimetres].into_iter().find(|units| units.name() == name)
    }
}

impl<Access> Rows<'_, Room, Access> {
    pub fn get(&self, id: &RoomId) -> Result<Option<Room>, StoreError> {
        self.first(include_str!("get.sql"), [id], take)
    }

    /// Every room, archived ones too, in the order they were made.
    pub fn all(&self) -> Result<Vec<Room>, StoreError> {
        self.list(include_str!("all.sql"), [], take)
    }
}

impl<Access> Rows<'_, Room, Access> {
    /// Every room with its place and its last change, the newest first.
    pub fn listed(&self) -> Result<Vec<Listed>, StoreError> {
        self.list(include_str!("listed.sql"), [], |columns| {
            let (room, revealed): (_, Option<String>) = (take(columns)?, columns.take()?);
            let (at, hash): (Option<String>, Option<ChainHash>) = (columns.take()?, columns.take()?);
            Ok(Listed { place: revealed.or_else(|| room.place.clone()), last: at.zip(hash), room })
        })
    }
}

impl Rows<'_, Room, ReadWrite> {
    pub fn insert(&self, room: &Room) -> Result<(), StoreError> {
        self.change(
            include_str!("insert.sql"),
            params![room.id, room.name, room.place, room.units.name(), room.created_at, room.archived_at],
        )?;
        Ok(())
    }

    /// Writes every field of a room that is there.
    ///
    /// # Errors
    /// [`StoreError::Refused`] where there is no such room.
    pub fn update(&self, room: &Room) -> Result<(), StoreError> {
        self.change_one(
            include_str!("update.sql"),
            params![room.id, room.name, room.place, room.units.name(), room.created_at, room.archived_at],
            "room",
        )
    }
}

fn take(columns: &mut Columns<'_>) -> rusqlite::Result<Room> {
    Ok(Room {
        id: columns.take()?,
        name: columns.take()?,
        place: columns.take()?,
        units: units(columns)?,
        created_at: columns.take()?,
        archived_at: columns.take()?,
    })
}

fn units(columns: &mut Columns<'_>) -> rusqlite::Result<Units> {
    let name: String = columns.take()?;
    Units::of_name(&name).ok_or_else(|| columns.unreadable(Type::Text, format!("unknown units {name:?}")))
}
