//! Readings: what was measured, kept as it was entered. A correction is a new row that supersedes.

mod measured;

use rusqlite::params;
use survey::units::Length;

use crate::access::{ReadWrite, Rows};
use crate::columns::Columns;
use crate::error::StoreError;
use crate::id::{ReadingId, RoomId, SetupId};

pub use measured::Measured;

/// One reading. Only `withdrawn` ever changes, and only by undoing.
#[derive(Debug, Clone, PartialEq)]
pub struct Reading {
    pub room: RoomId,
    pub id: ReadingId,
    /// The standing it was taken from; a reading down from the line must have one.
    pub setup: Option<SetupId>,
    pub point: String,
    pub measured: Measured,
    /// The text as it was typed or received.
    pub entered: String,
    /// The edge of the joist it was taken on, where both are read.
    pub edge: Option<String>,
    /// `typed`, `csv`, `keyboard`, `practice` or `device:` and its id.
    pub source: String,
    /// The bytes an instrument sent.
    pub raw: Option<Vec<u8>>,
    pub at: String,
    pub by: Option<String>,
    /// The standard uncertainty; of a tilt, that of the rise over its foot.
    pub sd: Option<Length>,
    pub note: Option<String>,
    /// The reading this one corrects.
    pub supersedes: Option<ReadingId>,
    pub withdrawn: bool,
}

impl<Access> Rows<'_, Reading, Access> {
    pub fn get(&self, room: &RoomId, id: &ReadingId) -> Result<Option<Reading>, StoreError> {
        self.first(include_str!("get.sql"), params![room, id], take)
    }

    /// Every reading of a room in the order they were kept, superseded and withdrawn ones too.
    pub fn of_room(&self, room: &RoomId) -> Result<Vec<Reading>, StoreError> {
        self.list(include_str!("of_room.sql"), [room], take)
    }

    /// The readings that count: not withdrawn, and not superseded by one that is not withdrawn.
    pub fn current_of_room(&self, room: &RoomId) -> Result<Vec<Reading>, StoreError> {
        self.list(include_str!("current_of_room.sql"), [room], take)
    }
}

impl Rows<'_, Reading, ReadWrite> {
    /// Keeps a reading.
    ///
    /// # Errors
    /// [`StoreError::Refused`] where its room, its set-up or the reading it corrects is not there, where a reading
    /// down from the line has no set-up, and where the id is taken.
    pub fn insert(&self, reading: &Reading) -> Result<(), StoreError> {
        let parts = reading.measured.parts();
        self.change(
            include_str!("insert.sql"),
            params![
                reading.room,
                reading.id,
                reading.setup,
                reading.point,
                reading.measured.sense(),
                parts.value,
                parts.length,
                parts.x2,
                parts.y2,
                parts.foot,
                reading.entered,
                reading.edge,
                reading.source,
                reading.raw,
                reading.at,
                reading.by,
                reading.sd.map(Length::to_mm),
                reading.note,
                reading.supersedes,
                reading.withdrawn,
            ],
        )?;
        Ok(())
    }

    /// Marks a reading as withdrawn, or as standing again.
    ///
    /// # Errors
    /// [`StoreError::Refused`] where there is no such reading.
    pub fn set_withdrawn(&self, room: &RoomId, id: &ReadingId, withdrawn: bool) -> Result<(), StoreError> {
        self.change_one(include_str!("set_withdrawn.sql"), params![room, id, withdrawn], "reading")
    }
}

fn take(columns: &mut Columns<'_>) -> rusqlite::Result<Reading> {
    Ok(Reading {
        room: columns.take()?,
        id: columns.take()?,
        setup: columns.take()?,
        point: columns.take()?,
        measured: measured::take(columns)?,
        entered: columns.take()?,
        edge: columns.take()?,
        source: columns.take()?,
        raw: columns.take()?,
        at: columns.take()?,
        by: columns.take()?,
        sd: columns.length_if_any()?,
        note: columns.take()?,
        supersedes: columns.take()?,
        withdrawn: columns.take()?,
    })
}
