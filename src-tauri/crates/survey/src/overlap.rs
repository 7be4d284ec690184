//! Whether given triangles lie over one another.

use crate::mesh::{Mesh, NONE, cross};

/// The first triangle that lies over an earlier one; `None` if they tile the plan without overlap.
pub(crate) fn overlapping(mesh: &Mesh) -> Option<usize> {
    let low = |t: usize, axis: usize| mesh.plan(t).iter().map(|c| c[axis]).fold(f64::INFINITY, f64::min);
    let high = |t: usize, axis: usize| mesh.plan(t).iter().map(|c| c[axis]).fold(f64::NEG_INFINITY, f64::max);
    let mut by_left: Vec<usize> = (0..mesh.triangles.len()).collect();
    by_left.sort_by(|&s, &t| low(s, 0).total_cmp(&low(t, 0)).then(s.cmp(&t)));
    let mut first: Option<usize> = None;
    for (place, &t) in by_left.iter().enumerate() {
        let reach = high(t, 0);
        for &s in by_left[place + 1..].iter().take_while(|&&s| low(s, 0) < reach) {
            let beside = low(s, 1) >= high(t, 1) || low(t, 1) >= high(s, 1) || are_neighbours(mesh, s, t);
            if !beside && apart_by_no_side(mesh.plan(s), mesh.plan(t)) {
                first = Some(first.map_or(s.max(t), |so_far| so_far.min(s.max(t))));
            }
        }
    }
    first
}

/// Whether two triangles share a side from its two sides.
fn are_neighbours(mesh: &Mesh, s: usize, t: usize) -> bool {
    (3 * s..3 * s + 3).any(|edge| mesh.twin[edge] != NONE && mesh.twin[edge] / 3 == t)
}

/// Whether no side of either triangle has the other wholly beyond it: their insides meet.
fn apart_by_no_side(s: [[f64; 2]; 3], t: [[f64; 2]; 3]) -> bool {
    let parted = |of: [[f64; 2]; 3], other: [[f64; 2]; 3]| {
        (0..3).any(|k| {
            let (a, b) = (of[k], of[(k + 1) % 3]);
            let slack = 1e-9 * ((b[0] - a[0]).powi(2) + (b[1] - a[1]).powi(2));
            other.iter().all(|&corner| cross(a, b, corner) <= slack)
        })
    };
    !parted(s, t) && !parted(t, s)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn triangles_over_one_another_are_found() {
        let xy = vec![[0.0, 0.0], [10.0, 0.0], [10.0, 10.0], [0.0, 10.0], [5.0, 5.0]];
        let check = |triangles: Vec<[usize; 3]>, expected: Option<usize>| {
            let mesh = Mesh::new(xy.clone(), vec![0.0; 5], triangles.clone());
            assert_eq!(overlapping(&mesh), expected, "{triangles:?}");
        };
        check(vec![[0, 1, 4], [1, 2, 4], [2, 3, 4], [3, 0, 4]], None);
        check(vec![[0, 1, 2], [0, 2, 3]], None);
        check(vec![[0, 1, 2], [0, 1, 3]], Some(1));
        check(vec![[0, 1, 2], [0, 1, 4]], Some(1));
        check(vec![[0, 1, 2], [0, 1, 2]], Some(1));
        check(vec![[1, 2, 4], [0, 2, 3], [0, 1, 2]], Some(2));
    }
}
