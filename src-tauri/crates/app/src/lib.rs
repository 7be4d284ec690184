//! The use cases of Truefall: what every front end calls, and the only place that knows all of the core.
//!
//! [`App::dispatch`] answers every request by name, in JSON; [`App::write`] makes every change, through the one
//! command table. [`compute`](compute()) is the core without any room.

mod app;
mod backup;
mod base64;
mod build_up;
mod clock;
mod commands;
mod comparison;
pub mod compute;
mod csv_readings;
mod cutting;
mod demo;
mod drain;
mod engineer;
mod entries;
mod entry;
mod expected;
mod fall;
mod findings;
mod gate;
mod grid;
mod height;
mod heights;
mod hex;
mod incoming;
mod instruments;
pub mod json;
mod judge;
mod ledges;
mod length_text;
mod level_check;
mod method_check;
mod next_readings;
mod on_plan;
mod pour;
mod record;
mod refusal;
mod requests;
mod room;
mod room_file;
mod rules;
mod straightedge_walk;
mod sums;
mod surface;
mod tiling;
mod tilt_text;
mod tilt_walks;
mod verify;
mod whole;
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
pub use cutting::cutting;
pub use demo::demo;
pub use entries::tests;
pub use fall::fall;
pub use findings::findings;
pub use height::height;
pub use ledges::ledges;
pub use pour::pour;
pub use refusal::{Kind, Refusal};
pub use requests::REQUESTS;
pub use tiling::tiling;
pub use verify::verify;
pub use whole::write_whole;
