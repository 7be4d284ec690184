//! Planes against published figures: certified regressions, exact small sets, the uncertainty of a grid.

use survey::blunders::blunders;
use survey::plane::{self, Estimator, Fit, PlaneError};
use survey::units::{Length, Probability};
use survey::{PlanPosition, Point};

const NORRIS: &str = include_str!("../../../../../fixtures/published/norris.csv");
const PONTIUS: &str = include_str!("../../../../../fixtures/published/pontius.csv");

/// The two columns of a published set.
fn columns(set: &str) -> Vec<(f64, f64)> {
    let rows = set.lines().filter(|line| !line.starts_with('#')).skip(1);
    let number = |text: &str| text.parse().expect("a number");
    rows.map(|row| row.split_once(',').map(|(x, y)| (number(x), number(y))).expect("two columns")).collect()
}

fn fit(points: &[Point]) -> Fit {
    plane::fit(points, Length::mm(1.0), Estimator::LeastSquares).expect("a plane").value
}

fn check(what: &str, found: f64, certified: f64, relative: f64) {
    assert!((found - certified).abs() <= relative * certified.abs(), "{what}: {found}, certified {certified}");
}

fn intercept(fit: &Fit) -> f64 {
    fit.predict(PlanPosition { x: Length::ZERO, y: Length::ZERO }).value.to_mm()
}

/// Norris twice, at y = −1 and +1: a straight line becomes a plane with no slope across, every sum doubles (exact by
/// symmetry). Certified values: NIST StRD (read). Also far from the origin of the map, by steps that keep every digit.
#[test]
fn norris() {
    let twice: Vec<Point> =
        columns(NORRIS).into_iter().flat_map(|(x, z)| [-1.0, 1.0].map(|y| Point::mm(x, y, z))).collect();
    let norris = fit(&twice);
    check("slope", norris.plane.slope_x.to_ratio(), 1.002_116_818_020_45, 1e-13);
    check("intercept", intercept(&norris), -0.262_323_073_774_029, 1e-12);
    check("sum of squares", norris.rss.to_mm2(), 53.234_797_058_844_8, 1e-12);
    assert!(norris.plane.slope_y.to_ratio().abs() < 1e-15, "{:?}", norris.plane);
    assert_eq!(norris.dof, 69);

    // σ = 1, and twice the data: the certified standard deviations are s·√2 of these.
    let s = 0.884_796_396_144_373 * std::f64::consts::SQRT_2;
    check("residual sd", norris.rss.to_mm2() / 2.0 / 34.0, 0.884_796_396_144_373f64.powi(2), 1e-12);
    check("sd of the slope", s * norris.slope_x().u.to_ratio(), 0.429_796_848_199_937e-3, 1e-12);
    let origin = norris.predict(PlanPosition { x: Length::ZERO, y: Length::ZERO });
    check("sd of the intercept", s * origin.u.to_mm(), 0.232_818_234_301_152, 1e-12);
}

#[test]
fn norris_in_one_line_is_refused() {
    let line: Vec<Point> = columns(NORRIS).into_iter().map(|(x, z)| Point::mm(x, 0.0, z)).collect();
    assert_eq!(plane::best_fit(&line), Err(PlaneError::CollinearPoints));
}

/// Pontius as a plane over (x, x²/10⁶). Certified values: NIST StRD (read).
#[test]
fn pontius() {
    let points: Vec<Point> = columns(PONTIUS).into_iter().map(|(x, z)| Point::mm(x, x * x / 1e6, z)).collect();
    let pontius = fit(&points);
    check("constant", intercept(&pontius), 0.673_565_789_473_684e-3, 1e-9);
    check("linear", pontius.plane.slope_x.to_ratio(), 0.732_059_160_401_003e-6, 1e-12);
    check("quadratic", pontius.plane.slope_y.to_ratio(), -0.316_081_871_345_029e-8, 1e-10);
    let s = 0.205_177_424_076_185e-3;
    check("residual sd", (pontius.rss.to_mm2() / 37.0).sqrt(), s, 1e-9);
    check("sd of the linear", s * pontius.slope_x().u.to_ratio(), 0.157_817_399_981_659e-9, 1e-12);
    check("sd of the quadratic", s * pontius.slope_y().u.to_ratio(), 0.486_652_849_992_036e-10, 1e-12);
}

/// NoInt1 and NoInt2: a line held to the origin, as a plane through the points, their mirror images, and both again at
/// y = ±1; sums come out fourfold. Certified values: NIST StRD (read).
#[test]
fn lines_through_the_origin() {
    let held = |points: &[(f64, f64)]| {
        let four = |&(x, z): &(f64, f64)| {
            [(1.0, 1.0), (1.0, -1.0), (-1.0, 1.0), (-1.0, -1.0)].map(|(side, y)| Point::mm(side * x, y, side * z))
        };
        fit(&points.iter().flat_map(four).collect::<Vec<_>>())
    };
    let one: Vec<(f64, f64)> = (0..11).map(|i| (60.0 + f64::from(i), 130.0 + f64::from(i))).collect();
    check("NoInt1", held(&one).plane.slope_x.to_ratio(), 2.074_380_165_289_26, 1e-13);
    check("NoInt1 squares", held(&one).rss.to_mm2(), 4.0 * 127.272_727_272_727, 1e-12);
    let two = held(&[(4.0, 3.0), (5.0, 4.0), (6.0, 4.0)]);
    check("NoInt2", two.plane.slope_x.to_ratio(), 0.727_272_727_272_727, 1e-13);
    check("NoInt2 squares", two.rss.to_mm2(), 4.0 * 0.272_727_272_727_273, 1e-12);
}

/// Seven small sets with exactly known planes (worked out by exact search; x, y in m, z in mm): slopes, height at
/// (0, 0), range and scatter of the residuals.
#[test]
fn seven_sets() {
    let grid = |n: i32, z: &dyn Fn(f64, f64) -> f64| -> Vec<Point> {
        let at = |i: i32| (f64::from(i % n), f64::from(i / n));
        (0..n * n).map(|i| Point::mm(at(i).0, at(i).1, z(at(i).0, at(i).1))).collect()
    };
    let of =
        |points: &[(f64, f64, f64)]| -> Vec<Point> { points.iter().map(|&(x, y, z)| Point::mm(x, y, z)).collect() };
    let s6 = [[0.0, 2.0, 3.0, 1.0], [1.0, 4.0, 5.0, 2.0], [0.0, 3.0, 6.0, 3.0], [-1.0, 1.0, 2.0, 0.0]];
    let third = 1.0 / 3.0;
    let sets: [(&str, Vec<Point>, [f64; 5]); 7] = [
        ("S1 twist", of(&[(0., 0., 0.), (1., 0., 1.), (1., 1., 0.), (0., 1., 1.)]), [0.0, 0.0, 0.5, 1.0, 1.0]),
        (
            "S2 dome",
            of(&[(0., 0., 0.), (4., 0., 0.), (0., 4., 0.), (1., 1., 1.)]),
            [-1.0 / 22.0, -1.0 / 22.0, 4.0 / 11.0, 12.0 / 11.0, 0.852_803],
        ),
        ("S3", grid(3, &|x, y| if (x, y) == (1.0, 1.0) { 3.0 } else { 0.0 }), [0.0, 0.0, third, 3.0, 1.154_701]),
        (
            "S4",
            grid(3, &|x, y| if (x, y) == (2.0, 2.0) { -3.0 } else { 0.0 }),
            [-0.5, -0.5, 2.0 * third, 2.5, 0.912_871],
        ),
        ("S5", grid(3, &|x, y| (x - 1.0) * (y - 1.0)), [0.0, 0.0, 0.0, 2.0, 0.816_497]),
        ("S6", grid(4, &|x, y| s6[y as usize][x as usize]), [0.6, -0.3, 1.55, 6.3, 1.901_416]),
        (
            "S7",
            grid(5, &|x, y| 2.0 * x - 3.0 * y + (x - 2.0).powi(2) - 0.5 * (y - 1.0).powi(2)),
            [2.0, -4.0, 2.5, 6.0, 1.994_310],
        ),
    ];
    for (name, points, [a, b, c, range, scatter]) in sets {
        let fit = fit(&points);
        let near = |found: f64, expected: f64, slack: f64| {
            assert!((found - expected).abs() < slack, "{name}: {found}, expected {expected}");
        };
        near(fit.plane.slope_x.to_ratio(), a, 1e-13);
        near(fit.plane.slope_y.to_ratio(), b, 1e-13);
        near(intercept(&fit), c, 1e-12);
        let residuals = || fit.residuals.iter().map(|v| v.to_mm());
        near(residuals().fold(f64::MIN, f64::max) - residuals().fold(f64::MAX, f64::min), range, 1e-12);
        near(fit.s0.expect("redundant").to_f64(), scatter, 5e-7);
    }
}

/// The unit grid {−1, 0, 1}²: exact uncertainties in reading standard deviations.
#[test]
fn the_uncertainty_of_a_nine_point_grid() {
    let at = |i: i32| (f64::from(i % 3 - 1), f64::from(i / 3 - 1));
    let grid: Vec<Point> = (0..9).map(|i| Point::mm(at(i).0, at(i).1, 0.0)).collect();
    let fit = fit(&grid);
    let u = |x: f64, y: f64| fit.predict(PlanPosition { x: Length::mm(x), y: Length::mm(y) }).u.to_mm();
    check("slope", fit.slope_x().u.to_ratio(), 1.0 / 6f64.sqrt(), 1e-14);
    check("other slope", fit.slope_y().u.to_ratio(), 1.0 / 6f64.sqrt(), 1e-14);
    check("height", fit.height().u.to_mm(), 1.0 / 3.0, 1e-14);
    check("corner", u(1.0, -1.0), 2.0 / 3.0, 1e-14);
    check("centre", u(0.0, 0.0), 1.0 / 3.0, 1e-14);
    // The residual at a corner scatters by √(5/9) = 0.745356.
    check("corner residual", fit.redundancy.as_ref().expect("redundant")[0].to_f64().sqrt(), 0.745_356, 1e-6);
}

/// Critical values and the smallest detectable error. 3.29 and 4.13 σ/√redundancy: Baarda 1968 (recalled, not read);
/// the digits are Φ⁻¹ to 16 places.
#[test]
fn data_snooping_constants() {
    let at = |i: i32| (f64::from(i % 3) * 300.0, f64::from(i / 3) * 300.0);
    let grid: Vec<Point> = (0..9).map(|i| Point::mm(at(i).0, at(i).1, 0.0)).collect();
    let found = blunders(&grid, Length::mm(0.5), Probability::of(0.001)).expect("a plane").value;
    check("critical", found.critical.to_f64(), 3.290_526_731_491_895, 1e-12);
    let corner = found.smallest_detectable[0].expect("checked").to_mm();
    check("corner", corner, (3.290_526_731_491_895 + 0.841_621_233_572_914_2) * 0.5 / (5.0f64 / 9.0).sqrt(), 1e-12);
}
