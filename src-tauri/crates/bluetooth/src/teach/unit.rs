//! What a display shows, and what a number in the bytes may count.

use crate::decode::Kind;
use crate::reading::Quantity;
use survey::units::INCH_MM;

/// The unit a display shows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum DisplayUnit {
    M,
    Cm,
    Mm,
    In,
    Deg,
}

impl DisplayUnit {
    pub fn kind(self) -> Kind {
        if self == Self::Deg { Kind::Angle } else { Kind::Length }
    }

    /// How many millimetres or degrees it is.
    pub(super) fn size(self) -> f64 {
        match self {
            Self::M => 1000.0,
            Self::Cm => 10.0,
            Self::Mm | Self::Deg => 1.0,
            Self::In => INCH_MM,
        }
    }
}

/// A display: its unit, and how many decimals it shows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Display {
    pub unit: DisplayUnit,
    pub decimals: u8,
}

/// More decimals than any display shows.
const MOST_DECIMALS: u8 = 6;

impl Display {
    /// The last digit, in the display's unit.
    pub fn step(self) -> f64 {
        10.0_f64.powi(-i32::from(self.decimals.min(MOST_DECIMALS)))
    }

    pub(super) fn is_coarse_angle(self) -> bool {
        self.unit == DisplayUnit::Deg && self.decimals <= 1
    }

    /// As the display rounds it.
    pub(super) fn rounded(self, value: f64) -> f64 {
        let power = 10.0_f64.powi(i32::from(self.decimals.min(MOST_DECIMALS)));
        (value * power).round() / power
    }

    /// Whether two values are less than twenty steps and a fiftieth of themselves apart.
    pub(super) fn is_alike(self, a: f64, b: f64) -> bool {
        (a - b).abs() < (20.0 * self.step()).min(0.02 * a.abs().max(b.abs())).max(2.0 * self.step())
    }

    pub(super) fn quantity(self, shown: f64) -> Quantity {
        self.unit.kind().quantity(shown * self.unit.size())
    }
}

/// What one count may stand for, in millimetres or degrees, and how unusual that is.
pub(super) fn counts(kind: Kind) -> &'static [(f64, f64)] {
    match kind {
        Kind::Length => &[
            (1000.0, 0.0),
            (1.0, 0.0),
            (0.1, 0.2),
            (10.0, 0.5),
            (0.01, 0.5),
            (0.001, 0.4),
            (0.0001, 0.4),
            (INCH_MM, 0.3),
            (12.0 * INCH_MM, 0.6),
            (INCH_MM / 16.0, 1.0),
            (INCH_MM / 32.0, 1.0),
            (INCH_MM / 1000.0, 0.8),
            (INCH_MM / 100.0, 0.9),
        ],
        Kind::Angle => &[
            (1.0, 0.0),
            (0.1, 0.2),
            (0.01, 0.2),
            (0.001, 0.4),
            (180.0 / std::f64::consts::PI, 0.5),
            (0.18 / std::f64::consts::PI, 0.8),
            (1.0 / 60.0, 1.2),
            (1.0 / 3600.0, 1.2),
            (360.0 / 65_536.0, 1.5),
        ],
    }
}
