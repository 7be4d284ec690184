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
}
