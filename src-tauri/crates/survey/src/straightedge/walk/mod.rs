//! The straightedge walk: the few places where a bar is laid, since heights find the places and the gauge decides.

mod diagonal;
mod highs;
mod placement;
mod rows;

pub use placement::{Placement, Way};

use crate::point::Point;
use crate::units::Length;

/// At most so many of the long bar beside the diagonals, and of the short one.
const LONG: usize = 5;
const SHORT: usize = 3;

/// The 6 to 10 places of a floor where a long and a short bar tell most, in the order they are walked.
///
/// Both diagonals; the rows and columns of readings under which the heights show most; the short bar laid from the
/// highest readings, where what lies between readings may hide. Fewer where the readings leave fewer.
///
/// # Units
/// Lengths; gaps are vertical.
///
/// # Uncertainty
/// None: an expected gap only says where to look, and is never a verdict.
///
/// # Source
/// A straightedge laid every way including diagonals and from the high points: common practice.
///
/// ```
/// use survey::straightedge::walk::{Way, walk};
/// use survey::{Point, units::Length};
/// // A level floor of 2 m by 2 m with a dip of 4 mm in its middle.
/// let floor: Vec<Point> = (0..25)
///     .map(|i| Point::mm(f64::from(i % 5) * 500.0, f64::from(i / 5) * 500.0, if i == 12 { -4.0 } else { 0.0 }))
///     .collect();
/// let places = walk(&floor, Length::mm(3000.0), Length::mm(600.0));
/// assert!((6..=10).contains(&places.len()));
/// let lies = |way: Way| places.iter().any(|place| place.way == way);
/// assert!(lies(Way::Rising) && lies(Way::Falling));
/// let most = places.iter().filter_map(|place| place.expected).map(Length::to_mm).fold(0.0, f64::max);
/// assert!((most - 4.0).abs() < 1e-9);
/// ```
pub fn walk(points: &[Point], long: Length, short: Length) -> Vec<Placement> {
    if points.len() < 3 {
        return Vec::new();
    }
    let mut all = diagonal::diagonals(points, long);
    all.extend(spread(rows::rows(points, long), LONG));
    let mut near = rows::rows(points, short);
    near.extend(highs::from_highs(points, short));
    near.retain(|place| !all.iter().any(|known| is_same(known, place)));
    all.extend(spread(near, SHORT));
    in_walking_order(points, all)
}

/// The most telling, with both ways along the walls among them where there are both.
fn spread(mut places: Vec<Placement>, most: usize) -> Vec<Placement> {
    places.sort_by(|a, b| b.gap().total_cmp(&a.gap()));
    let first = |way: Way| places.iter().position(|place| place.way == way);
    let mut kept: Vec<usize> = [first(Way::X), first(Way::Y)].into_iter().flatten().collect();
    let others: Vec<usize> = (0..places.len()).filter(|index| !kept.contains(index)).collect();
    kept.extend(others);
    kept.truncate(most);
    kept.into_iter().filter_map(|index| places.get(index).cloned()).collect()
}

fn is_same(a: &Placement, b: &Placement) -> bool {
    a.from == b.from && a.to == b.to
}

/// Each next place is the nearest to where the last one ended.
fn in_walking_order(points: &[Point], mut left: Vec<Placement>) -> Vec<Placement> {
    let mut here = (0.0, 0.0);
    let mut walked = Vec::with_capacity(left.len());
    while let Some(next) = nearest(points, &left, here) {
        let place = left.remove(next);
        here = (place.to.x.to_mm(), place.to.y.to_mm());
        walked.push(place);
    }
    walked
}

fn nearest(points: &[Point], left: &[Placement], here: (f64, f64)) -> Option<usize> {
    let away = |place: &Placement| {
        points.get(place.from).map_or(f64::INFINITY, |from| (from.x.to_mm() - here.0).hypot(from.y.to_mm() - here.1))
    };
    (0..left.len()).min_by(|&a, &b| match (left.get(a), left.get(b)) {
        (Some(a), Some(b)) => away(a).total_cmp(&away(b)),
        _ => std::cmp::Ordering::Equal,
    })
}

#[cfg(test)]
mod tests {
    use super::placement::plan;
    use super::*;
    use proptest::prelude::*;

    fn floor(columns: usize, rows: usize, step: f64, z: impl Fn(usize, usize) -> f64) -> Vec<Point> {
        let place = |i: usize| (i % columns, i / columns);
        (0..columns * rows)
            .map(|i| Point::mm(place(i).0 as f64 * step, place(i).1 as f64 * step, z(place(i).0, place(i).1)))
            .collect()
    }

    #[test]
    fn the_worst_row_and_column_are_among_the_places() {
        let points = floor(7, 4, 400.0, |x, y| if (x, y) == (4, 2) { -9.0 } else { 0.0 });
        let places = walk(&points, Length::mm(2438.4), Length::mm(609.6));
        let has = |way: Way| places.iter().any(|place| place.way == way && (place.gap() - 9.0).abs() < 1e-9);
        assert!(has(Way::X) && has(Way::Y), "{places:?}");
        assert!((6..=10).contains(&places.len()), "{}", places.len());
    }

    #[test]
    fn a_crown_rocks_the_bar_that_lies_over_it() {
        let points = floor(5, 5, 500.0, |x, y| if (x, y) == (2, 2) { 6.0 } else { 0.0 });
        let places = walk(&points, Length::mm(3000.0), Length::mm(600.0));
        assert!(places.iter().any(|place| place.rocks), "{places:?}");
        assert!(!walk(&floor(5, 5, 500.0, |_, _| 0.0), Length::mm(3000.0), Length::mm(600.0)).iter().any(|p| p.rocks));
    }

    #[test]
    fn a_bar_too_short_for_two_spans_is_laid_from_the_highest_reading() {
        let points = floor(7, 4, 762.0, |x, y| if (x, y) == (3, 2) { 5.0 } else { 0.0 });
        let places = walk(&points, Length::mm(2438.4), Length::mm(609.6));
        let short: Vec<_> = places.iter().filter(|place| place.bar == Length::mm(609.6)).collect();
        assert!(!short.is_empty() && short.iter().all(|place| place.from == 2 * 7 + 3), "{short:?}");
        assert!(short.iter().all(|place| place.expected.is_none()), "no reading lies under it");
    }

    #[test]
    fn too_little_to_go_by_gives_no_places() {
        assert!(walk(&[], Length::mm(2000.0), Length::mm(600.0)).is_empty());
        assert!(walk(&floor(2, 1, 500.0, |_, _| 0.0), Length::mm(2000.0), Length::mm(600.0)).is_empty());
        let row = walk(&floor(5, 1, 500.0, |_, _| 0.0), Length::mm(2000.0), Length::mm(600.0));
        assert!(row.iter().all(|place| place.way == Way::X), "a single row has no diagonal");
    }

    proptest! {
        #[test]
        fn every_place_lies_on_readings_and_is_no_longer_than_its_bar(
            heights in proptest::collection::vec(-20.0..20.0f64, 20),
            step in 150.0..900.0f64,
        ) {
            let points = floor(5, 4, step, |x, y| heights[y * 5 + x]);
            let places = walk(&points, Length::mm(2438.4), Length::mm(609.6));
            prop_assert!(places.len() <= 10);
            for place in &places {
                let (x, y) = plan(&points[place.from]);
                let long = (place.to.x.to_mm() - x).hypot(place.to.y.to_mm() - y);
                prop_assert!(long <= place.bar.to_mm() + 1e-6);
                prop_assert!(place.gap() >= 0.0);
            }
        }

        #[test]
        fn a_tilt_of_the_whole_floor_changes_no_gap(
            heights in proptest::collection::vec(-20.0..20.0f64, 20),
            tilt in -0.02..0.02f64,
        ) {
            let most = |tilt: f64| {
                let points = floor(5, 4, 400.0, |x, y| heights[y * 5 + x] + tilt * 400.0 * (x as f64 - y as f64));
                let places = walk(&points, Length::mm(2438.4), Length::mm(609.6));
                places.iter().map(Placement::gap).fold(0.0, f64::max)
            };
            prop_assert!((most(tilt) - most(0.0)).abs() < 1e-6);
        }
    }
}
