//! A walk with a tilting foot against a published plate: the readings, the heights and the closures.

use std::collections::BTreeMap;
use survey::union_jack::{Tilts, UnionJack, union_jack};
use survey::units::{Angle, Length};

const WORKSHEET: &str = include_str!("../../../../../fixtures/published/moody-plate.txt");

/// The plate's unit: ten millionths of an inch.
const TEN_MICROINCHES: f64 = 25.4e-5;

/// The lines of the worksheet: a name and the readings along it, in seconds of arc.
fn worksheet() -> BTreeMap<String, Vec<f64>> {
    let line = |line: &str| {
        let (name, readings) = line.split_once(':')?;
        Some((name.to_string(), readings.split_whitespace().map(|r| r.parse().expect("a number")).collect()))
    };
    WORKSHEET.lines().filter(|line| !line.starts_with('#')).filter_map(line).collect()
}

fn plate() -> UnionJack {
    let lines = worksheet();
    let tilts = |name: &str| lines[name].iter().map(|arc| Angle::degrees(arc / 3600.0)).collect::<Vec<_>>();
    let all = Tilts {
        diagonals: ["NW-SE", "NE-SW"].map(tilts),
        edges: ["NE-NW", "NE-SE", "NW-SW", "SE-SW"].map(tilts),
        middles: ["E-W", "N-S"].map(tilts),
    };
    union_jack(Length::inches(4.0), &all).expect("even lines")
}

/// The height in the plate's unit over its lowest point.
fn over(height: Length, lowest: Length) -> f64 {
    (height - lowest).to_mm() / TEN_MICROINCHES
}

fn near(what: &str, found: f64, expected: f64, slack: f64) {
    assert!((found - expected).abs() <= slack, "{what}: {found}, expected {expected}");
}

/// Moody 1955, corrected results in an open data repository (read, figures only): corners 6.205611 and 2.908881, centre
/// 13.186928, the highest 17.841145 in the middle of the south edge, the lowest 0 on the east edge.
#[test]
fn heights_of_the_plate() {
    let plate = plate();
    let lowest = plate.edges[1].iter().copied().reduce(Length::min).expect("stations");
    near("north-west", over(plate.diagonals[0][0], lowest), 6.205_611, 1e-3);
    near("south-east", over(plate.diagonals[0][20], lowest), 6.205_611, 1e-3);
    near("north-east", over(plate.diagonals[1][0], lowest), 2.908_881, 1e-3);
    near("south-west", over(plate.diagonals[1][20], lowest), 2.908_881, 1e-3);
    near("centre", over(plate.diagonals[0][10], lowest), 13.186_928, 1e-3);
    near("highest", over(plate.edges[3][8], lowest), 17.841_145, 1e-3);
    let all = plate.diagonals.iter().chain(&plate.edges).chain(&plate.middles).flatten();
    let highest = all.copied().reduce(Length::max).expect("stations");
    near("all over", over(highest, lowest), 17.841_145, 1e-3);
}

/// The displacement of the first diagonal in seconds of arc, column 6 of the worksheet (read).
#[test]
fn a_diagonal_of_the_plate() {
    let column = [
        -3.6, -2.2, -1.3, -1.4, -1.3, -0.9, -0.4, 0.0, -0.1, 0.3, 0.0, -0.1, 0.0, 0.2, 0.0, -0.5, -1.4, -1.2, -1.4,
        -2.0, -3.6,
    ];
    let second = Length::inches(4.0).to_mm() * (1.0 / 3600.0_f64).to_radians();
    for (k, (height, expected)) in plate().diagonals[0].iter().zip(column).enumerate() {
        near(&format!("station {k}"), height.to_mm() / second, expected, 0.051);
    }
}

/// East 0.581776 by the edge and 1.939253 across, west 2.133178 and 3.490656: both close to 1.357477 (read).
#[test]
fn closures_of_the_plate() {
    let plate = plate();
    let lowest = plate.edges[1].iter().copied().reduce(Length::min).expect("stations");
    near("east by its edge", over(plate.edges[1][5], lowest), 0.581_776, 1e-3);
    near("east across", over(plate.middles[0][0], lowest), 1.939_253, 1e-3);
    near("west by its edge", over(plate.edges[2][5], lowest), 2.133_178, 1e-3);
    near("west across", over(plate.middles[0][16], lowest), 3.490_656, 1e-3);
    near("closure", over(plate.closures[0], Length::ZERO), 1.357_477, 1e-3);
}
