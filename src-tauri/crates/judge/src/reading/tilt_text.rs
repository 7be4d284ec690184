//! Tilts as typed: in degrees, in per cent, in millimetres to the metre or in inches to the foot.

use crate::forms::fields::positive;
use crate::forms::refusal::{Kind, Refusal};
use crate::forms::{RoomFile, TiltAsk, TiltUnit, TiltView, Units};
use crate::reading::length_text::parse;
use crate::room::rules::{Figures, SlopeId};
use survey::units::{Angle, INCH_MM, Length, Slope};

/// Steeper than this is no floor: a slip of the point or of the unit.
///
/// Source: common practice.
const STEEPEST: f64 = 0.2;

/// How a unit may be written behind the number.
const WRITTEN: [(&str, TiltUnit); 9] = [
    ("mm/m", TiltUnit::MmPerM),
    ("in/ft", TiltUnit::InPerFt),
    ("\"/ft", TiltUnit::InPerFt),
    ("\u{2033}/ft", TiltUnit::InPerFt),
    ("\u{b0}", TiltUnit::Degrees),
    ("degrees", TiltUnit::Degrees),
    ("deg", TiltUnit::Degrees),
    ("\u{2030}", TiltUnit::MmPerM),
    ("%", TiltUnit::Percent),
];

/// The tilt in a text, positive as it was typed.
fn tilt(text: &str, unit: TiltUnit, figures: &Figures) -> Result<Slope, Refusal> {
    let (number, unit) = parted(text.trim(), unit);
    let (sign, number) = signed(number.trim());
    let tilt = match unit {
        TiltUnit::InPerFt => over(parse("text", number, Units::In, figures)?, Length::mm(12.0 * INCH_MM)),
        TiltUnit::MmPerM => Slope::ratio(bare(number)? / 1000.0),
        TiltUnit::Percent => Slope::ratio(bare(number)? / 100.0),
        TiltUnit::Degrees => Angle::degrees(bare(number)?).to_slope(),
    };
    if tilt.to_ratio().abs() > STEEPEST {
        let message = "A floor is not so steep: see to the decimal point and the unit.";
        return Err(Refusal::new(Kind::OutOfRange, message).field("text"));
    }
    Ok(Slope::ratio(tilt.to_ratio() * sign))
}

fn over(rise: Length, run: Length) -> Slope {
    Slope::ratio(rise.ratio_to(run).to_f64())
}

/// The number, and the unit that stands behind it or is meant.
fn parted(text: &str, meant: TiltUnit) -> (&str, TiltUnit) {
    let written = WRITTEN.iter().find_map(|(written, unit)| Some((text.strip_suffix(written)?, *unit)));
    written.unwrap_or((text, meant))
}

/// The sign, and what stands behind it; a minus may be a hyphen or a true one.
fn signed(text: &str) -> (f64, &str) {
    let minus = text.strip_prefix('-').or_else(|| text.strip_prefix('\u{2212}'));
    minus.map_or((1.0, text.strip_prefix('+').unwrap_or(text)), |rest| (-1.0, rest))
}

/// A plain number with a point or a comma.
fn bare(text: &str) -> Result<f64, Refusal> {
    let is_plain = text.chars().all(|letter| letter.is_ascii_digit() || letter == '.' || letter == ',');
    let number = text.replace(',', ".").parse::<f64>().ok().filter(|number| is_plain && number.is_finite());
    number.ok_or_else(|| {
        let message = format!("{text:?} is no tilt. Type a number as the level shows it, like 0.4 or -1.2.");
        Refusal::new(Kind::NotUnderstood, message).field("text")
    })
}

/// What a text means as a tilt.
///
/// # Errors
/// `not-understood` for a text that is none, `out-of-range` for one that is no floor's or a foot of no length.
pub fn asked(file: &RoomFile, ask: &TiltAsk) -> Result<TiltView, Refusal> {
    let foot = positive("foot", ask.foot)?;
    let figures = Figures::of(&file.rules);
    let tilt = tilt(&ask.text, ask.unit, &figures)?;
    let sd = match ask.sd_degrees {
        Some(degrees) => Angle::degrees(positive("sd_degrees", degrees)?.to_mm()).to_slope(),
        None => figures.slope(SlopeId::TiltSd),
    };
    Ok(TiltView { value: tilt.to_ratio(), rise: tilt.times(foot).to_mm(), sd_mm: sd.times(foot).to_mm() })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(text: &str, unit: TiltUnit, expected: Option<f64>) {
        let found = tilt(text, unit, &Figures::default());
        let same = match (&found, expected) {
            (Ok(found), Some(expected)) => (found.to_ratio() - expected).abs() < 1e-9,
            (Err(_), None) => true,
            _ => false,
        };
        assert!(same, "{text:?}: {found:?}");
    }

    #[test]
    fn a_tilt_in_every_notation() {
        let degrees = |angle: f64| Some(angle.to_radians().tan());
        check("0.4", TiltUnit::Degrees, degrees(0.4));
        check("-0,4", TiltUnit::Degrees, degrees(-0.4));
        check("\u{2212}0.4\u{b0}", TiltUnit::Percent, degrees(-0.4));
        check("+2.1 %", TiltUnit::Degrees, Some(0.021));
        check("3.5", TiltUnit::MmPerM, Some(0.0035));
        check("1/8", TiltUnit::InPerFt, Some(1.0 / 96.0));
        check("-1/4 in/ft", TiltUnit::Degrees, Some(-1.0 / 48.0));
        check("0", TiltUnit::InPerFt, Some(0.0));
    }

    #[test]
    fn what_is_no_tilt_of_a_floor_is_refused() {
        for text in ["", "abc", "1e9", "NaN", "inf", "45", "--1"] {
            check(text, TiltUnit::Degrees, None);
        }
    }
}
