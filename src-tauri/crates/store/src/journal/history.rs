//! Looking at the journal.

use rusqlite::params;

use crate::access::{Read, first, list};
use crate::columns::Columns;
use crate::error::StoreError;
use crate::id::{EntryId, RoomId};
use crate::journal::chain::Chain;
use crate::journal::entry::{Head, Recorded, take};

impl Read<'_> {
    /// The chain of a room, or of the settings, from its first entry.
    pub fn history(&self, room: Option<&RoomId>) -> Result<Vec<Recorded>, StoreError> {
        self.history_after(room, 0)
    }

    /// The entries of a chain that follow number `seq`.
    pub fn history_after(&self, room: Option<&RoomId>, seq: u32) -> Result<Vec<Recorded>, StoreError> {
        list(self.connection, include_str!("history.sql"), params![room, seq], take)
    }

    pub fn entry(&self, id: &EntryId) -> Result<Option<Recorded>, StoreError> {
        first(self.connection, include_str!("entry.sql"), [id], take)
    }

    /// The last entry's number and hash; number 0 for a chain without entries.
    pub fn head(&self, room: Option<&RoomId>) -> Result<Head, StoreError> {
        let head = first(self.connection, include_str!("head.sql"), [room], |columns| {
            Ok(Head { seq: columns.take()?, hash: columns.take()? })
        })?;
        Ok(head.unwrap_or_default())
    }

    /// Every chain there is: the settings (none) first if they have one, then the rooms.
    pub fn chains(&self) -> Result<Vec<Option<RoomId>>, StoreError> {
        list(self.connection, include_str!("chains.sql"), [], |columns| columns.take())
    }

    /// Checks a chain from its first entry to its last.
    pub fn verify(&self, room: Option<&RoomId>) -> Result<Chain, StoreError> {
        let mut statement = self.connection.prepare_cached(include_str!("history.sql"))?;
        let mut rows = statement.query(params![room, 0])?;
        let mut head = Head::default();
        while let Some(row) = rows.next()? {
            let recorded = take(&mut Columns::new(row));
            match recorded.as_ref().ok().and_then(|recorded| head.continued_by(recorded)) {
                Some(next) => head = next,
                None => return Ok(broken_after(head, recorded.ok())),
            }
        }
        Ok(Chain::Fits(head))
    }
}

fn broken_after(head: Head, at: Option<Recorded>) -> Chain {
    Chain::Breaks { seq: head.seq.saturating_add(1), id: at.map(|recorded| recorded.entry.id) }
}
