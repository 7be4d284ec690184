//! A room as it stands: read from the tables, shown to the screens.

mod history;
mod judged_rooms;
pub(crate) mod private;
pub(crate) mod redact;
mod room;
pub(crate) mod salt;
pub(crate) mod sealing;
mod search;
mod state;
pub(crate) mod verdict_cache;

pub(crate) use state::{read_private, read_room, read_sealed};
