//! From bytes to quantities. Pure, bounded, and never a panic on any bytes.

mod described;
mod field;
mod fixed_point;
mod lines;
mod sentence;
mod text_line;
mod text_number;

pub use described::{PRESENTATION_FORMAT, described};
pub use field::{Encoding, Field, Kind, Scale};
pub use fixed_point::{FixedPoint, Step};
pub use lines::{Lines, MAX_LINE};
pub use sentence::sentence;
pub use text_line::TextLine;
pub use text_number::TextNumber;

use crate::reading::{Cause, Quantity};

/// What a message says.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Message {
    pub value: Quantity,
    /// What made the instrument send, if the message says so.
    pub cause: Option<Cause>,
    /// The message's number, if it bears one: it tells a repeat from an equal reading.
    pub number: Option<u8>,
}
