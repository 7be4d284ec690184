//! What a message of an instrument becomes: a reading, or the reason why it is none.

use crate::Moment;
use survey::units::{Angle, Length};

/// What an instrument measures.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Quantity {
    /// A distance, or a height from the instrument's zero.
    Length(Length),
    /// A tilt; positive as the instrument counts it.
    Angle(Angle),
}

impl Quantity {
    /// Its number, in millimetres or degrees.
    pub fn number(self) -> f64 {
        match self {
            Self::Length(length) => length.to_mm(),
            Self::Angle(angle) => angle.to_degrees(),
        }
    }

    /// Its number in mm or degrees, and the other's if both are of one kind.
    fn beside(self, other: Self) -> Option<(f64, f64)> {
        match (self, other) {
            (Self::Length(a), Self::Length(b)) => Some((a.to_mm(), b.to_mm())),
            (Self::Angle(a), Self::Angle(b)) => Some((a.to_degrees(), b.to_degrees())),
            _ => None,
        }
    }

    /// A quantity of the same kind: millimetres or degrees.
    fn same_kind(self, number: f64) -> Self {
        match self {
            Self::Length(_) => Self::Length(Length::mm(number)),
            Self::Angle(_) => Self::Angle(Angle::degrees(number)),
        }
    }

    /// Whether it is of the kind of both ends and lies between them, the ends included.
    pub fn within(self, least: Self, most: Self) -> bool {
        let above = self.beside(least).is_some_and(|(value, least)| value >= least);
        above && self.beside(most).is_some_and(|(value, most)| value <= most)
    }

    /// The standard uncertainty of a reading by an instrument that states this accuracy and shows this step.
    ///
    /// # Uncertainty
    /// √(a²/3 + d²/12): the stated accuracy ±a and the half step ±d/2, each spread evenly. Of another kind of
    /// quantity the step is left out.
    ///
    /// # Source
    /// JCGM 100, 4.3.7 (recalled, not read); that a stated accuracy is a bound is common practice.
    ///
    /// ```
    /// use bluetooth::reading::Quantity;
    /// use survey::units::Length;
    /// let [accuracy, step] = [3.0, 2.0].map(|mm| Quantity::Length(Length::mm(mm)));
    /// let Quantity::Length(u) = accuracy.standard_uncertainty(step) else { panic!() };
    /// assert!((u.to_mm() - (9.0 / 3.0 + 4.0 / 12.0_f64).sqrt()).abs() < 1e-12);
    /// ```
    pub fn standard_uncertainty(self, step: Self) -> Self {
        let (accuracy, step) = self.beside(step).or_else(|| Some((self.beside(self)?.0, 0.0))).unwrap_or_default();
        self.same_kind((accuracy.powi(2) / 3.0 + step.powi(2) / 12.0).sqrt())
    }

    /// As a display of this `step` shows it, with `error` steps' worth added before.
    pub(crate) fn shown(self, error: Self, step: Self) -> Self {
        let Some(((value, error), (_, step))) = self.beside(error).zip(self.beside(step)) else { return self };
        let steps = ((value + error) / step).round();
        self.same_kind(if steps.is_finite() { steps * step } else { value })
    }

    pub(crate) fn times(self, factor: f64) -> Self {
        match self {
            Self::Length(length) => Self::Length(length * factor),
            Self::Angle(angle) => Self::Angle(angle * factor),
        }
    }
}

/// What made the instrument send.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Cause {
    /// It sends all the time: to be shown, not recorded.
    Live,
    /// Its own button: to be recorded.
    Button,
    /// It was asked to measure: to be recorded.
    Asked,
}

/// One measured value, and everything needed to prove later where it came from.
#[derive(Debug, Clone, PartialEq)]
pub struct Reading {
    pub value: Quantity,
    /// The standard uncertainty (k = 1), of the same kind as the value.
    pub u: Quantity,
    pub cause: Cause,
    /// When its last byte arrived.
    pub at: Moment,
    /// The message as it came: the payload, or the line without its end.
    pub raw: Vec<u8>,
    /// The profile it was read by, and its version.
    pub profile: String,
    pub profile_version: u32,
}

/// Why a message is no reading. Nothing is recorded for it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum NotAReading {
    /// It is shorter or longer than the instrument's messages are.
    Size { bytes: usize },
    /// The instrument says that it does not know: no target, out of its range, moving.
    NotKnown,
    /// Its check sum does not fit: it was damaged on the way.
    Damaged,
    /// It does not read as one number with one unit.
    NotUnderstood,
    /// More than the instrument can measure.
    OutOfRange(Quantity),
    /// The same message again.
    Repeated,
}

impl std::fmt::Display for NotAReading {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(self.words().unwrap_or("The same message came again."))
    }
}

impl std::error::Error for NotAReading {}

impl NotAReading {
    /// The name used on every wire: `out-of-range`.
    pub fn name(self) -> &'static str {
        match self {
            Self::Size { .. } => "size",
            Self::NotKnown => "not-known",
            Self::Damaged => "damaged",
            Self::NotUnderstood => "not-understood",
            Self::OutOfRange(_) => "out-of-range",
            Self::Repeated => "repeated",
        }
    }

    /// A sentence for a person on site; `None` where there is nothing to do.
    pub fn words(self) -> Option<&'static str> {
        match self {
            Self::Size { .. } | Self::Damaged | Self::NotUnderstood => {
                Some("What the instrument sent was damaged and not taken. Measure again.")
            }
            Self::NotKnown => Some("The instrument could not measure. Hold it still on a clear target and try again."),
            Self::OutOfRange(_) => Some("That is more than the instrument can measure; it was not taken."),
            Self::Repeated => None,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn kinds_are_never_mixed() {
        let [low, high] = [-1.0, 1.0].map(|mm| Quantity::Length(Length::mm(mm)));
        assert!(high.within(low, high) && low.within(low, high) && !high.times(1.1).within(low, high));
        assert!(!Quantity::Angle(Angle::ZERO).within(low, high));
        let degree = Quantity::Angle(Angle::degrees(3.0));
        assert_eq!(degree.standard_uncertainty(high), Quantity::Angle(Angle::degrees(3.0_f64.sqrt())));
    }

    #[test]
    fn a_display_rounds_to_its_step() {
        let mm = |mm| Quantity::Length(Length::mm(mm));
        assert_eq!(mm(1114.42).shown(mm(0.1), mm(0.5)), mm(1114.5));
        assert_eq!(mm(5.0).shown(mm(0.1), mm(0.0)), mm(5.0), "no step, no rounding to nonsense");
    }

    /// What a display leaves open: a sixteenth 0.45827 mm (0.018042 in), a thirty-second 0.22913, a millimetre 0.28868
    /// (worked: d/√12).
    #[test]
    fn uncertainty_of_rounding() {
        for (step, mm) in [(25.4 / 16.0, 0.45827), (25.4 / 32.0, 0.22913), (1.0, 0.28868)] {
            let [none, step] = [0.0, step].map(|mm| Quantity::Length(Length::mm(mm)));
            let Quantity::Length(u) = none.standard_uncertainty(step) else { panic!("a length") };
            assert!((u.to_mm() - mm).abs() < 1e-5, "{u:?}");
        }
    }
}
