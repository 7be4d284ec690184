//! The forms in which requests, commands and answers travel: those of [`judge::forms`], and those of the rooms on this
//! device, of files, instruments, backups and the crew.

mod backup;
mod crew;
mod devices;
mod files;
mod incoming;
mod rooms;
mod tables;

// The derives that `judge::wire!` writes into these forms name it.
use schemars as _;

pub use backup::*;
pub use crew::*;
pub use devices::*;
pub use files::*;
pub use incoming::*;
pub use judge::forms::*;
pub use rooms::*;
pub use tables::*;
