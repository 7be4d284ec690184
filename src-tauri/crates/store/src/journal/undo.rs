//! What is undone, and what undo and redo would take back next.
//!
//! To undo an entry, its stored inverse is appended as a new entry that names it in `undoes`. An entry is undone while
//! a later one that is not itself undone names it. Redo is undoing the undoing. Undo goes strictly backwards, so an
//! inverse always meets the state it was made for.

use std::collections::HashSet;

use crate::access::{Read, list};
use crate::error::StoreError;
use crate::id::{EntryId, RoomId};
use crate::journal::entry::Recorded;

/// What undoing needs to know of an entry.
struct Step {
    id: EntryId,
    undoes: Option<EntryId>,
    /// It undoes an entry that undoes another: a redo.
    redoes: bool,
}

impl Read<'_> {
    /// The entry that undo takes back next: the last change still standing. None if there is none, or if it has no
    /// inverse.
    pub fn last_undoable(&self, room: Option<&RoomId>) -> Result<Option<Recorded>, StoreError> {
        let (steps, undone) = self.steps(room)?;
        let last = steps.iter().find(|step| step.undoes.is_none() && !undone.contains(&step.id));
        self.with_inverse(last)
    }

    /// The undoing that redo takes back next. None once something new was done after it.
    pub fn last_redoable(&self, room: Option<&RoomId>) -> Result<Option<Recorded>, StoreError> {
        let (steps, undone) = self.steps(room)?;
        let last = steps.iter().find(|step| !step.redoes && !undone.contains(&step.id));
        self.with_inverse(last.filter(|step| step.undoes.is_some()))
    }

    /// The entries of a chain that are undone.
    pub fn undone(&self, room: Option<&RoomId>) -> Result<HashSet<EntryId>, StoreError> {
        Ok(self.steps(room)?.1)
    }

    /// The chain backwards, and which of it is undone: an undoing stands before what it undoes, so one pass will do.
    fn steps(&self, room: Option<&RoomId>) -> Result<(Vec<Step>, HashSet<EntryId>), StoreError> {
        let steps = list(self.connection, include_str!("steps.sql"), [room], |columns| {
            Ok(Step { id: columns.take()?, undoes: columns.take()?, redoes: columns.take()? })
        })?;
        let mut undone = HashSet::new();
        for step in &steps {
            if let Some(target) = step.undoes.as_ref().filter(|_| !undone.contains(&step.id)) {
                undone.insert(target.clone());
            }
        }
        Ok((steps, undone))
    }

    fn with_inverse(&self, step: Option<&Step>) -> Result<Option<Recorded>, StoreError> {
        let Some(step) = step else { return Ok(None) };
        Ok(self.entry(&step.id)?.filter(|recorded| recorded.entry.inverse.is_some()))
    }
}
