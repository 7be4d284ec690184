//! The gap under a bar that rests where its centre is carried, overhanging ends included.
//!
//! With its centre at c the bar lies on the edge of the upper hull of its own span that is under c. As c moves, the
//! gap can be largest only where an end or the centre meets a place, where the edge under the centre changes, or where
//! the gap stands still between such turns. All of these positions are found and the gap is taken at each.

use super::profile::height_before;
use super::reach::{Reach, SAME, Slide};
use super::supported::{Chord, stationary};

/// The largest gap over all positions of the bar; at a tipping position both ways it can lie count.
pub(crate) fn resting(reach: &Reach<'_>, z: &[f64]) -> Chord {
    let mut best = Chord { gap: 0.0, from: 0.0, to: reach.length, at: 0.0 };
    rests(reach, z, |chord| best.keep(chord.gap, chord.from, chord.to, chord.at));
    best
}

/// Every candidate position: the edge the bar lies on, and the gap over each place and each end of the bar.
pub(super) fn rests(reach: &Reach<'_>, z: &[f64], mut found: impl FnMut(Chord)) {
    for near in near_ends(reach, z) {
        rest_at(reach, z, near, &mut found);
    }
}

/// The positions of the near end at which the gap can be largest.
fn near_ends(reach: &Reach<'_>, z: &[f64]) -> Vec<f64> {
    let (s, length) = (reach.s, reach.length);
    let most = s.last().copied().unwrap_or(0.0) - length;
    let tips = s.iter().map(|place| place - 0.5 * length);
    let mut all: Vec<f64> = s.iter().copied().chain(s.iter().map(|place| place - length)).chain(tips).collect();
    for slide in &reach.slides {
        all.extend(within_slide(reach, z, slide).into_iter().filter(|p| *p > slide.start && *p < slide.end));
    }
    all.push(0.0);
    all.retain(|p| *p > -SAME && *p < most + SAME);
    all.iter_mut().for_each(|p| *p = p.clamp(0.0, most.max(0.0)));
    all.sort_by(f64::total_cmp);
    all.dedup();
    all
}

/// While both ends stay on their pieces: where an end meets an edge prolonged, where the bar touches a place, and where
/// a gap stands still.
fn within_slide(reach: &Reach<'_>, z: &[f64], slide: &Slide) -> Vec<f64> {
    let (s, length) = (reach.s, reach.length);
    let hull = upper_hull((slide.near..slide.far).map(|place| (s[place], z[place])));
    let piece =
        |right: usize| Piece { s: s[right], z: z[right], slope: (z[right] - z[right - 1]) / (s[right] - s[right - 1]) };
    let (near, far) = (piece(slide.near), piece(slide.far));
    let mut turns = Vec::new();
    for pair in hull.windows(2) {
        let edge = Piece { s: pair[0].0, z: pair[0].1, slope: (pair[1].1 - pair[0].1) / (pair[1].0 - pair[0].0) };
        turns.push(near.meets(&edge));
        turns.push(far.meets(&edge) - length);
    }
    for &corner in &hull {
        turns.extend(touching(&near, &far, length, corner));
        // On a corner and the far end: the overhang at the near end stands still where t² = e·L/(near − far), t the
        // distance from the corner to the far end; and the same from the other side.
        let reach_of = |lift: f64, slopes: f64| (lift * length / slopes).sqrt();
        turns.push(corner.0 + reach_of(far.at(corner.0) - corner.1, near.slope - far.slope) - length);
        turns.push(corner.0 - reach_of(near.at(corner.0) - corner.1, near.slope - far.slope));
    }
    stationary(reach, z, slide, |chord| turns.push(chord.from));
    turns
}

/// A straight piece of the profile, prolonged both ways.
struct Piece {
    s: f64,
    z: f64,
    slope: f64,
}

impl Piece {
    fn at(&self, s: f64) -> f64 {
        self.z + self.slope * (s - self.s)
    }

    /// Where two pieces cross; not finite where they are parallel.
    fn meets(&self, other: &Self) -> f64 {
        other.s + (self.at(other.s) - other.z) / (other.slope - self.slope)
    }
}

/// The near ends at which a bar standing on both its ends just touches a corner.
fn touching(near: &Piece, far: &Piece, length: f64, (s, z): (f64, f64)) -> [f64; 2] {
    // With p = s − t the chord over the corner stands at near(p)·(1 − t/L) + far(p + L)·t/L: a quadratic in t.
    let (a, b) = (near.at(s) - z, far.at(s + length) - z);
    let square = (near.slope - far.slope) / length;
    let linear = (b - a) / length - near.slope;
    roots(square, linear, a).map(|t| s - t)
}

/// The roots of a·t² + b·t + c; not finite where there are none.
fn roots(a: f64, b: f64, c: f64) -> [f64; 2] {
    let q = -0.5 * (b + b.signum() * (b * b - 4.0 * a * c).sqrt());
    [q / a, c / q]
}

fn upper_hull(points: impl Iterator<Item = (f64, f64)>) -> Vec<(f64, f64)> {
    let mut hull: Vec<(f64, f64)> = Vec::new();
    for point in points {
        while let [.., a, b] = hull[..] {
            if (b.1 - a.1) * (point.0 - a.0) > (point.1 - a.1) * (b.0 - a.0) {
                break;
            }
            hull.pop();
        }
        hull.push(point);
    }
    hull
}

/// The bar with its near end at `from`: the edge or edges under its centre, and the gap over all it spans.
fn rest_at(reach: &Reach<'_>, z: &[f64], from: f64, found: &mut impl FnMut(Chord)) {
    let (s, to) = (reach.s, from + reach.length);
    let inner = s.partition_point(|&place| place <= from + SAME)..s.partition_point(|&place| place < to - SAME);
    let end = |at: f64| {
        let right = s.partition_point(|&place| place < at).clamp(1, s.len() - 1);
        (at, height_before(s, z, right, at))
    };
    let mut span = vec![end(from)];
    span.extend(inner.map(|place| (s[place], z[place])));
    span.push(end(to));
    let centre = 0.5 * (from + to);
    for edge in upper_hull(span.iter().copied()).windows(2) {
        let (a, b) = (edge[0], edge[1]);
        if a.0 <= centre + SAME && b.0 >= centre - SAME {
            let slope = (b.1 - a.1) / (b.0 - a.0);
            for &(at, height) in &span {
                found(Chord { gap: a.1 + slope * (at - a.0) - height, from: a.0, to: b.0, at });
            }
        }
    }
}
