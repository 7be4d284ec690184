//! One room out of the store: for the screens, and as its file states it.

use super::history::subject;
use super::read_room;
use crate::app::App;
use crate::fault::Fault;
use crate::forms::{RoomFile, RoomView, UndoView};
use judge::Refusal;
use judge::room::rules::Figures;
use judge::room::view::view;
use store::{Read, RoomId};

impl App {
    /// One room, all but its findings.
    ///
    /// # Errors
    /// `not-found` if there is no such room.
    pub fn room(&self, id: &str) -> Result<RoomView, Refusal> {
        let id = RoomId::from(id);
        self.read(|read| {
            let file = read_room(read, &id)?;
            let head = read.head(Some(&id))?;
            let undo = undo_view(read, &id)?;
            let archived = read.rooms().get(&id)?.is_some_and(|room| room.archived_at.is_some());
            let head = (head.seq > 0).then(|| head.hash.to_string());
            Ok(RoomView { head, archived, ..view(file, undo) })
        })
    }

    /// The room as its file states it, without the journal.
    ///
    /// # Errors
    /// `not-found` if there is no such room.
    pub fn room_state(&self, id: &str) -> Result<RoomFile, Refusal> {
        self.read(|read| read_room(read, &RoomId::from(id)))
    }

    /// The figures in force in a room, or the defaults.
    ///
    /// # Errors
    /// `not-found` if there is no such room.
    pub(crate) fn figures(&self, room: Option<&str>) -> Result<Figures, Refusal> {
        room.map_or_else(|| Ok(Figures::default()), |room| Ok(Figures::of(&self.room_state(room)?.rules)))
    }
}

fn undo_view(read: &Read<'_>, id: &RoomId) -> Result<Option<UndoView>, Fault> {
    Ok(read.last_undoable(Some(id))?.map(|last| UndoView {
        id: last.entry.id.to_string(),
        subject: subject(&last.entry),
        command: last.entry.command,
    }))
}
