//! Lengths as typed, in the units and the dialect of a room.

use crate::forms::refusal::{Kind, Refusal};
use crate::forms::{Echo, LengthAsk, LengthView, Units};
use crate::room::rules::{Figures, LengthId};
use survey::length_text::{self, DefaultUnit};
use survey::units::Length;

/// The length in a text.
///
/// # Errors
/// `not-understood`, naming the field, what was not understood and where.
pub fn parse(field: &str, text: &str, units: Units, figures: &Figures) -> Result<Length, Refusal> {
    length_text::parse(text, default_unit(units), figures.length(LengthId::Strong))
        .map_err(|error| Refusal::new(Kind::NotUnderstood, sentence(&error.to_string())).field(field))
}

/// The unit of a number that carries none.
pub fn default_unit(units: Units) -> DefaultUnit {
    match units {
        Units::In => DefaultUnit::Inch,
        Units::Mm => DefaultUnit::Millimetre,
    }
}

fn sentence(said: &str) -> String {
    let mut letters = said.chars();
    let first = letters.next().map(|letter| letter.to_uppercase().to_string()).unwrap_or_default();
    format!("{first}{}.", letters.as_str())
}

/// The length in three notations.
pub fn echo(length: Length) -> Echo {
    let echo = length_text::Echo::of(length);
    Echo { fraction: echo.fraction, decimal_in: echo.decimal_in, mm: echo.mm }
}

/// What a text means as a length.
///
/// # Errors
/// `not-understood`, with what and where.
pub fn length(figures: &Figures, ask: &LengthAsk) -> Result<LengthView, Refusal> {
    let length = parse("text", &ask.text, ask.units, figures)?;
    Ok(LengthView { mm: length.to_mm(), echo: echo(length) })
}
