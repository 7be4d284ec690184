//! From length to text. Rounding is the last step: decisions compare the lengths themselves.

use crate::units::Length;

/// Into how many parts an inch is divided.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Parts {
    Sixteenths,
    ThirtySeconds,
    SixtyFourths,
}

impl Parts {
    fn per_inch(self) -> u64 {
        match self {
            Self::Sixteenths => 16,
            Self::ThirtySeconds => 32,
            Self::SixtyFourths => 64,
        }
    }
}

/// Which way a length is rounded.
///
/// # Source
/// Common practice: what was measured to the nearest, limits down, cover distances up.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Rounding {
    /// To the nearest, halves away from zero: measured values.
    Nearest,
    /// To the part below: limits (notch, bore, gap allowed), stock that must fit under a line.
    Down,
    /// To the part above: cover distances.
    Up,
}

/// Two lengths this close (in mm) are one: a length that close to a mark stands on it.
const SAME: f64 = 1e-6;

/// How many `part`s of a millimetre count `length` has, rounded.
fn count(length: Length, part: f64, rounding: Rounding) -> i64 {
    let parts = length.to_mm() / part;
    let slack = SAME / part;
    let whole = match rounding {
        Rounding::Nearest => parts.signum() * (parts.abs() + 0.5 + slack).floor(),
        Rounding::Down => (parts + slack).floor(),
        Rounding::Up => (parts - slack).ceil(),
    };
    whole as i64
}

/// The length in inches as a reduced fraction without a mark: `44-3/16`, `-7/8`, `0`.
///
/// # Source
/// Notation and carrying: common practice.
///
/// ```
/// use survey::length_text::{Parts, Rounding, fraction};
/// use survey::units::Length;
///
/// let limit = Length::inches(9.25 / 6.0);
/// assert_eq!(fraction(limit, Parts::Sixteenths, Rounding::Down), "1-1/2");
/// assert_eq!(fraction(limit, Parts::Sixteenths, Rounding::Nearest), "1-9/16");
/// ```
pub fn fraction(length: Length, parts: Parts, rounding: Rounding) -> String {
    let count = count(length, Length::inches(1.0).to_mm() / parts.per_inch() as f64, rounding);
    signed(count, mixed(count.unsigned_abs(), parts, "-"))
}

/// The length as feet, inches and a reduced fraction, with their marks: `3'-4 5/8"`, `3'-0 1/2"`; below a foot `7/8"`.
///
/// # Source
/// Notation and carrying: common practice.
///
/// ```
/// use survey::length_text::{Parts, Rounding, feet_and_inches};
/// use survey::units::Length;
///
/// let nearly = Length::inches(71.0 + 63.0 / 64.0);
/// assert_eq!(feet_and_inches(nearly, Parts::ThirtySeconds, Rounding::Nearest), "6'-0\"");
/// ```
pub fn feet_and_inches(length: Length, parts: Parts, rounding: Rounding) -> String {
    let count = count(length, Length::inches(1.0).to_mm() / parts.per_inch() as f64, rounding);
    let per_foot = 12 * parts.per_inch();
    let (feet, rest) = (count.unsigned_abs() / per_foot, count.unsigned_abs() % per_foot);
    let inches = mixed(rest, parts, " ");
    let zero = if (1..parts.per_inch()).contains(&rest) { "0 " } else { "" };
    signed(count, if feet == 0 { format!("{inches}\"") } else { format!("{feet}'-{zero}{inches}\"") })
}

/// A whole number and a reduced fraction, joined by `join`.
fn mixed(count: u64, parts: Parts, join: &str) -> String {
    let per_inch = parts.per_inch();
    let (whole, over) = (count / per_inch, count % per_inch);
    let common = 1 << over.trailing_zeros().min(per_inch.trailing_zeros());
    match (whole, over) {
        (whole, 0) => whole.to_string(),
        (0, over) => format!("{}/{}", over / common, per_inch / common),
        (whole, over) => format!("{whole}{join}{}/{}", over / common, per_inch / common),
    }
}

fn signed(count: i64, text: String) -> String {
    if count < 0 { format!("-{text}") } else { text }
}

/// The length in inches with `places` decimals (at most 6), halves away from zero: `44.188`.
pub fn decimal_inches(length: Length, places: u32) -> String {
    decimal(length, Length::inches(1.0).to_mm(), places)
}

/// The length in millimetres with `places` decimals (at most 6), halves away from zero: `1122.4`.
pub fn millimetres(length: Length, places: u32) -> String {
    decimal(length, 1.0, places)
}

/// The length both ways for a sentence that any crew reads: `1/8" (3.1 mm)`, in sixteenths and tenths of a millimetre.
pub fn both_ways(length: Length, rounding: Rounding) -> String {
    format!("{}\" ({} mm)", fraction(length, Parts::Sixteenths, rounding), rounded(length, 1.0, 1, rounding))
}

fn decimal(length: Length, unit: f64, places: u32) -> String {
    rounded(length, unit, places, Rounding::Nearest)
}

fn rounded(length: Length, unit: f64, places: u32, rounding: Rounding) -> String {
    let places = places.min(6);
    let ten = 10_i64.pow(places);
    let count = count(length, unit / ten as f64, rounding);
    let (whole, rest) = (count.unsigned_abs() / ten.unsigned_abs(), count.unsigned_abs() % ten.unsigned_abs());
    let width = places as usize;
    signed(count, if places == 0 { whole.to_string() } else { format!("{whole}.{rest:0width$}") })
}

/// A length said back in three ways, so that whoever typed it sees what was understood.
///
/// ```
/// use survey::length_text::Echo;
/// use survey::units::Length;
///
/// let echo = Echo::of(Length::inches(43.90625));
/// assert_eq!((echo.fraction.as_str(), echo.decimal_in.as_str(), echo.mm.as_str()), ("43-29/32\"", "43.906", "1115.2"));
/// ```
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Echo {
    /// With the inch mark; in the coarsest parts that hold it exactly, else the nearest thirty-second.
    pub fraction: String,
    pub decimal_in: String,
    pub mm: String,
}

impl Echo {
    pub fn of(length: Length) -> Self {
        let exact = |parts: &Parts| {
            let part = Length::inches(1.0).to_mm() / parts.per_inch() as f64;
            (count(length, part, Rounding::Nearest) as f64 * part - length.to_mm()).abs() <= SAME
        };
        let fine = [Parts::Sixteenths, Parts::ThirtySeconds, Parts::SixtyFourths].into_iter().find(exact);
        let parts = fine.unwrap_or(Parts::ThirtySeconds);
        Self {
            fraction: format!("{}\"", fraction(length, parts, Rounding::Nearest)),
            decimal_in: decimal_inches(length, 3),
            mm: millimetres(length, 1),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::{DefaultUnit, parse};
    use super::*;
    use proptest::prelude::*;

    fn check(inches: f64, parts: Parts, rounding: Rounding, expected: &str) {
        assert_eq!(fraction(Length::inches(inches), parts, rounding), expected, "{inches}");
    }

    #[test]
    fn fractions_are_reduced_and_carried() {
        use Parts::*;
        use Rounding::*;
        check(44.1875, Sixteenths, Nearest, "44-3/16");
        check(44.5, SixtyFourths, Nearest, "44-1/2");
        check(43.984375, Sixteenths, Nearest, "44");
        check(0.0, Sixteenths, Nearest, "0");
        check(-0.03, Sixteenths, Nearest, "0");
        check(-0.875, Sixteenths, Nearest, "-7/8");
        check(-44.1875, ThirtySeconds, Nearest, "-44-3/16");
        check(0.03125, Sixteenths, Nearest, "1/16");
        check(-0.03125, Sixteenths, Nearest, "-1/16");
    }

    #[test]
    fn limits_go_down_and_covers_up() {
        use Parts::*;
        use Rounding::*;
        check(1.5625, Sixteenths, Down, "1-9/16");
        check(1.5624, Sixteenths, Down, "1-1/2");
        check(1.2501, Sixteenths, Up, "1-5/16");
        check(1.25, Sixteenths, Up, "1-1/4");
        check(-0.01, Sixteenths, Down, "-1/16");
        check(-0.01, Sixteenths, Up, "0");
    }

    #[test]
    fn decimals_have_no_negative_zero() {
        assert_eq!(millimetres(Length::mm(-0.04), 1), "0.0");
        assert_eq!(millimetres(Length::mm(-0.05), 1), "-0.1");
        assert_eq!(millimetres(Length::mm(2.5), 0), "3");
        assert_eq!(millimetres(Length::mm(9.996), 2), "10.00");
        assert_eq!(decimal_inches(Length::inches(44.1875), 3), "44.188");
    }

    #[test]
    fn the_largest_length_prints() {
        for mm in [1e15, -1e15] {
            assert!(!Echo::of(Length::mm(mm)).fraction.is_empty());
            assert!(!millimetres(Length::mm(mm), 6).is_empty());
        }
    }

    proptest! {
        #[test]
        fn what_is_printed_reads_back(sixty_fourths in -100_000_i32..100_000) {
            let length = Length::inches(f64::from(sixty_fourths) / 64.0);
            for text in [
                fraction(length, Parts::SixtyFourths, Rounding::Nearest),
                feet_and_inches(length, Parts::SixtyFourths, Rounding::Nearest),
                Echo::of(length).fraction,
            ] {
                let back = parse(&text, DefaultUnit::Inch, Length::ZERO);
                prop_assert!(back.as_ref().is_ok_and(|back| (*back - length).abs().to_mm() < 1e-9), "{text}: {back:?}");
            }
        }

        #[test]
        fn rounding_stays_within_a_part(mm in -1e6..1e6) {
            let length = Length::mm(mm);
            let part = 1.5875;
            let [near, down, up] = [Rounding::Nearest, Rounding::Down, Rounding::Up]
                .map(|rounding| count(length, part, rounding) as f64 * part - mm);
            prop_assert!(near.abs() <= part / 2.0 + SAME);
            prop_assert!((-part..=SAME).contains(&down) && (-SAME..=part).contains(&up));
        }
    }
}
