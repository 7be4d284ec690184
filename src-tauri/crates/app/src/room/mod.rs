//! A room as it stands: read from the tables, shown to the screens.

mod doubled;
mod history;
mod search;
mod state;
mod view;

pub(crate) use state::{empty_plan, read_private, read_room, read_sealed};
pub(crate) use view::current_readings;
