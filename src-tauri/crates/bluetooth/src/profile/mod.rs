//! What is known of an instrument: where it sends, how to read it, and how far to trust it.

mod file;
mod shelf;

pub use file::{MAX_FILE, ProfileError};
pub use shelf::Shelf;

use crate::Moment;
use crate::decode::{Field, FixedPoint, Message, TextLine, TextNumber, sentence};
use crate::radio::Uuid;
use crate::reading::{Cause, NotAReading, Quantity};
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
    /// The same for the other kind of quantity, where one profile reads both.
    pub also: Option<Scope>,
    /// What made it send when it neither says so nor was asked.
    pub unasked: Cause,
    /// An equal message within this time is a repeat, where messages bear no number.
    pub repeats_within: Moment,
    /// What makes it measure, if a person said so.
    pub trigger: Option<Trigger>,
}

/// What an instrument can measure of one kind, and how closely.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Scope {
    pub range: (Quantity, Quantity),
    pub accuracy: Quantity,
    pub step: Quantity,
}

/// The form of an instrument's messages.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Form {
    /// Each notification is one message.
    Whole(FixedPoint),
    /// Notifications are pieces of lines.
    Lines(TextLine),
    /// Notifications are pieces of lines: transducer sentences, or a number and its unit.
    Serial,
    /// Each notification is one message with a number at a fixed place.
    Field(Field),
    /// One of the numbers of a text: in lines, or a text a notification.
    Number { of: TextNumber, lines: bool },
    /// The characteristic says by its descriptor how it is to be read; until then nothing is.
    Described,
}

impl Form {
    /// How lines are put together, where there are lines: whether each carries a check sum.
    pub(crate) fn lines(self) -> Option<bool> {
        match self {
            Self::Lines(form) => Some(form.summed),
            Self::Serial | Self::Number { lines: true, .. } => Some(false),
            _ => None,
        }
    }

    /// What a message says.
    ///
    /// # Errors
    /// Why it is no reading.
    pub fn decode(self, message: &[u8]) -> Result<Message, NotAReading> {
        match self {
            Self::Whole(form) => form.decode(message),
            Self::Lines(form) => form.decode(message),
            Self::Serial if message.starts_with(b"$") => sentence(message),
            Self::Serial => TextLine { summed: false, decimal_comma: false }.decode(message),
            Self::Field(form) => form.decode(message),
            Self::Number { of, .. } => of.decode(message),
            Self::Described => Err(NotAReading::NotUnderstood),
        }
    }
}

/// Bytes that make an instrument measure. Only ever given by a person, never guessed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Trigger {
    pub characteristic: Uuid,
    pub bytes: Vec<u8>,
}

impl Profile {
    /// What it can measure of the kind of this value; none where it does not measure that.
    pub(crate) fn scope(&self, value: Quantity) -> Option<Scope> {
        let own = Scope { range: self.range, accuracy: self.accuracy, step: self.step };
        let same = |scope: &Scope| std::mem::discriminant(&scope.accuracy) == std::mem::discriminant(&value);
        Some(own).filter(same).or(self.also.filter(same))
    }

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
            also: None,
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
