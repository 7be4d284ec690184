//! The use cases of Truefall: what every front end calls, and the only place that knows all of the core.
//!
//! [`App::dispatch`] answers every request by name, in JSON; [`App::write`] makes every change, through the one
//! command table. [`compute`](compute()) is the core without any room.

mod app;
mod build_up;
mod clock;
mod commands;
mod comparison;
pub mod compute;
mod csv_readings;
mod demo;
mod engineer;
mod entry;
mod expected;
mod findings;
mod gate;
mod grid;
mod height;
mod heights;
mod hex;
mod instruments;
pub mod json;
mod judge;
mod length_text;
mod level_check;
mod method_check;
mod next_readings;
mod on_plan;
mod record;
mod refusal;
mod requests;
mod room;
mod room_file;
mod rules;
mod straightedge_walk;
mod surface;
mod tilt_text;
mod tilt_walks;
mod why;
pub mod wire;
pub mod words;

pub use app::{App, Listener};
/// Instruments without any room, for the command line.
pub use bluetooth;
pub use build_up::build_up;
pub use clock::Clock;
pub use commands::COMMANDS;
pub use compute::compute;
pub use csv_readings::MOST_ROWS;
pub use demo::demo;
pub use findings::findings;
pub use height::height;
pub use refusal::{Kind, Refusal};
pub use requests::REQUESTS;
