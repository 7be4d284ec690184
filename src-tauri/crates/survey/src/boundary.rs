//! The outline of a room on the plan: whether it crosses itself, and what lies inside.

use crate::mesh::{cross, distance};
use crate::point::PlanPosition;
use crate::same_place::ONE_PLACE;

/// A simple polygon in mm, its edges sorted into strips of y so that inside is found fast.
#[derive(Debug, Clone)]
pub(crate) struct Boundary {
    corners: Vec<[f64; 2]>,
    /// For every corner kept, its index in the list that was given.
    pub(crate) given: Vec<usize>,
    low: f64,
    strip: f64,
    strips: Vec<Vec<usize>>,
}

/// Whether corners make an outline: one that neither crosses nor touches itself, and encloses something.
pub fn is_outline(corners: &[PlanPosition]) -> bool {
    let corners: Vec<[f64; 2]> = corners.iter().map(|corner| [corner.x.to_mm(), corner.y.to_mm()]).collect();
    Boundary::new(&corners).is_some()
}

impl Boundary {
    /// The outline through the corners, or `None` if it crosses or touches itself or encloses nothing.
    pub(crate) fn new(corners: &[[f64; 2]]) -> Option<Self> {
        let given = without_repeats(corners);
        let corners: Vec<_> = given.iter().map(|&corner| corners[corner]).collect();
        if corners.len() < 3 || crosses_itself(&corners) {
            return None;
        }
        let low = corners.iter().map(|c| c[1]).fold(f64::INFINITY, f64::min);
        let high = corners.iter().map(|c| c[1]).fold(f64::NEG_INFINITY, f64::max);
        let strip = (high - low) / corners.len() as f64;
        let mut outline = Self { strips: vec![Vec::new(); corners.len()], corners, given, low, strip };
        for edge in 0..outline.corners.len() {
            let [a, b] = outline.edge(edge);
            for strip in outline.strip_of(a[1].min(b[1]))..=outline.strip_of(a[1].max(b[1])) {
                outline.strips[strip].push(edge);
            }
        }
        Some(outline)
    }

    pub(crate) fn corners(&self) -> &[[f64; 2]] {
        &self.corners
    }

    /// The edge from a corner to the next.
    pub(crate) fn edge(&self, corner: usize) -> [[f64; 2]; 2] {
        [self.corners[corner], self.corners[(corner + 1) % self.corners.len()]]
    }

    /// Whether a position lies inside; on the outline itself it may fall either way.
    pub(crate) fn holds(&self, at: [f64; 2]) -> bool {
        let crossed = |&&edge: &&usize| {
            let [a, b] = self.edge(edge);
            (a[1] > at[1]) != (b[1] > at[1]) && at[0] < a[0] + (at[1] - a[1]) / (b[1] - a[1]) * (b[0] - a[0])
        };
        self.strips[self.strip_of(at[1])].iter().filter(crossed).count() % 2 == 1
    }

    /// Whether a position lies inside or within 0.001 mm of the outline.
    pub(crate) fn holds_or_touches(&self, at: [f64; 2]) -> bool {
        let near = |edge: usize| from_segment(self.edge(edge), at) <= ONE_PLACE;
        self.holds(at) || (0..self.corners.len()).any(near)
    }

    fn strip_of(&self, y: f64) -> usize {
        (((y - self.low) / self.strip) as usize).min(self.strips.len() - 1)
    }
}

/// How far a position lies from a segment.
pub(crate) fn from_segment([a, b]: [[f64; 2]; 2], at: [f64; 2]) -> f64 {
    let along = along_segment([a, b], at).clamp(0.0, 1.0);
    distance(at, [a[0] + along * (b[0] - a[0]), a[1] + along * (b[1] - a[1])])
}

/// Where the foot of a position stands on a segment: 0 at its start, 1 at its end.
pub(crate) fn along_segment([a, b]: [[f64; 2]; 2], at: [f64; 2]) -> f64 {
    let (dx, dy) = (b[0] - a[0], b[1] - a[1]);
    let square = dx * dx + dy * dy;
    if square == 0.0 { 0.0 } else { ((at[0] - a[0]) * dx + (at[1] - a[1]) * dy) / square }
}

/// The indices of the corners that do not repeat the one before.
fn without_repeats(corners: &[[f64; 2]]) -> Vec<usize> {
    let mut kept: Vec<usize> = Vec::with_capacity(corners.len());
    for (index, &corner) in corners.iter().enumerate() {
        if kept.last().is_none_or(|&last| distance(corners[last], corner) > ONE_PLACE) {
            kept.push(index);
        }
    }
    while kept.len() > 1 && distance(corners[kept[0]], corners[kept[kept.len() - 1]]) <= ONE_PLACE {
        kept.pop();
    }
    kept
}

/// Whether two edges that are not neighbours meet, or two neighbours fold back on one another.
fn crosses_itself(corners: &[[f64; 2]]) -> bool {
    let n = corners.len();
    let edge = |i: usize| [corners[i], corners[(i + 1) % n]];
    let left = |i: usize| edge(i)[0][0].min(edge(i)[1][0]);
    let right = |i: usize| edge(i)[0][0].max(edge(i)[1][0]);
    let mut by_left: Vec<usize> = (0..n).collect();
    by_left.sort_by(|&i, &j| left(i).total_cmp(&left(j)));
    let folds = |i: usize| {
        let ([a, b], [_, c]) = (edge(i), edge((i + 1) % n));
        cross(a, b, c) == 0.0 && (b[0] - a[0]) * (c[0] - b[0]) + (b[1] - a[1]) * (c[1] - b[1]) < 0.0
    };
    let neighbours = |i: usize, j: usize| i == j || (i + 1) % n == j || (j + 1) % n == i;
    let meets_a_later_one = |place: usize| {
        let i = by_left[place];
        let reaching = by_left[place + 1..].iter().take_while(|&&j| left(j) <= right(i));
        reaching.into_iter().any(|&j| !neighbours(i, j) && meet(edge(i), edge(j)))
    };
    (0..n).any(folds) || (0..n).any(meets_a_later_one)
}

fn meet([a, b]: [[f64; 2]; 2], [c, d]: [[f64; 2]; 2]) -> bool {
    let sides = |p: f64, q: f64| p != 0.0 && q != 0.0 && (p > 0.0) != (q > 0.0);
    let touches = |s: [[f64; 2]; 2], at: [f64; 2]| from_segment(s, at) == 0.0;
    (sides(cross(a, b, c), cross(a, b, d)) && sides(cross(c, d, a), cross(c, d, b)))
        || touches([a, b], c)
        || touches([a, b], d)
        || touches([c, d], a)
        || touches([c, d], b)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_outline_that_crosses_folds_or_encloses_nothing_is_none() {
        let bow_tie = [[0.0, 0.0], [10.0, 10.0], [10.0, 0.0], [0.0, 10.0]];
        let folded = [[0.0, 0.0], [10.0, 0.0], [5.0, 0.0], [0.0, 10.0]];
        let touching = [[0.0, 0.0], [10.0, 0.0], [10.0, 10.0], [5.0, 0.0], [0.0, 10.0]];
        let flat = [[0.0, 0.0], [10.0, 0.0], [20.0, 0.0]];
        for case in [&bow_tie[..], &folded, &touching, &flat, &[[0.0, 0.0], [1.0, 1.0]], &[]] {
            assert!(Boundary::new(case).is_none(), "{case:?}");
        }
    }

    #[test]
    fn an_l_shape_holds_what_is_inside() {
        let corners = [[0.0, 0.0], [20.0, 0.0], [20.0, 10.0], [10.0, 10.0], [10.0, 20.0], [0.0, 20.0], [0.0, 0.0]];
        let room = Boundary::new(&corners).expect("a closed list of corners is an outline");
        assert_eq!(room.corners().len(), 6, "the closing corner is the first");
        assert!(room.holds([5.0, 15.0]) && room.holds([15.0, 5.0]));
        assert!(!room.holds([15.0, 15.0]) && !room.holds([-1.0, 5.0]) && !room.holds([5.0, 21.0]));
        assert!(room.holds_or_touches([15.0, 10.0005]) && !room.holds_or_touches([15.0, 10.01]));
    }
}
