//! Joists against published figures: how far tables let them span, and how they shrink.

use survey::guard::Section;
use survey::shrinkage::{Across, at_moisture};
use survey::span::{Floor, Wood, longest_span};
use survey::units::{Length, Ratio, Stress};

/// A row of a table: feet and inches of 2x8, 2x10 and 2x12.
type Row = [(u32, u32); 3];

/// 2012 IRC floor joists, No. 2, 40 live and 10 dead (read: learnframing.com/?p=52), in feet and inches: 2x8, 2x10,
/// 2x12 at 12, 16, 19.2 and 24 in. The design values E and F are recalled from the NDS supplement, not read.
const SPANS: [(&str, f64, f64, [Row; 4]); 3] = [
    (
        "hem-fir",
        1.3e6,
        850.0,
        [
            [(13, 2), (16, 10), (20, 4)],
            [(12, 0), (15, 2), (17, 7)],
            [(11, 3), (13, 10), (16, 10)],
            [(10, 2), (12, 5), (14, 4)],
        ],
    ),
    (
        "Douglas fir-larch",
        1.6e6,
        875.0,
        [
            [(14, 2), (17, 9), (20, 7)],
            [(12, 7), (15, 5), (17, 10)],
            [(11, 6), (14, 1), (16, 3)],
            [(10, 3), (12, 7), (14, 7)],
        ],
    ),
    (
        "spruce-pine-fir",
        1.4e6,
        875.0,
        [
            [(13, 6), (17, 3), (20, 7)],
            [(12, 3), (15, 5), (17, 10)],
            [(11, 6), (14, 1), (16, 3)],
            [(10, 3), (12, 7), (14, 7)],
        ],
    ),
];

#[test]
fn spans_of_a_table() {
    let mut differing = Vec::new();
    for (wood, elasticity, bending, rows) in SPANS {
        let grade = Wood { elasticity: Stress::psi(elasticity), bending: Stress::psi(bending) };
        for (spacing, row) in [12.0, 16.0, 19.2, 24.0].into_iter().zip(rows) {
            for (depth, (feet, inches)) in [7.25, 9.25, 11.25].into_iter().zip(row) {
                let joist = Section { breadth: Length::inches(1.5), depth: Length::inches(depth) };
                let span = longest_span(&joist, grade, Length::inches(spacing), Floor::of_a_dwelling());
                if span.to_inches().round() != f64::from(feet * 12 + inches) {
                    differing.push((wood, spacing, depth, span.to_inches().round()));
                }
            }
        }
    }
    // One of the 36 is printed 16-10 where the others' formula has 16-1: a misprint by the look of it.
    assert_eq!(differing, [("hem-fir", 19.2, 11.25, 193.0)]);
}

/// Douglas fir-larch at 16 in with the later bending strength of 900 lb/in² (recalled; later tables agree): 12-9, 15-7,
/// 18-1. By stiffness alone, one part in 720 (worked): fir 2x10 13-0.0; spruce-pine-fir 2x10 12-5.2, 2x8 9-9.0.
#[test]
fn spans_beyond_the_table() {
    let span = |elasticity: f64, bending: f64, depth: f64, deflection: f64| {
        let grade = Wood { elasticity: Stress::psi(elasticity), bending: Stress::psi(bending) };
        let joist = Section { breadth: Length::inches(1.5), depth: Length::inches(depth) };
        let floor = Floor { deflection: Ratio::of(deflection), ..Floor::of_a_dwelling() };
        longest_span(&joist, grade, Length::inches(16.0), floor).to_inches()
    };
    let later = [7.25, 9.25, 11.25].map(|depth| span(1.6e6, 900.0, depth, 360.0).round());
    assert_eq!(later, [153.0, 187.0, 217.0]);
    for (elasticity, depth, expected) in [(1.6e6, 9.25, 156.0), (1.4e6, 9.25, 149.2), (1.4e6, 7.25, 117.0)] {
        let found = span(elasticity, 875.0, depth, 720.0);
        assert!((found - expected).abs() < 0.05, "{depth}: {found}");
    }
}

/// How much a span may bend: 10 ft at 1/360 a third of an inch (read: thefloorpro.com 279), the 14-1/2 in between
/// joists 0.0403 in (read: a trade magazine), 14 ft of stone at 1/720 0.2333 in (read on a low-grade page).
#[test]
fn what_a_ratio_allows() {
    for (span, ratio, inches, mm) in
        [(120.0, 360.0, 1.0 / 3.0, 8.467), (14.5, 360.0, 0.0403, 1.023), (168.0, 720.0, 0.2333, 5.927)]
    {
        let allowed = Length::inches(span) / ratio;
        assert!((allowed.to_inches() - inches).abs() < 5e-5 && (allowed.to_mm() - mm).abs() < 5e-4, "{allowed:?}");
    }
}

/// Worked out from the published formulas (FPL-RP-489, read: id.scribd.com/document/393303591): 9.25 in from 19 to 8 %
/// gives 9.0269, 7.25 and 11.25 in lose 0.1749 and 0.2713 in; 13.25 in from 19 to 10 % gives 12.989 (the page's 13.02 is
/// its own slip and is not asserted).
#[test]
fn what_drying_takes() {
    let check = |size: f64, to: f64, expected: f64, slack: f64| {
        let dry = at_moisture(Length::inches(size), Across::Width, Ratio::of(19.0), Ratio::of(to)).expect("within");
        assert!((dry.to_inches() - expected).abs() <= slack, "{size}: {}", dry.to_inches());
    };
    check(9.25, 8.0, 9.0269, 5e-5);
    check(7.25, 8.0, 7.25 - 0.1749, 5e-5);
    check(11.25, 8.0, 11.25 - 0.2713, 5e-5);
    check(13.25, 10.0, 12.989, 5e-4);
    let lost = |size: f64| {
        let size = Length::inches(size);
        let dry = at_moisture(size, Across::Width, Ratio::of(19.0), Ratio::of(8.0)).expect("within");
        ((size - dry).to_mm() * 100.0).round() / 100.0
    };
    assert_eq!([7.25, 9.25, 11.25].map(lost), [4.44, 5.67, 6.89], "in mm");
}
