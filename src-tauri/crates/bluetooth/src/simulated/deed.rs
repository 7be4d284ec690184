//! What happens to an instrument, and what of it goes wrong.

use crate::reading::Quantity;
use std::time::Duration;

/// Something that happens to an instrument.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Deed {
    /// Its button is pressed: it measures and sends, if it is connected.
    Press,
    /// It is put where a perfect one would read this.
    Rests(Quantity),
    /// The next thing asked of it or sent by it goes wrong.
    Fails(Fault),
    /// It is carried out of range.
    Leaves,
    /// It is back in range.
    Returns,
}

/// What can go wrong with one answer or one message.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Fault {
    /// Half of the message arrives, then the link is gone.
    LostMidReading,
    /// The message arrives twice.
    Twice,
    /// Half of the message arrives; the link stays.
    Truncated,
    Empty,
    /// Other bytes arrive, as many.
    Garbage,
    /// It comes this much later.
    Slow(Duration),
    /// It never comes.
    NeverAnswers,
    /// The instrument declines.
    Refuses,
}
