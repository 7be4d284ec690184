//! What is known of an instrument: where it sends, how to read it, and how far to trust it.

use crate::Moment;
use crate::decode::{FixedPoint, TextLine};
use crate::radio::Uuid;
use crate::reading::{Cause, Quantity};
use std::time::Duration;
use survey::units::{Angle, Length};

/// How one kind of instrument is read.
#[derive(Debug, Clone, PartialEq)]
pub struct Profile {
    pub name: String,
    /// Kept with each reading, so that it can be read again the same way.
    pub version: u32,
    /// Where its readings come from.
    pub characteristic: Uuid,
    pub form: Form,
    /// The least and the most it can measure; anything else was damaged on the way.
    pub range: (Quantity, Quantity),
    /// The accuracy it states, as ±.
    pub accuracy: Quantity,
    /// The step of its display.
    pub step: Quantity,
    /// What made it send when it neither says so nor was asked.
    pub unasked: Cause,
    /// An equal message within this time is a repeat, where messages bear no number.
    pub repeats_within: Moment,
    /// What makes it measure, if a person said so.
    pub trigger: Option<Trigger>,
}

/// The form of an instrument's messages.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Form {
    /// Each notification is one message.
    Whole(FixedPoint),
    /// Notifications are pieces of lines.
    Lines(TextLine),
}

/// Bytes that make an instrument measure. Only ever given by a person, never guessed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Trigger {
    pub characteristic: Uuid,
    pub bytes: Vec<u8>,
}

impl Profile {
    /// The practice laser: distances from 0.05 m to 30 m, ±1 mm, shown to 0.1 mm; sends when its button is pressed or
    /// when asked. Its figures are invented.
    pub fn practice_laser() -> Self {
        let mm = |mm| Quantity::Length(Length::mm(mm));
        Self {
            characteristic: practice(1),
            form: Form::Whole(FixedPoint::PRACTICE_LENGTH),
            range: (mm(50.0), mm(30_000.0)),
            accuracy: mm(1.0),
            step: mm(0.1),
            unasked: Cause::Button,
            trigger: Some(Trigger { characteristic: practice(3), bytes: vec![1] }),
            name: "practice laser".to_string(),
            ..Self::practice_level()
        }
    }

    /// The practice level: tilts from -45° to 45°, ±0.05°, shown to 0.01°; sends all the time and when its button is
    /// pressed. Its figures are invented.
    pub fn practice_level() -> Self {
        let degrees = |degrees| Quantity::Angle(Angle::degrees(degrees));
        Self {
            name: "practice level".to_string(),
            version: 1,
            characteristic: practice(2),
            form: Form::Whole(FixedPoint::PRACTICE_TILT),
            range: (degrees(-45.0), degrees(45.0)),
            accuracy: degrees(0.05),
            step: degrees(0.01),
            unasked: Cause::Live,
            repeats_within: Duration::from_millis(300),
            trigger: None,
        }
    }
}

/// A characteristic of the practice instruments, in a space of our own.
const fn practice(number: u128) -> Uuid {
    Uuid(0x7275_6566_616c_4c00_8000_0000_0000_0000 | number)
}
