//! A room as it stands: read from the tables, shown to the screens.

mod history;
pub(crate) mod private;
pub(crate) mod redact;
mod room;
mod search;
mod state;
pub(crate) mod verdict_cache;

pub(crate) use state::{read_private, read_room, read_sealed};
