//! Flatness in the standards' own figures: curvatures, F-numbers, minimum zones.

use survey::Point;
use survey::f_numbers::{FNumbers, combined, curvatures, f_numbers};
use survey::flatness_zone::flatness_zone;
use survey::units::{Length, Probability, Ratio};

const WORKSHEET: &str = include_str!("../../../../../fixtures/published/e1155m-worksheet.txt");

/// The lines of the worksheet under a heading, in order.
fn lines(heading: &str) -> Vec<Vec<Length>> {
    let rows = WORKSHEET.lines().filter_map(|row| row.strip_prefix(heading));
    let number = |text: &str| text.parse().ok().map(Length::mm);
    rows.map(|row| row.split_whitespace().skip(1).filter_map(number).collect()).collect()
}

fn found(lines: &[Vec<Length>], spacing: f64) -> FNumbers {
    let lines: Vec<Vec<Option<Length>>> = lines.iter().map(|line| line.iter().copied().map(Some).collect()).collect();
    f_numbers(&lines, Length::mm(spacing), None, Probability::of(0.9)).expect("lines of readings").value
}

fn near(what: &str, found: f64, expected: f64, slack: f64) {
    assert!((found - expected).abs() <= slack, "{what}: {found}, expected {expected}");
}

/// All published curvatures of five real lines, within their last printed digit (read; 62 of them).
#[test]
fn sixty_two_curvatures() {
    let mut compared = 0;
    for (heights, published) in lines("heights").iter().zip(lines("curvatures")) {
        let computed = curvatures(heights);
        assert_eq!(computed.len(), published.len());
        for (q, printed) in computed.iter().zip(&published) {
            near("curvature", q.to_mm(), printed.to_mm(), 0.001 + 1e-9);
            compared += 1;
        }
    }
    assert_eq!(compared, 62);
}

/// FF and FL of the same lines, worked out independently of this program (the worksheet's own results were not seen).
#[test]
fn f_numbers_of_the_worksheet() {
    let expected = [
        (12, -0.4212, 1.2012, 28.84, 4, -0.2663, 5.1480, 20.21),
        (13, -0.3498, 1.7760, 20.44, 5, -0.5030, 2.1341, 45.98),
        (12, -0.2752, 1.0256, 34.63, 4, -1.8860, 2.0476, 39.55),
        (12, -0.1567, 2.0390, 18.50, 4, 0.2285, 2.1924, 46.65),
        (13, -0.0469, 1.1753, 32.49, 5, 3.7236, 1.6019, 37.22),
    ];
    for (line, (n_q, mean_q, s_q, ff, n_z, mean_z, s_z, fl)) in lines("heights").into_iter().zip(expected) {
        let numbers = found(&[line], 300.0);
        for (number, n, mean, s, f) in
            [(numbers.flatness, n_q, mean_q, s_q, ff), (numbers.levelness, n_z, mean_z, s_z, fl)]
        {
            let number = number.expect("enough readings");
            assert_eq!(number.n, n);
            near("mean", number.mean.to_mm(), mean, 5.1e-5);
            near("s", number.s.to_mm(), s, 5.1e-5);
            near("F", number.f.expect("bounded").to_f64(), f, 5.1e-3);
        }
    }
}

/// COMPUTED from the five lines and the sixth's published curvatures: FF 25.2173 for all, two at a time in any order or
/// all at once (the rule itself is recalled from E1155, not read).
#[test]
fn parts_of_a_floor_combined() {
    let of_line = |line: Vec<Length>| {
        let number = found(&[line], 300.0).flatness.expect("enough readings");
        (number.f.expect("bounded"), number.n)
    };
    // The sixth line: eleven curvatures of mean -0.1962 and spread 1.2068.
    let mut parts: Vec<(Ratio, usize)> = lines("heights").into_iter().map(of_line).collect();
    parts.push((Ratio::of(116.078 / (3.0 * 1.2068 + 0.1962)), 11));
    let all = combined(&parts).expect("parts").to_f64();
    near("all at once", all, 25.2173, 5e-4);
    for start in 0..parts.len() {
        parts.rotate_left(1);
        let two = |(one, n): (Ratio, usize), &(other, m): &(Ratio, usize)| {
            (combined(&[(one, n), (other, m)]).expect("two parts"), n + m)
        };
        let (one, _) = parts.iter().skip(1).fold(parts[0], two);
        near(&format!("from part {start}"), one.to_f64(), all, 1e-9);
    }
}

/// Whole waves of A sin(2πx/λ), x in ft: FF and FL in closed form from the population spread (worked out); 720 waves
/// long, so that n − 1 stands for n within a part in 10⁴.
#[test]
fn waves_in_closed_form() {
    for (wave, high, ff, fl) in [(4, 1.0 / 32.0, 34.47, 94.28), (20, 1.0 / 8.0, 176.07, 23.57)] {
        let at = |ft: i32| {
            let turn = f64::from(ft % wave) / f64::from(wave);
            Length::inches(high * (turn * std::f64::consts::TAU).sin())
        };
        let numbers = found(&[(0..720 * wave + 2).map(at).collect()], 304.8);
        near("FF", numbers.flatness.and_then(|n| n.f).expect("bounded").to_f64(), ff, 2e-4 * ff);
        near("FL", numbers.levelness.and_then(|n| n.f).expect("bounded").to_f64(), fl, 2e-4 * fl);
    }
    // A wave of ten feet has no difference over ten feet: no bound, not infinity.
    let at = |ft: i32| Length::inches((f64::from(ft % 10) / 10.0 * std::f64::consts::TAU).sin() / 16.0);
    let numbers = found(&[(0..7202).map(at).collect()], 304.8);
    assert_eq!(numbers.levelness.expect("differences").f, None);
    near("FF", numbers.flatness.and_then(|n| n.f).expect("bounded").to_f64(), 90.24, 2e-4 * 90.24);
}

/// Seven small sets with minimum zones found by exhaustive search over three-and-one and two-and-two contacts.
#[test]
fn seven_minimum_zones() {
    let grid = |n: i32, z: &dyn Fn(f64, f64) -> f64| -> Vec<Point> {
        let at = |i: i32| (f64::from(i % n), f64::from(i / n));
        (0..n * n).map(|i| Point::mm(at(i).0, at(i).1, z(at(i).0, at(i).1))).collect()
    };
    let of =
        |points: &[(f64, f64, f64)]| -> Vec<Point> { points.iter().map(|&(x, y, z)| Point::mm(x, y, z)).collect() };
    let s6 = [[0.0, 2.0, 3.0, 1.0], [1.0, 4.0, 5.0, 2.0], [0.0, 3.0, 6.0, 3.0], [-1.0, 1.0, 2.0, 0.0]];
    let third = 1.0 / 3.0;
    type Set = (&'static str, Vec<Point>, f64, f64, Option<(f64, f64)>, Option<[usize; 2]>);
    let sets: [Set; 7] = [
        ("S1", of(&[(0., 0., 0.), (1., 0., 1.), (1., 1., 0.), (0., 1., 1.)]), 1.0, 1.0, Some((0.0, 0.0)), Some([2, 2])),
        (
            "S2",
            of(&[(0., 0., 0.), (4., 0., 0.), (0., 4., 0.), (1., 1., 1.)]),
            12.0 / 11.0,
            1.0,
            Some((0.0, 0.0)),
            Some([1, 3]),
        ),
        ("S3", grid(3, &|x, y| if (x, y) == (1.0, 1.0) { 3.0 } else { 0.0 }), 3.0, 3.0, None, None),
        (
            "S4",
            grid(3, &|x, y| if (x, y) == (2.0, 2.0) { -3.0 } else { 0.0 }),
            2.5,
            2.25,
            Some((-0.75, -0.75)),
            Some([2, 2]),
        ),
        ("S5", grid(3, &|x, y| (x - 1.0) * (y - 1.0)), 2.0, 2.0, Some((0.0, 0.0)), None),
        ("S6", grid(4, &|x, y| s6[y as usize][x as usize]), 6.3, 6.0, Some((third, -third)), None),
        ("S7", grid(5, &|x, y| 2.0 * x - 3.0 * y + (x - 2.0).powi(2) - 0.5 * (y - 1.0).powi(2)), 6.0, 6.0, None, None),
    ];
    for (name, points, range, minimum, slopes, contacts) in sets {
        let zone = flatness_zone(&points).expect("a plane");
        near(name, zone.least_squares_range.to_mm(), range, 1e-12);
        near(name, zone.minimum_zone.to_mm(), minimum, 1e-12);
        if let Some((a, b)) = slopes {
            near(name, zone.plane.slope_x.to_ratio(), a, 1e-12);
            near(name, zone.plane.slope_y.to_ratio(), b, 1e-12);
        }
        if let Some(contacts) = contacts {
            assert_eq!([zone.above.len(), zone.below.len()], contacts, "{name}");
        }
    }
}
