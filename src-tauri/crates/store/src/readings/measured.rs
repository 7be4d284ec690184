//! What a reading measured, by its sense.

use rusqlite::types::Type;
use survey::PlanPosition;
use survey::units::{Length, Slope};

use crate::columns::Columns;

/// What was measured, with what its sense needs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Measured {
    /// Down from the instrument's line: a bigger reading is a lower point.
    Down(Length),
    /// Up from the room's datum.
    Up(Length),
    /// The gap under a straightedge of a length, laid from the reading's point to another place.
    Gap { gap: Length, length: Option<Length>, to: Option<PlanPosition> },
    /// The tilt of a foot of a length, set from the reading's point to another place; positive rises toward it.
    Tilt { tilt: Slope, foot: Option<Length>, to: Option<PlanPosition> },
}

/// The columns of [`Measured`], as the table holds them.
#[derive(Default)]
pub(super) struct Parts {
    pub(super) value: f64,
    pub(super) length: Option<f64>,
    pub(super) x2: Option<f64>,
    pub(super) y2: Option<f64>,
    pub(super) foot: Option<f64>,
}

impl Measured {
    /// The name used on every wire: `down`, `up`, `gap` or `tilt`.
    pub fn sense(&self) -> &'static str {
        match self {
            Self::Down(_) => "down",
            Self::Up(_) => "up",
            Self::Gap { .. } => "gap",
            Self::Tilt { .. } => "tilt",
        }
    }

    pub(super) fn parts(&self) -> Parts {
        match *self {
            Self::Down(value) | Self::Up(value) => Parts::of(value.to_mm(), None),
            Self::Gap { gap, length, to } => Parts { length: length.map(Length::to_mm), ..Parts::of(gap.to_mm(), to) },
            Self::Tilt { tilt, foot, to } => Parts { foot: foot.map(Length::to_mm), ..Parts::of(tilt.to_ratio(), to) },
        }
    }
}

impl Parts {
    fn of(value: f64, to: Option<PlanPosition>) -> Self {
        Self { value, x2: to.map(|to| to.x.to_mm()), y2: to.map(|to| to.y.to_mm()), ..Self::default() }
    }
}

/// Takes `sense, value, length_mm, x2_mm, y2_mm, foot_mm`.
pub(super) fn take(columns: &mut Columns<'_>) -> rusqlite::Result<Measured> {
    let (sense, value) = (columns.take::<String>()?, columns.length()?);
    let (length, x2, y2) = (columns.length_if_any()?, columns.length_if_any()?, columns.length_if_any()?);
    let (foot, to) = (columns.length_if_any()?, x2.zip(y2).map(|(x, y)| PlanPosition { x, y }));
    Ok(match sense.as_str() {
        "down" => Measured::Down(value),
        "up" => Measured::Up(value),
        "gap" => Measured::Gap { gap: value, length, to },
        "tilt" => Measured::Tilt { tilt: Slope::ratio(value.to_mm()), foot, to },
        _ => return Err(columns.unreadable(Type::Text, format!("unknown sense {sense:?}"))),
    })
}
