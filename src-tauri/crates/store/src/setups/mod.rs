//! Set-ups: one standing of the instrument, from the benchmark sighted at the start to the one at the close.

use rusqlite::params;
use survey::units::Length;

use crate::access::{ReadWrite, Rows};
use crate::columns::Columns;
use crate::error::StoreError;
use crate::id::{RoomId, SetupId};

/// One standing of the instrument.
#[derive(Debug, Clone, PartialEq)]
pub struct Setup {
    pub room: RoomId,
    pub id: SetupId,
    /// What is being read: `joists`, `deck`, `tile`.
    pub survey: String,
    pub instrument: String,
    pub method: String,
    /// The standard uncertainty of one reading.
    pub sd: Option<Length>,
    /// The point or mark that is sighted to tie the set-up.
    pub benchmark: Option<String>,
    /// The height of that mark above the room datum.
    pub benchmark_height: Option<Length>,
    pub opened_at: String,
    pub opening: Option<Sighting>,
    pub closed_at: Option<String>,
    pub closing: Option<Sighting>,
    pub withdrawn: bool,
}

/// A reading of the benchmark, down from the line.
#[derive(Debug, Clone, PartialEq)]
pub struct Sighting {
    /// As it was typed.
    pub entered: String,
    pub value: Length,
}

impl<Access> Rows<'_, Setup, Access> {
    pub fn get(&self, room: &RoomId, id: &SetupId) -> Result<Option<Setup>, StoreError> {
        self.first(include_str!("get.sql"), params![room, id], take)
    }

    /// The set-ups of a room in the order they were opened, withdrawn ones too.
    pub fn of_room(&self, room: &RoomId) -> Result<Vec<Setup>, StoreError> {
        self.list(include_str!("of_room.sql"), [room], take)
    }
}

impl Rows<'_, Setup, ReadWrite> {
    pub fn insert(&self, setup: &Setup) -> Result<(), StoreError> {
        let (opening, closing) = (setup.opening.as_ref(), setup.closing.as_ref());
        self.change(
            include_str!("insert.sql"),
            params![
                setup.room,
                setup.id,
                setup.survey,
                setup.instrument,
                setup.method,
                setup.sd.map(Length::to_mm),
                setup.benchmark,
                setup.benchmark_height.map(Length::to_mm),
                setup.opened_at,
                opening.map(|sighting| &sighting.entered),
                opening.map(|sighting| sighting.value.to_mm()),
                setup.closed_at,
                closing.map(|sighting| &sighting.entered),
                closing.map(|sighting| sighting.value.to_mm()),
                setup.withdrawn,
            ],
        )?;
        Ok(())
    }

    /// Closes a set-up, with the benchmark sighted again or without.
    ///
    /// # Errors
    /// [`StoreError::Refused`] where there is no such set-up.
    pub fn close(&self, room: &RoomId, id: &SetupId, at: &str, closing: Option<&Sighting>) -> Result<(), StoreError> {
        self.set_closing(room, id, Some(at), closing)
    }

    /// Opens a closed set-up again, as undoing the close does.
    ///
    /// # Errors
    /// [`StoreError::Refused`] where there is no such set-up.
    pub fn reopen(&self, room: &RoomId, id: &SetupId) -> Result<(), StoreError> {
        self.set_closing(room, id, None, None)
    }

    fn set_closing(
        &self,
        room: &RoomId,
        id: &SetupId,
        at: Option<&str>,
        closing: Option<&Sighting>,
    ) -> Result<(), StoreError> {
        let entered = closing.map(|sighting| &sighting.entered);
        let value = closing.map(|sighting| sighting.value.to_mm());
        self.change_one(include_str!("set_closing.sql"), params![room, id, at, entered, value], "set-up")
    }

    /// Marks a set-up as withdrawn, or as standing again.
    ///
    /// # Errors
    /// [`StoreError::Refused`] where there is no such set-up.
    pub fn set_withdrawn(&self, room: &RoomId, id: &SetupId, withdrawn: bool) -> Result<(), StoreError> {
        self.change_one(include_str!("set_withdrawn.sql"), params![room, id, withdrawn], "set-up")
    }
}

fn take(columns: &mut Columns<'_>) -> rusqlite::Result<Setup> {
    Ok(Setup {
        room: columns.take()?,
        id: columns.take()?,
        survey: columns.take()?,
        instrument: columns.take()?,
        method: columns.take()?,
        sd: columns.length_if_any()?,
        benchmark: columns.take()?,
        benchmark_height: columns.length_if_any()?,
        opened_at: columns.take()?,
        opening: sighting(columns)?,
        closed_at: columns.take()?,
        closing: sighting(columns)?,
        withdrawn: columns.take()?,
    })
}

fn sighting(columns: &mut Columns<'_>) -> rusqlite::Result<Option<Sighting>> {
    let (entered, value) = (columns.take::<Option<String>>()?, columns.length_if_any()?);
    Ok(entered.zip(value).map(|(entered, value)| Sighting { entered, value }))
}
