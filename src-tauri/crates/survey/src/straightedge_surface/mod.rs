//! The straightedge laid anywhere on a floor, in any direction.

mod bar;
mod chord;
mod judge;
mod ray;
mod reach;
mod search;
mod supported;

use bar::Bar;
use chord::Aim;
pub use judge::{GapNoise, Judged, judge};
use search::Search;

use crate::point::PlanPosition;
use crate::triangulation::Triangulation;
use crate::units::{Length, Ratio};

/// The largest gap under a straightedge on a floor, and where it shows.
#[derive(Debug, Clone, PartialEq)]
pub struct SurfaceGap {
    /// Not negative.
    pub gap: Length,
    /// Where the bar is supported.
    pub from: PlanPosition,
    pub to: PlanPosition,
    pub lowest_at: PlanPosition,
    /// What each reading weighs in the gap, by its index.
    pub weights: Vec<(usize, Ratio)>,
}

/// The largest gap between two supports of a bar on the floor, over every position and direction; never negative.
///
/// The bar is a chord of plan length at most `length` that lies wholly over the facets, with both ends on them; the
/// gap is counted between its ends. A bar without length shows no gap.
///
/// # Units
/// Lengths; the gap is vertical.
///
/// # Uncertainty
/// None here: the gap of the readings as they stand is biased upward by their noise. [`judge()`] allows for it. The
/// maximum itself is found within 0.002 mm: chords through two readings are tried one by one, the others by search.
///
/// # Source
/// A straightedge resting on two high points, the gap between its supports (BS 8204 and DIN 18202 as described in
/// print); the search is our own.
///
/// ```
/// use survey::{Point, straightedge_surface::straightedge_surface, triangulation::triangulate, units::Length};
/// // A 3 mm dip in the middle of a level floor.
/// let dip = |i: u32| Point::mm(f64::from(i % 5) * 500.0, f64::from(i / 5) * 500.0, if i == 12 { -3.0 } else { 0.0 });
/// let floor = triangulate(&(0..25).map(dip).collect::<Vec<_>>(), &[]).unwrap().value;
/// assert!((straightedge_surface(&floor, Length::mm(2000.0)).gap.to_mm() - 3.0).abs() < 1e-9);
/// // A short bar sinks into the dip; it shows most across the long sides of the facets around it.
/// let short = straightedge_surface(&floor, Length::mm(500.0)).gap.to_mm();
/// assert!((short - 3.0 * 250.0 / 500.0_f64.hypot(500.0) * 2.0).abs() < 1e-6);
/// ```
pub fn straightedge_surface(surface: &Triangulation, length: Length) -> SurfaceGap {
    let bar = Search::best(&surface.mesh, length.to_mm(), Aim::GAP, 0.0);
    shown(bar.unwrap_or_else(|| Bar::flat(&surface.mesh, length.to_mm())))
}

fn shown(bar: Bar) -> SurfaceGap {
    let place = |[x, y]: [f64; 2]| PlanPosition { x: Length::mm(x), y: Length::mm(y) };
    SurfaceGap {
        gap: Length::mm(bar.gap),
        from: place(bar.from),
        to: place(bar.to),
        lowest_at: place(bar.low),
        weights: bar.weights.into_iter().map(|(reading, weight)| (reading, Ratio::of(weight))).collect(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::point::Point;
    use crate::triangulation::{triangulate, with_triangles};
    use proptest::prelude::*;

    fn grid(columns: usize, step: f64, z: &[f64]) -> Vec<Point> {
        let place = |i: usize| ((i % columns) as f64 * step, (i / columns) as f64 * step);
        z.iter().enumerate().map(|(i, &z)| Point::mm(place(i).0, place(i).1, z)).collect()
    }

    fn gap(points: &[Point], length: f64) -> f64 {
        let surface = triangulate(points, &[]).expect("a floor").value;
        straightedge_surface(&surface, Length::mm(length)).gap.to_mm()
    }

    #[test]
    fn floors_with_known_gaps() {
        let check = |points: &[Point], length: f64, expected: f64| {
            let found = gap(points, length);
            assert!((found - expected).abs() < 1e-6, "{length}: {found} is not {expected}");
        };
        let flat = grid(4, 500.0, &[0.0; 16]);
        check(&flat, 1000.0, 0.0);
        let tilted: Vec<f64> = (0..16).map(|i| f64::from(i % 4) * 10.0 - f64::from(i / 4) * 7.0).collect();
        check(&grid(4, 500.0, &tilted), 2000.0, 0.0);
        check(&flat, 0.0, 0.0);
        // A trough between two flanks 1:100, its bottom 600 wide along x: a bar of L over its edge to both flanks.
        let trough: Vec<f64> = (0..15).map(|i| [6.0, 3.0, 0.0, 3.0, 6.0][i % 5]).collect();
        check(&grid(5, 300.0, &trough), 600.0, 3.0);
        check(&grid(5, 300.0, &trough), 1200.0, 6.0);
        check(&grid(5, 300.0, &trough), 100.0, 0.5);
        // Lying aslant reaches no higher: the flanks rise by distance from the bottom line alone.
        check(&grid(5, 300.0, &trough), 1300.0, 6.0);
        // A ridge: the bar rests on it and touches nowhere else within its ends.
        let ridge: Vec<f64> = trough.iter().map(|z| -z).collect();
        check(&grid(5, 300.0, &ridge), 2000.0, 0.0);
    }

    #[test]
    fn a_bar_does_not_cross_what_was_not_read() {
        // Two level strips 4 mm up, joined at their far ends only: no bar spans the well between them.
        let points = [
            (0.0, 0.0),
            (900.0, 0.0),
            (0.0, 200.0),
            (900.0, 200.0),
            (0.0, 700.0),
            (900.0, 700.0),
            (0.0, 900.0),
            (900.0, 900.0),
            (700.0, 200.0),
            (700.0, 700.0),
        ];
        let heights = [4.0, 0.0, 4.0, 0.0, 4.0, 0.0, 4.0, 0.0, 0.0, 0.0];
        let points: Vec<Point> = points.iter().zip(heights).map(|(&(x, y), z)| Point::mm(x, y, z)).collect();
        let c_shape = [[0, 8, 2], [0, 1, 8], [1, 3, 8], [8, 3, 9], [3, 5, 9], [9, 5, 7], [4, 9, 6], [9, 7, 6]];
        let well = with_triangles(&points, &c_shape, &[]).expect("a C").value;
        let around = straightedge_surface(&well, Length::mm(3000.0));
        let inside = |place: PlanPosition| well.height_at(place).is_some();
        assert!(inside(around.from) && inside(around.to) && inside(around.lowest_at));
        assert!(around.gap.to_mm() < 4.0, "{around:?}");
    }

    /// The gap of a bar between two places, by scanning under it; `None` where it leaves the floor.
    fn under(surface: &Triangulation, from: [f64; 2], to: [f64; 2], at_most: f64) -> Option<f64> {
        let height = |x: f64, y: f64| surface.height_at(PlanPosition { x: Length::mm(x), y: Length::mm(y) });
        let (low, high) = (height(from[0], from[1])?.to_mm(), height(to[0], to[1])?.to_mm());
        let mut gap = 0.0_f64;
        if (to[0] - from[0]).hypot(to[1] - from[1]) > at_most {
            return None;
        }
        for share in (1..40).map(|k| f64::from(k) / 40.0) {
            let z = height(from[0] + share * (to[0] - from[0]), from[1] + share * (to[1] - from[1]))?.to_mm();
            gap = gap.max(low + share * (high - low) - z);
        }
        Some(gap)
    }

    fn floor() -> impl Strategy<Value = Vec<Point>> {
        let corners = [(0.0, 0.0), (2400.0, 0.0), (0.0, 1800.0), (2400.0, 1800.0)];
        prop::collection::vec((0.0f64..2400.0, 0.0f64..1800.0, -4.0f64..4.0), 4..24).prop_map(move |inner| {
            let corners = corners.iter().zip(inner.clone()).map(|(&(x, y), (_, _, z))| Point::mm(x, y, z));
            corners.chain(inner.iter().skip(4).map(|&(x, y, z)| Point::mm(x, y, z))).collect()
        })
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(24))]

        #[test]
        fn no_bar_tried_at_random_shows_more(points in floor(), length in 300.0f64..3000.0, seed in 1u64..1_000_000) {
            let surface = triangulate(&points, &[]).expect("corners").value;
            let best = straightedge_surface(&surface, Length::mm(length));
            let mut state = seed;
            let mut random = || {
                state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
                (state >> 11) as f64 / (1u64 << 53) as f64
            };
            let mut bar = [random() * 2400.0, random() * 1800.0, random() * 2400.0, random() * 1800.0];
            let (mut shown, mut step) = (0.0, 600.0);
            for _ in 0..1000 {
                let tried = bar.map(|at| at + step * (random() - 0.5));
                match under(&surface, [tried[0], tried[1]], [tried[2], tried[3]], length) {
                    Some(gap) if gap > shown => (bar, shown) = (tried, gap),
                    _ => step = (step * 0.995_f64).max(1.0),
                }
            }
            prop_assert!(best.gap.to_mm() >= shown - 0.002, "{} {}", best.gap.to_mm(), shown);
        }

        #[test]
        fn the_bar_shown_is_a_bar_on_the_floor(points in floor(), length in 300.0f64..3000.0) {
            let surface = triangulate(&points, &[]).expect("corners").value;
            let best = straightedge_surface(&surface, Length::mm(length));
            let plan = |place: PlanPosition| [place.x.to_mm(), place.y.to_mm()];
            let ([x, y], [to_x, to_y], [low_x, low_y]) = (plan(best.from), plan(best.to), plan(best.lowest_at));
            let bar = (to_x - x).hypot(to_y - y);
            prop_assert!(bar <= length + 1e-6);
            let share = (low_x - x).hypot(low_y - y) / bar.max(1e-9);
            let height = |place| surface.height_at(place).map(Length::to_mm).expect("on the floor");
            let there = height(best.from) * (1.0 - share) + height(best.to) * share - height(best.lowest_at);
            prop_assert!((there - best.gap.to_mm()).abs() < 1e-6, "{} {:?}", there, best);
            let weighed: f64 = best.weights.iter().map(|&(reading, weight)| weight.to_f64() * points[reading].z.to_mm()).sum();
            prop_assert!((weighed - best.gap.to_mm()).abs() < 1e-6, "{} {:?}", weighed, best);
        }

        #[test]
        fn tilt_shift_and_order_change_nothing(
            points in floor(), length in 300.0f64..3000.0, a in -0.05f64..0.05, b in -0.05f64..0.05, by in 0usize..24,
        ) {
            let moved = |p: &Point| {
                let (x, y) = (p.x.to_mm(), p.y.to_mm());
                Point::mm(x + 7000.0, y - 3000.0, p.z.to_mm() + a * x + b * y + 90.0)
            };
            let mut tilted: Vec<Point> = points.iter().map(moved).collect();
            let by = by % tilted.len();
            tilted.rotate_left(by);
            let (here, there) = (gap(&points, length), gap(&tilted, length));
            prop_assert!((here - there).abs() < 0.002, "{} {}", here, there);
        }

        #[test]
        fn a_longer_bar_shows_no_less(points in floor(), length in 300.0f64..3000.0, more in 1.0f64..2.0) {
            prop_assert!(gap(&points, length * more) >= gap(&points, length) - 0.002);
        }

        #[test]
        fn nothing_panics(points in prop::collection::vec((-1e4f64..1e4, prop::num::f64::ANY, prop::num::f64::ANY), 0..12),
                          length in prop::num::f64::ANY) {
            let points: Vec<Point> = points.into_iter().map(|(x, y, z)| Point::mm(x, y, z)).collect();
            if let Ok(surface) = triangulate(&points, &[]) {
                let noise = GapNoise { reading_sd: Length::mm(0.5), bar_sd: Length::ZERO };
                let _ = straightedge_surface(&surface.value, Length::mm(length));
                let _ = judge(&surface.value, Length::mm(length), Length::mm(3.0), noise, Default::default());
            }
        }
    }
}
