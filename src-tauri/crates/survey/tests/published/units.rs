//! Units and site notation against exact definitions and published spellings.
//!
//! The figures are exact conversions from 1 in = 25.4 mm (international yard and pound agreement, 1959) worked out
//! here; notation, carrying and the direction of rounding are common practice.

use survey::length_text::{DefaultUnit, Parts, Rounding, feet_and_inches, fraction, millimetres, parse};
use survey::units::Length;

const STRONG: f64 = 1.0 / 32.0;

fn check_mm(text: &str, mm: f64) {
    let length = parse(text, DefaultUnit::Inch, Length::inches(STRONG));
    assert!(length.as_ref().is_ok_and(|found| (found.to_mm() - mm).abs() < 1e-12 * mm.max(1.0)), "{text}: {length:?}");
}

/// Exact fractions of an inch in millimetres.
#[test]
fn exact_fractions() {
    for (text, mm) in [
        ("1/64", 0.396875),
        ("1/32", 0.79375),
        ("1/16", 1.5875),
        ("1/8", 3.175),
        ("3/16", 4.7625),
        ("1/4", 6.35),
        ("1-1/4", 31.75),
        ("24 in", 609.6),
        ("1 ft", 304.8),
        ("10 ft", 3048.0),
    ] {
        check_mm(text, mm);
    }
}

/// One length in five spellings.
#[test]
fn spellings_of_one_length() {
    for text in ["3'-4 5/8\"", "3' 4-5/8\"", "3 ft 4.625 in", "40 5/8\"", "1031.875 mm"] {
        check_mm(text, 1031.875);
    }
}

fn check_feet(inches: f64, parts: Parts, printed: &str) {
    assert_eq!(feet_and_inches(Length::inches(inches), parts, Rounding::Nearest), printed, "{inches}");
}

/// Carries: a fraction becomes an inch, twelve inches a foot, and nothing is ever "-0".
#[test]
fn carries() {
    check_feet(11.0 + 31.0 / 32.0, Parts::Sixteenths, "1'-0\"");
    check_feet(71.0 + 63.0 / 64.0, Parts::ThirtySeconds, "6'-0\"");
    check_feet(-0.03, Parts::Sixteenths, "0\"");
    check_feet(0.03125, Parts::Sixteenths, "1/16\"");
    check_feet(-0.03125, Parts::Sixteenths, "-1/16\"");
    check_feet(11.0 + 15.0 / 32.0, Parts::Sixteenths, "11 1/2\"");
    check_feet(-(11.0 + 31.0 / 32.0), Parts::Sixteenths, "-1'-0\"");
}

/// Whole inch and fraction apart, fractions reduced, zero inches kept behind feet, inches only below a foot.
#[test]
fn notation() {
    check_feet(40.625, Parts::Sixteenths, "3'-4 5/8\"");
    check_feet(40.625, Parts::SixtyFourths, "3'-4 5/8\"");
    check_feet(36.0, Parts::Sixteenths, "3'-0\"");
    check_feet(36.5, Parts::Sixteenths, "3'-0 1/2\"");
    check_feet(11.5, Parts::Sixteenths, "11 1/2\"");
}

/// Decide before rounding: 3.2 mm prints as the limit of 1/8 in and is over it.
#[test]
fn decide_before_rounding() {
    let (gap, limit) = (Length::mm(3.2), Length::inches(0.125));
    assert_eq!(
        fraction(gap, Parts::Sixteenths, Rounding::Nearest),
        fraction(limit, Parts::Sixteenths, Rounding::Nearest)
    );
    assert!(!gap.at_most(limit));
}

/// Limits are printed rounded down, cover distances up, what was measured to the nearest.
#[test]
fn direction_of_rounding() {
    let bore = Length::inches(7.25 / 3.0);
    assert_eq!(fraction(bore, Parts::Sixteenths, Rounding::Down), "2-3/8");
    assert_eq!(fraction(bore, Parts::Sixteenths, Rounding::Nearest), "2-7/16");
    assert_eq!(fraction(Length::mm(31.8), Parts::Sixteenths, Rounding::Up), "1-5/16");
    assert_eq!(millimetres(Length::mm(39.158), 0), "39");
}

/// A sixty-fourth and half of it are held exactly: 0.396875 and 0.1984375 mm.
#[test]
fn small_parts_are_exact() {
    assert_eq!([64.0, 128.0].map(|parts| Length::inches(1.0 / parts).to_mm()), [0.396875, 0.1984375]);
}
