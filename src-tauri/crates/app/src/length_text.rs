//! Lengths as typed, in the units and the dialect of a room.

use crate::app::App;
use crate::commands::Page;
use crate::refusal::{Kind, Refusal};
use crate::rules::Figures;
use crate::wire::{Echo, LengthAsk, LengthView, Sense, Units};
use survey::length_text::{self, DefaultUnit};
use survey::units::Length;

/// The length in a text.
///
/// # Errors
/// `not-understood`, naming the field, what was not understood and where.
pub(crate) fn parse(field: &str, text: &str, units: Units, figures: &Figures) -> Result<Length, Refusal> {
    length_text::parse(text, default_unit(units), Length::mm(figures.mm("strong")))
        .map_err(|error| Refusal::new(Kind::NotUnderstood, sentence(&error.to_string())).field(field))
}

/// The unit of a number that carries none.
pub(crate) fn default_unit(units: Units) -> DefaultUnit {
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
pub(crate) fn echo(length: Length) -> Echo {
    let echo = length_text::Echo::of(length);
    Echo { fraction: echo.fraction, decimal_in: echo.decimal_in, mm: echo.mm }
}

/// Whether a typed text means the value that came with it.
///
/// # Errors
/// `not-understood`, or `does-not-fit` where it means another.
pub(crate) fn check_entered(page: &Page<'_>, text: &str, value: f64, sense: Sense) -> Result<(), Refusal> {
    if sense == Sense::Tilt {
        return Ok(());
    }
    let room = page.tx.rooms().get(page.room)?.ok_or_else(|| Refusal::not_found("room", page.room.as_str()))?;
    let units = if room.units == store::Units::Inches { Units::In } else { Units::Mm };
    let figures = Figures::of(&page.rules()?);
    let meant = parse("entered", text, units, &figures)?;
    if (meant - Length::mm(value)).abs().at_most(Length::ZERO) {
        return Ok(());
    }
    let message = format!("{text:?} means {} mm, but {value} mm came with it.", meant.to_mm());
    Err(Refusal::new(Kind::DoesNotFit, message).field("value"))
}

impl App {
    /// What a text means as a length.
    ///
    /// # Errors
    /// `not-understood`, with what and where.
    pub fn length(&self, ask: &LengthAsk) -> Result<LengthView, Refusal> {
        let figures = match &ask.room {
            Some(room) => Figures::of(&self.room_state(room)?.rules),
            None => Figures::default(),
        };
        let length = parse("text", &ask.text, ask.units, &figures)?;
        Ok(LengthView { mm: length.to_mm(), echo: echo(length) })
    }
}
