//! The length that one cell of a table holds.

use super::columns;
use crate::forms::RoomFile;
use judge::forms::fields;
use judge::reading::length_text;
use judge::room::rules::Figures;
use judge::{Kind, Refusal};

/// A length of one cell, in the unit its column names.
pub(super) fn length(
    cell: &str,
    unit: columns::Unit,
    place: &str,
    file: &RoomFile,
    figures: &Figures,
) -> Result<f64, Refusal> {
    let mm = match unit {
        columns::Unit::Mm => number(cell, place)?,
        columns::Unit::In => number(cell, place)? * 254.0 / 10.0,
        columns::Unit::Text => length_text::parse(place, cell, file.room.units, figures)?.to_mm(),
    };
    fields::length(place, mm).map(|length| length.to_mm())
}

fn number(cell: &str, place: &str) -> Result<f64, Refusal> {
    cell.parse().map_err(|_| {
        let message = format!("{place}: {cell:?} is not a number. Write it like 44.1875.");
        Refusal::new(Kind::NotUnderstood, message).field(place)
    })
}
