//! Volumes and surfaces with known values. The source stands beside each.

use survey::fill::{FillNoise, FillTo, fill};
use survey::straightedge_surface::straightedge_surface;
use survey::surface::{Between, heights};
use survey::triangulation::triangulate;
use survey::units::{INCH_MM, Length, Ratio, Slope, Volume};
use survey::{PlanPosition, Point};

fn check(what: &str, found: f64, expected: f64, tolerance: f64) {
    assert!((found - expected).abs() <= tolerance, "{what}: {found} is not {expected}");
}

fn at(x: f64, y: f64) -> PlanPosition {
    PlanPosition { x: Length::mm(x), y: Length::mm(y) }
}

/// A square of `side` whose middle stands at zero and whose edge stands at `rise`, read at corners, mid-sides, middle.
fn shower(side: f64, rise: f64) -> Vec<Point> {
    let place = |i: u32| (f64::from(i % 3) * side / 2.0, f64::from(i / 3) * side / 2.0);
    (0..9).map(|i| Point::mm(place(i).0, place(i).1, if i == 4 { 0.0 } else { rise })).collect()
}

/// COMPUTED from the published way to reckon compound: 45 ft² by 1/8 in are 0.46875 ft³ or 13.274 litres.
#[test]
fn a_level_coat_is_area_times_depth() {
    let (wide, deep) = (9.0 * 12.0 * INCH_MM, 5.0 * 12.0 * INCH_MM);
    let floor = [(0.0, 0.0), (wide, 0.0), (0.0, deep), (wide, deep)].map(|(x, y)| Point::mm(x, y, 0.0));
    let surface = triangulate(&floor, &[]).expect("four corners").value;
    let coat = fill(&surface, FillTo::Level(Length::inches(0.125)), None);
    check("litres", coat.volume.to_litres(), 13.274, 0.000_5);
    // COMPUTED: 13.274 l and 5 % on bags of 14 l are one bag; on bags of 11.8 l, two.
    assert_eq!(coat.bags(Volume::litres(14.0), Ratio::of(0.05)), Some(1));
    assert_eq!(coat.bags(Volume::litres(11.8), Ratio::of(0.05)), Some(2));
}

/// COMPUTED, as a sloped bed around a centre drain with a level edge: the mean stands 2/3 of the rise above the drain;
/// 4 × 4 ft, 1-1/4 in at the drain, 1/2 in of rise: 2.1111 ft³ or 59.78 litres.
#[test]
fn a_bed_to_a_centre_drain_is_two_thirds_of_its_rise() {
    let side = 48.0 * INCH_MM;
    let bed = triangulate(&shower(side, 0.5 * INCH_MM), &[]).expect("nine readings").value;
    // The bed stands on a level deck 1-1/4 in below the drain: deck to bed is one volume less another.
    let high = FillTo::Level(Length::inches(0.5));
    let over_bed = fill(&bed, high, None).volume.to_litres();
    let block = side * side * 1.75 * INCH_MM * 1e-6;
    // Facets cut from the lower left corner put the corner squares' diagonals aside: the mean is exact on all but the
    // two squares whose diagonal misses the drain; there the surface is level beyond it.
    let exact = side * side * (1.25 + 0.5 * 2.0 / 3.0) * INCH_MM * 1e-6;
    check("litres on the cone", exact, 59.78, 0.005);
    let missed = 2.0 * (side * side / 8.0) * (0.5 * INCH_MM / 3.0) * 1e-6;
    check("litres on facets", block - over_bed, exact + missed, 1e-9);
}

/// COMPUTED: a bed to a linear drain has the mean t0 + sL/2.
#[test]
fn a_bed_to_a_linear_drain_is_a_wedge() {
    let (length, width, slope) = (60.0 * INCH_MM, 36.0 * INCH_MM, 1.0 / 48.0);
    let deck = [(0.0, 0.0), (length, 0.0), (0.0, width), (length, width)].map(|(x, y)| Point::mm(x, y, -25.4));
    let deck = triangulate(&deck, &[]).expect("four corners").value;
    let plane =
        FillTo::Plane { height: Length::ZERO, slope_x: Slope::one_in(48.0), slope_y: Slope::ZERO, at: at(0.0, 0.0) };
    let bed = fill(&deck, plane, None).volume.to_litres();
    check("litres", bed, length * width * (25.4 + slope * length / 2.0) * 1e-6, 1e-9);
}

/// COMPUTED (law of propagation): 6.6 m² under a level whose common uncertainty is 0.5 mm carry 3.3 litres.
#[test]
fn the_level_itself_is_most_of_the_doubt() {
    let floor = [(0.0, 0.0), (3000.0, 0.0), (0.0, 2200.0), (3000.0, 2200.0)].map(|(x, y)| Point::mm(x, y, 0.0));
    let surface = triangulate(&floor, &[]).expect("four corners").value;
    let noise = FillNoise { reading_sd: Length::ZERO, level_sd: Length::mm(0.5) };
    let u = fill(&surface, FillTo::Level(Length::mm(5.0)), Some(noise)).u_volume.map(Volume::to_litres);
    check("litres", u.unwrap_or_default(), 3.3, 1e-12);
}

/// COMPUTED beside the published definitions of the straightedge, readings 1 ft apart under a 10 ft bar: a hump of 1/8 in
/// in the middle shows 0.100 in at 4 ft between its supports, a dip of 1/8 in shows itself, a straight slope nothing.
/// Here the same profiles are floors, as wide as long: lying aslant shows no more on them.
#[test]
fn a_hump_and_a_dip_under_a_10_ft_bar() {
    let foot = 12.0 * INCH_MM;
    let ridge = |height: f64| move |x: usize| if x == 5 { height * INCH_MM } else { 0.0 };
    let shown = |profile: &dyn Fn(usize) -> f64| {
        let reading = |i: usize| Point::mm((i % 11) as f64 * foot, (i / 11) as f64 * foot, profile(i % 11));
        let floor = triangulate(&(0..121).map(reading).collect::<Vec<_>>(), &[]).expect("a grid").value;
        straightedge_surface(&floor, Length::inches(120.0)).gap.to_inches()
    };
    check("hump", shown(&ridge(0.125)), 0.100, 1e-6);
    check("dip", shown(&ridge(-0.125)), 0.125, 1e-6);
    check("slope", shown(&|x| 0.25 * INCH_MM * x as f64), 0.0, 1e-6);
}

/// A thin plate and facets give back any plane exactly (a property of both, textbook).
#[test]
fn a_plane_comes_back() {
    let plane = |x: f64, y: f64| 3.0 + 0.02 * x - 0.0125 * y;
    let readings = [(0.0, 0.0), (900.0, 100.0), (200.0, 800.0), (1000.0, 950.0), (450.0, 500.0)];
    let readings = readings.map(|(x, y)| Point::mm(x, y, plane(x, y)));
    for between in [Between::Facets, Between::ThinPlate] {
        let found = heights(&readings, &[at(500.0, 400.0), at(300.0, 300.0)], between, None).expect("heights").value;
        for (found, (x, y)) in found.mean.iter().zip([(500.0, 400.0), (300.0, 300.0)]) {
            check("height", found.map_or(f64::NAN, Length::to_mm), plane(x, y), 1e-9);
        }
    }
}
