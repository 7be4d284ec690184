//! The use cases of Truefall: what every front end calls, and the only place that knows all of the core.
//!
//! [`App::dispatch`] answers every request by name, in JSON; [`App::write`] makes every change, through the one
//! command table. What is judged is judged in [`judge`].

mod app;
mod backup;
mod clock;
mod commands;
mod crew;
mod fault;
mod files;
pub mod forms;
mod instruments;
mod listeners;
mod photographs;
mod requests;
mod rooms;

pub use app::App;
/// Instruments without any room, for the command line.
pub use bluetooth;
pub use clock::Clock;
pub use commands::COMMANDS;
pub use crew::{CREW, Crew, CrewOrder};
pub use files::atomic_write::write_whole;
pub use files::csv_readings::MOST_ROWS;
pub use files::verify::verify;
pub use instruments::Learned;
pub use judge;
pub use judge::forms::json;
pub use judge::{
    Kind, Refusal, build_up, compute, cutting, demo, fall, findings, height, ledges, pour, tests, tiling, words,
};
pub use listeners::Listener;
pub use requests::REQUESTS;
