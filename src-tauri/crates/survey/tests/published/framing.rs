//! Joists against published figures: notch and bore limits, sections.

use survey::guard::{Cut, Grounds, Limits, Member, MemberKind, Ruling, Section, bore, judge};
use survey::length_text::{Parts, Rounding, fraction};
use survey::shim_stock::{ShimStock, shim_stock};
use survey::units::Length;

fn inches(value: f64) -> Length {
    Length::inches(value)
}

/// Worked limits of dressed sizes. Read: 2x10 notch 1.54, length 3.08, end 2.31 (published study material on IRC
/// R502.8.1); 2x8 bore 2-3/8 (a trade magazine's answer on notches and holes); 2x6 bore 1-13/16 (a do-it-yourself
/// page). The further decimals and the millimetres are worked out here: d/6, d/3, d/4, d/3.
#[test]
fn notch_and_bore_limits() {
    for (depth, [notch, length, end, bore], mm) in [
        (9.25, [1.5417, 3.0833, 2.3125, 3.0833], [39.16, 78.32, 58.74, 78.32]),
        (7.25, [1.2083, 2.4167, 1.8125, 2.4167], [30.69, 61.38, 46.04, 61.38]),
    ] {
        let limits = Limits::of(inches(depth));
        let found = [limits.notch_depth, limits.notch_length, limits.end_notch_depth, limits.bore];
        for ((found, inches), mm) in found.iter().zip([notch, length, end, bore]).zip(mm) {
            assert!((found.to_inches() - inches).abs() <= 5e-5, "{depth}: {} {inches}", found.to_inches());
            assert!((found.to_mm() - mm).abs() <= 5e-3, "{depth}: {} {mm}", found.to_mm());
        }
    }
    assert!((Limits::of(inches(5.5)).bore.to_mm() - 46.57).abs() <= 5e-3);
    assert!((Limits::of(inches(11.25)).bore.to_mm() - 95.25).abs() <= 5e-3);
}

/// Limits are printed in sixteenths rounded down, never to the nearest.
#[test]
fn limits_print_rounded_down() {
    for (limit, printed) in [
        (Limits::of(inches(7.25)).bore, "2-3/8"),
        (Limits::of(inches(5.5)).bore, "1-13/16"),
        (Limits::of(inches(11.25)).bore, "3-3/4"),
        (Limits::of(inches(9.25)).notch_depth, "1-1/2"),
        (Limits::of(inches(9.25)).notch_length, "3-1/16"),
        (Limits::of(inches(9.25)).end_notch_depth, "2-5/16"),
    ] {
        assert_eq!(fraction(limit, Parts::Sixteenths, Rounding::Down), printed);
    }
}

/// The edges of a hole stay 2 in from the edges of the joist, other holes and notches (IRC R502.8.1 as summarised).
#[test]
fn a_hole_keeps_two_inches() {
    let joist = Member { kind: MemberKind::Sawn, depth: inches(9.25), span: inches(138.0), first_bearing: inches(0.0) };
    assert!(bore(&joist, inches(9.25) / 3.0, inches(2.0)).is_allowed());
    assert!(!bore(&joist, inches(1.0), inches(1.9)).is_allowed());
}

/// A notch is allowed outside the middle third and not in it; engineered members take none (R502.8.2 as summarised).
#[test]
fn where_a_notch_is_allowed() {
    let joist = |kind| Member { kind, depth: inches(9.25), span: inches(138.0), first_bearing: inches(0.0) };
    let notch = |from: f64| Cut { depth: inches(1.5), from: inches(from), to: inches(from + 3.0) };
    let judged = |kind, from| judge(&joist(kind), &notch(from), inches(0.125), None);
    assert_eq!(judged(MemberKind::Sawn, 20.0), Ruling::Allowed(Grounds::Notch));
    assert_eq!(judged(MemberKind::Sawn, 100.0), Ruling::Allowed(Grounds::Notch));
    assert!(!judged(MemberKind::Sawn, 60.0).is_allowed());
    assert!(!judged(MemberKind::Engineered, 20.0).is_allowed());
    let end = Cut { depth: inches(2.3125), from: inches(0.0), to: inches(3.0) };
    assert_eq!(judge(&joist(MemberKind::Sawn), &end, inches(0.125), None), Ruling::Allowed(Grounds::EndNotch));
}

/// Dressed sections, breadth 1.5 in. Read rounded in a published table of dressed sizes; these are the exact values,
/// worked out here from bd, bd²/6 and bd³/12, and the second moment in mm⁴ as printed to five figures.
#[test]
fn sections() {
    for (depth, area, modulus, moment, moment_mm4) in [
        (3.5, 5.25, 3.0625, 5.359375, 2.2307e6),
        (5.5, 8.25, 7.5625, 20.796875, 8.6563e6),
        (7.25, 10.875, 13.140625, 47.634766, 1.9827e7),
        (9.25, 13.875, 21.390625, 98.931641, 4.1178e7),
        (11.25, 16.875, 31.640625, 177.978516, 7.4080e7),
    ] {
        let section = Section { breadth: inches(1.5), depth: inches(depth) };
        assert!((section.area().to_mm2() / 25.4_f64.powi(2) - area).abs() < 1e-9, "{depth}");
        assert!((section.modulus().to_mm3() / 25.4_f64.powi(3) - modulus).abs() < 1e-9, "{depth}");
        assert!((section.second_moment().to_mm4() / 25.4_f64.powi(4) - moment).abs() < 1e-6, "{depth}");
        assert!((section.second_moment().to_mm4() / moment_mm4 - 1.0).abs() < 3e-5, "{depth}");
    }
}

/// An eighth off a 2x10 takes 2.7 % of the section modulus and 4.0 % of the stiffness (worked out: 1-(73/74)², ³).
#[test]
fn what_an_eighth_takes() {
    let section = Section { breadth: inches(1.5), depth: inches(9.25) };
    let share = 73.0_f64 / 74.0;
    assert!((section.modulus_lost(inches(0.125)).to_f64() - (1.0 - share.powi(2))).abs() < 1e-12);
    assert!((section.stiffness_lost(inches(0.125)).to_f64() - (1.0 - share.powi(3))).abs() < 1e-12);
    assert_eq!(section.modulus_lost(inches(20.0)).to_f64(), 1.0);
}

/// Shims of 1/32 to 1/4 in and plywood a thirty-second under its name: 7/32, 11/32, 15/32 (common practice), in mm
/// (worked).
#[test]
fn what_stock_measures() {
    let (plywood, shims): (Vec<_>, Vec<_>) = shim_stock().into_iter().partition(|stock| stock.plywood);
    let near = |(stock, mm): (&ShimStock, f64)| (stock.actual.to_mm() - mm).abs() <= 0.0006;
    assert!(shims.iter().zip([0.794, 1.588, 3.175, 4.763, 6.35]).all(near), "{shims:?}");
    let thirty_seconds: Vec<f64> = plywood.iter().map(|stock| stock.actual.to_inches() * 32.0).collect();
    assert_eq!(thirty_seconds.iter().map(|part| part.round()).collect::<Vec<_>>(), [7.0, 11.0, 15.0]);
    assert!(plywood.iter().all(|stock| ((stock.called - stock.actual).to_inches() - 1.0 / 32.0).abs() < 1e-12));
}
