//! Rooms come, are renamed, and are put away.

use super::{Apply, Page, inverse};
use crate::fault::Fault;
use crate::forms::{RoomArchive, RoomNew, RoomRename, Units};
use judge::{Kind, Refusal};
use store::{Inverse, Room};

impl Apply for RoomNew {
    fn check(&self, page: &Page<'_>) -> Result<(), Fault> {
        named(&self.name)?;
        check_id(page.room.as_str())?;
        match page.tx.rooms().get(page.room)? {
            Some(_) => Err(Refusal::new(Kind::AlreadyThere, "This room is already here.").field("room").into()),
            None => Ok(()),
        }
    }

    fn apply(&self, page: &Page<'_>) -> Result<Option<Inverse>, Fault> {
        page.tx.rooms().insert(&Room {
            id: page.room.clone(),
            name: self.name.clone(),
            place: self.place.clone(),
            units: stored(self.units),
            created_at: self.created.clone(),
            archived_at: None,
        })?;
        Ok(None)
    }
}

impl Apply for RoomRename {
    fn check(&self, _page: &Page<'_>) -> Result<(), Fault> {
        Ok(named(&self.name)?)
    }

    fn apply(&self, page: &Page<'_>) -> Result<Option<Inverse>, Fault> {
        let old = page.known_room()?;
        page.tx.rooms().update(&Room { name: self.name.clone(), ..old.clone() })?;
        inverse(&RoomRename { name: old.name })
    }
}

impl Apply for RoomArchive {
    fn apply(&self, page: &Page<'_>) -> Result<Option<Inverse>, Fault> {
        let old = page.known_room()?;
        page.tx.rooms().update(&Room { archived_at: self.at.clone(), ..old.clone() })?;
        inverse(&RoomArchive { at: old.archived_at })
    }
}

impl Page<'_> {
    fn known_room(&self) -> Result<Room, Fault> {
        Ok(self.tx.rooms().get(self.room)?.ok_or_else(|| Refusal::not_found("room", self.room.as_str()))?)
    }
}

/// The most letters of a room's id.
const MOST_ID: usize = 100;

/// Whether an id is such as this program makes.
///
/// # Errors
/// `out-of-range`.
pub(super) fn check_id(id: &str) -> Result<(), Refusal> {
    let known = |c: char| c.is_ascii_alphanumeric() || c == '-' || c == '_';
    if (1..=MOST_ID).contains(&id.len()) && id.chars().all(known) {
        return Ok(());
    }
    Err(Refusal::out_of_range("room", &format!("letters, digits, - and _, {MOST_ID} of them at most")))
}

/// Whether a room has a name.
///
/// # Errors
/// `out-of-range`.
pub(super) fn named(name: &str) -> Result<(), Refusal> {
    if name.trim().is_empty() { Err(Refusal::out_of_range("name", "at least one letter")) } else { Ok(()) }
}

/// The units as the tables name them.
pub(super) fn stored(units: Units) -> store::Units {
    match units {
        Units::In => store::Units::Inches,
        Units::Mm => store::Units::Millimetres,
    }
}
