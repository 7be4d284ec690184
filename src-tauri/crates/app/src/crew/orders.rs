//! What the home device orders of the crew, and what a member of the crew changes.

use super::{CREW, Crew, CrewOrder};
use crate::app::App;
use crate::forms::{Changes, CrewMe, CrewRole, CrewView, PrivateText, UndoAsk, Write, Written};
use crate::listeners::tell;
use crate::rooms::salt::salt;
use judge::{Kind, Refusal};
use std::sync::Arc;

impl App {
    /// Lends the way to open the rooms; the first one lent stays.
    pub fn lend(&self, crew: Arc<dyn Crew>) {
        // A second one would have sockets of its own.
        let _ = self.crew.set(crew);
    }

    pub(crate) fn crew_order(&self, order: CrewOrder) -> Result<CrewView, Refusal> {
        match (self.crew.get(), order) {
            (Some(crew), order) => crew.order(order),
            (None, CrewOrder::Look | CrewOrder::Here(_)) => Ok(alone()),
            (None, _) => Err(Refusal::new(Kind::NotReady, "This program cannot open its rooms to other devices.")),
        }
    }

    /// Tells every screen that something about the crew changed.
    pub fn tell_of_crew(&self) {
        let change = Changes { room: CREW.to_string(), seq: 0, devices: None };
        tell(&self.listeners, &change);
    }

    /// Makes one change for a person of the crew, under that name and no other. The name is private: the journal holds
    /// its digest.
    ///
    /// # Errors
    /// As [`App::write`].
    pub fn write_for(&self, person: &PrivateText, write: Write) -> Result<Written, Refusal> {
        let mut private = write.private;
        private.push(person.clone());
        self.write(&Write { person: Some(digest_of(person)?), private, ..write })
    }

    /// Takes the last change of a room back for a person of the crew, if it was that person's own.
    ///
    /// # Errors
    /// As [`App::undo`]; `not-allowed` where the last change was somebody else's.
    pub fn undo_for(&self, person: &PrivateText, ask: &UndoAsk) -> Result<Written, Refusal> {
        self.undo_as(&ask.id, &ask.room, Some(&digest_of(person)?))
    }
}

fn digest_of(person: &PrivateText) -> Result<String, Refusal> {
    Ok(store::private_digest(&salt(&person.salt)?, &person.value))
}

/// The rooms are this device's alone and stay so.
fn alone() -> CrewView {
    let me = CrewMe { role: CrewRole::Home, name: String::new() };
    CrewView { me, can: false, open: None, places: Vec::new(), members: Vec::new() }
}
