//! Ticks: what on a list is done.

use rusqlite::params;

use crate::access::{ReadWrite, Rows};
use crate::columns::Columns;
use crate::error::StoreError;
use crate::id::RoomId;

/// A line of a list, done or not.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Tick {
    pub room: RoomId,
    pub item: String,
    pub done: bool,
}

impl<Access> Rows<'_, Tick, Access> {
    /// Whether an item is done; none where it was never ticked.
    pub fn get(&self, room: &RoomId, item: &str) -> Result<Option<bool>, StoreError> {
        self.first(include_str!("get.sql"), params![room, item], |columns| columns.take())
    }

    /// The ticks of a room, by item.
    pub fn of_room(&self, room: &RoomId) -> Result<Vec<Tick>, StoreError> {
        self.list(include_str!("of_room.sql"), [room], take)
    }
}

impl Rows<'_, Tick, ReadWrite> {
    /// Puts a tick in the place of the one before.
    pub fn put(&self, tick: &Tick) -> Result<(), StoreError> {
        self.change(include_str!("put.sql"), params![tick.room, tick.item, tick.done])?;
        Ok(())
    }

    /// Removes a tick where there is one, as undoing the first one does.
    pub fn remove(&self, room: &RoomId, item: &str) -> Result<(), StoreError> {
        self.change(include_str!("remove.sql"), params![room, item])?;
        Ok(())
    }
}

fn take(columns: &mut Columns<'_>) -> rusqlite::Result<Tick> {
    Ok(Tick { room: columns.take()?, item: columns.take()?, done: columns.take()? })
}
