//! The sheets of a room as PDF bytes: no files, no clock, no other program, fonts inside.
//!
//! [`model::Sheet`] says what is on the sheet, [`pdf`] sets it. Texts reach the typesetter as values, never as markup.

mod carried;
mod code;
mod enclose;
mod full_size;
mod glyphs;
pub mod model;
mod typeset;

#[cfg(test)]
extern crate self as report;
#[cfg(test)]
#[path = "../tests/kestrel/mod.rs"]
mod kestrel;

pub use carried::{Carried, MOST_CARRIED, NotCarried, carried};
pub use enclose::{Enclosed, enclose};
pub use full_size::full_size;
pub use typeset::{ReportError, pdf};
