//! Readings that share a place on the plan.

use crate::units::Length;
use crate::{Point, Problem, ProblemKind};

/// Plan positions no farther apart than this, in mm, are one place.
const ONE_PLACE: f64 = 1e-3;
/// Up to here every pair is compared; beyond, the readings are sorted first.
const FEW: usize = 64;

pub(super) fn all_at_one_place(points: &[Point]) -> bool {
    points.first().is_none_or(|first| points.iter().all(|point| one_place(first, point)))
}

/// Reports every reading that stands where an earlier one does, at another height.
pub fn duplicates(points: &[Point]) -> Vec<Problem> {
    let mut pairs = if points.len() <= FEW { among_few(points) } else { among_many(points) };
    pairs.sort_unstable();
    pairs.dedup_by_key(|pair| pair.0);
    let differs = |&(later, earlier): &(usize, usize)| differing(points.get(earlier)?, points.get(later)?, later);
    pairs.iter().filter_map(differs).collect()
}

fn one_place(a: &Point, b: &Point) -> bool {
    let (dx, dy) = (a.x.to_mm() - b.x.to_mm(), a.y.to_mm() - b.y.to_mm());
    Length::mm(dx.hypot(dy)).at_most(Length::mm(ONE_PLACE))
}

fn differing(a: &Point, b: &Point, index: usize) -> Option<Problem> {
    let (low, high) = (a.z.min(b.z), a.z.max(b.z));
    (!high.at_most(low)).then(|| {
        let (x, y, apart) = (b.x.to_mm(), b.y.to_mm(), (high - low).to_mm());
        let message = format!("Two readings at x {x:.0}, y {y:.0} mm differ by {apart:.2} mm; both are kept.");
        Problem::at(ProblemKind::DuplicatePoint, index, message)
    })
}

/// Where a reading lies along a slanted direction in which no two places of a grid meet.
fn slant(point: &Point) -> f64 {
    0.555_892_1 * point.x.to_mm() + 0.831_254_3 * point.y.to_mm()
}

/// Pairs (later, earlier) at one place, by comparing all.
fn among_few(points: &[Point]) -> Vec<(usize, usize)> {
    let along: Vec<f64> = points.iter().map(slant).collect();
    let mut pairs = Vec::new();
    for (later, (here, point)) in along.iter().zip(points).enumerate() {
        let earlier = along.get(..later).unwrap_or_default();
        // Without branches, so that the common case, where nothing is near, costs next to nothing.
        if earlier.iter().fold(false, |any, there| any | ((here - there).abs() < 2.0 * ONE_PLACE)) {
            let shared = points.iter().take(later).enumerate().filter(|(_, other)| one_place(point, other));
            pairs.extend(shared.map(|(index, _)| (later, index)));
        }
    }
    pairs
}

/// Pairs (later, earlier) at one place, among the readings that share a cell of the plan with another.
fn among_many(points: &[Point]) -> Vec<(usize, usize)> {
    let mut sorted: Vec<(f64, usize)> =
        crowded(points).into_iter().filter_map(|i| Some((slant(points.get(i)?), i))).collect();
    sorted.sort_unstable_by(|a, b| a.0.total_cmp(&b.0));
    let mut pairs = Vec::new();
    for (place, &(here, index)) in sorted.iter().enumerate() {
        let near = sorted.iter().skip(place + 1).take_while(|(there, _)| there - here < 2.0 * ONE_PLACE);
        let shared = near.filter(|(_, other)| {
            let both = points.get(index).zip(points.get(*other));
            both.is_some_and(|(a, b)| one_place(a, b))
        });
        pairs.extend(shared.map(|&(_, other)| (index.max(other), index.min(other))));
    }
    pairs
}

/// Side of a cell of the plan, in mm.
const CELL: f64 = 1.0;
/// Cells are laid so that the edges of millimetre and inch grids fall well inside.
const SHIFT: f64 = 0.381_966;
/// Marks per reading: so many that few readings share one by chance.
const MARKS: usize = 8;

/// Indices of all readings that may share a place with another: their cell, or one they touch, holds two.
///
/// Cells share marks by chance, so some readings that stand alone are among them; none that shares is left out.
fn crowded(points: &[Point]) -> Vec<usize> {
    let marks = (points.len() * MARKS).next_power_of_two().max(64);
    let shift = u64::BITS - marks.trailing_zeros();
    // Two bits a mark, the lower for one reading, the upper for more.
    let mut seen = vec![0u64; marks / 32];
    for point in points {
        cells(point, shift, |mark| {
            if let Some(word) = seen.get_mut(mark / 32) {
                let once = 1u64 << (mark % 32 * 2);
                *word |= (*word & once) << 1 | once;
            }
        });
    }
    let is_crowded = |point: &Point| {
        let mut crowded = 0;
        cells(point, shift, |mark| crowded |= seen.get(mark / 32).map_or(0, |word| word >> (mark % 32 * 2) & 2));
        crowded != 0
    };
    points.iter().enumerate().filter(|(_, point)| is_crowded(point)).map(|(index, _)| index).collect()
}

/// The marks of the cells within two places of a point: one, or up to four by an edge.
#[inline]
fn cells(point: &Point, shift: u32, mut mark: impl FnMut(usize)) {
    let reach = 2.0 * ONE_PLACE / CELL;
    let ends = |at: f64| [(at - reach) as i64, (at + reach) as i64];
    let [x0, x1] = ends(point.x.to_mm() / CELL + SHIFT);
    let [y0, y1] = ends(point.y.to_mm() / CELL + SHIFT);
    mark(hash(x0, y0, shift));
    if x1 > x0 {
        mark(hash(x1, y0, shift));
    }
    if y1 > y0 {
        mark(hash(x0, y1, shift));
    }
    if x1 > x0 && y1 > y0 {
        mark(hash(x1, y1, shift));
    }
}

/// The upper digits of a product of two odd constants without pattern.
#[inline]
fn hash(x: i64, y: i64, shift: u32) -> usize {
    let mixed = (x as u64).wrapping_mul(0x9E37_79B9_7F4A_7C15) ^ (y as u64).wrapping_mul(0xC2B2_AE3D_27D4_EB4F);
    (mixed.wrapping_mul(0x9E37_79B9_7F4A_7C15) >> shift) as usize
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(points: &[Point], later: &[&str]) {
        let found = duplicates(points);
        let at: Vec<&str> = found.iter().filter_map(|problem| problem.at.as_deref()).collect();
        assert_eq!(at, later);
        assert!(found.iter().all(|problem| problem.kind == ProblemKind::DuplicatePoint));
    }

    #[test]
    fn one_place_is_a_thousandth_of_a_millimetre() {
        let at = |x, z| Point::mm(x, 7.0, z);
        check(&[at(0.0, 1.0), at(0.001, 2.0), at(0.0021, 3.0)], &["1"]);
        check(&[at(0.0, 1.0), at(0.0, 1.0)], &[]);
        check(&[at(0.0, 1.0), at(5.0, 2.0), at(0.0, 1.5), at(0.0, 1.2)], &["2", "3"]);
        check(&[], &[]);
    }

    #[test]
    fn few_and_many_find_the_same() {
        let mut points: Vec<Point> =
            (0..200).map(|i| Point::mm(f64::from(i % 20) * 300.0, f64::from(i / 20), 0.0)).collect();
        points[150] = Point::mm(300.0, 0.0, 9.0);
        points[60] = Point::mm(300.0, 0.0005, 8.0);
        check(&points, &["60", "150"]);
        check(&points[..64], &["60"]);
        assert_eq!(among_few(&points).len(), among_many(&points).len());
    }
}
