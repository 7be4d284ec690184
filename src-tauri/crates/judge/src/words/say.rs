//! Lengths in sentences: in the room's unit, and to which part of it.

use crate::forms::Units;
use survey::length_text::{Parts, Rounding, decimal_inches, fraction, millimetres};
use survey::units::Length;

/// How a room's lengths are said.
#[derive(Debug, Clone, Copy)]
pub struct Say {
    units: Units,
    /// What inches are said in; thousandths where none.
    parts: Option<Parts>,
}

impl Say {
    pub fn new(units: Units) -> Self {
        Self { units, parts: Some(Parts::Sixteenths) }
    }

    /// The same in thirty-seconds.
    pub(super) fn in_thirty_seconds(self) -> Self {
        Self { parts: Some(Parts::ThirtySeconds), ..self }
    }

    /// How two lengths that are compared are said: in decimals where fractions would make one of two.
    pub fn apart(self, mm: f64, other: f64) -> Self {
        let same = (Length::mm(mm) - Length::mm(other)).abs().at_most(Length::ZERO);
        let hidden = !same && self.bare(mm) == self.bare(other);
        if hidden { Self { parts: None, ..self } } else { self }
    }

    /// The length to the sixteenth or the tenth of a millimetre, without its unit.
    pub fn bare(self, mm: f64) -> String {
        let length = Length::mm(mm);
        match (self.units, self.parts) {
            (Units::In, Some(parts)) => fraction(length, parts, Rounding::Nearest),
            (Units::In, None) => decimal_inches(length, 3),
            (Units::Mm, _) => millimetres(length, 1),
        }
    }

    /// The length with its unit: `11/16 in`, `8.3 mm`.
    pub fn length(self, mm: f64) -> String {
        format!("{} {}", self.bare(mm), self.unit())
    }

    pub fn unit(self) -> &'static str {
        match self.units {
            Units::In => "in",
            Units::Mm => "mm",
        }
    }

    /// The magnitude with its expanded uncertainty at k = 2: `11/16 ±1/8 in`.
    pub fn uncertain(self, mm: f64, u: f64) -> String {
        format!("{} ±{} {}", self.bare(mm.abs()), self.bare(2.0 * u), self.unit())
    }

    /// A reach, in feet where it is whole feet: `10 ft`, `24 in`, `3000 mm`.
    pub fn reach(self, mm: f64) -> String {
        let feet = Length::mm(mm).to_inches() / 12.0;
        match self.units {
            Units::In if (feet - feet.round()).abs() < 1e-6 => format!("{} ft", feet.round()),
            Units::In => self.length(mm),
            Units::Mm => format!("{} mm", mm.round()),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lengths_that_differ_are_not_said_alike() {
        let check = |units, (one, other): (f64, f64), said: [&str; 2]| {
            let say = Say::new(units).apart(one, other);
            assert_eq!([say.length(one), say.length(other)], said);
        };
        let inch = 25.4;
        check(Units::In, (0.687 * inch, 0.667 * inch), ["0.687 in", "0.667 in"]);
        check(Units::In, (0.729 * inch, 0.75 * inch), ["0.729 in", "0.750 in"]);
        check(Units::In, (0.75 * inch, 0.75 * inch), ["3/4 in", "3/4 in"]);
        check(Units::In, (0.5 * inch, 0.75 * inch), ["1/2 in", "3/4 in"]);
        check(Units::Mm, (11.25, 9.0), ["11.3 mm", "9.0 mm"]);
    }
}
