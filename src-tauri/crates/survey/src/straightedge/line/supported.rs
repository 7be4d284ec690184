//! The largest gap between two supports on the profile, no farther apart than the bar is long.
//!
//! The gap over one place is monotone in either support along a straight piece, so the largest is found with both
//! supports at readings, with a bar of full length that has one end at a reading, or at a stationary position of a full
//! bar whose ends slide on two pieces.

use super::profile::height_before;
use super::reach::{Reach, Slide};

/// A chord from `from` to `to` and the gap it leaves over `at`, all in mm along the profile.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Chord {
    pub(crate) gap: f64,
    pub(crate) from: f64,
    pub(crate) to: f64,
    pub(crate) at: f64,
}

impl Chord {
    pub(super) fn keep(&mut self, gap: f64, from: f64, to: f64, at: f64) {
        if gap > self.gap {
            *self = Self { gap, from, to, at };
        }
    }
}

/// The chord of largest gap; a gap of zero with the bar at the near end where the profile nowhere sags.
pub(crate) fn supported(reach: &Reach<'_>, z: &[f64]) -> Chord {
    let mut best = Chord { gap: 0.0, from: 0.0, to: reach.length, at: 0.0 };
    for near in 0..reach.s.len() {
        from_place(reach, z, near, &mut best);
    }
    for &(far, piece) in &reach.leftward {
        to_place(reach, z, far, piece, &mut best);
    }
    for slide in &reach.slides {
        // Where the far piece falls away against the near one the gap bends upward: it is largest at a turn.
        if slope(reach.s, z, slide.near) < slope(reach.s, z, slide.far) {
            stationary(reach, z, slide, |chord| best.keep(chord.gap, chord.from, chord.to, chord.at));
        }
    }
    best
}

/// Chords from one place to every other within the bar, and to its far end: over each place the steepest one governs.
fn from_place(reach: &Reach<'_>, z: &[f64], near: usize, best: &mut Chord) {
    let (s, (last, end)) = (reach.s, reach.rightward[near]);
    let (s0, z0) = (s[near], z[near]);
    let (mut steepest, mut to) = match end {
        Some(piece) => ((height_before(s, z, piece, s0 + reach.length) - z0) / reach.length, s0 + reach.length),
        None => (f64::NEG_INFINITY, s0),
    };
    for place in (near + 1..=last).rev() {
        let run = s[place] - s0;
        best.keep(steepest * run - (z[place] - z0), s0, to, s[place]);
        let slope = (z[place] - z0) / run;
        if slope > steepest {
            (steepest, to) = (slope, s[place]);
        }
    }
}

/// The bar of full length that ends at a place, its near end on a piece.
fn to_place(reach: &Reach<'_>, z: &[f64], far: usize, piece: usize, best: &mut Chord) {
    let (s, from) = (reach.s, reach.s[far] - reach.length);
    let start = height_before(s, z, piece, from);
    let slope = (z[far] - start) / reach.length;
    for place in piece..far {
        best.keep(start + slope * (s[place] - from) - z[place], from, s[far], s[place]);
    }
}

pub(super) fn slope(s: &[f64], z: &[f64], piece: usize) -> f64 {
    (z[piece] - z[piece - 1]) / (s[piece] - s[piece - 1])
}

/// The position of a sliding bar, for each place under it, at which the gap there stands still.
pub(super) fn stationary(reach: &Reach<'_>, z: &[f64], slide: &Slide, mut found: impl FnMut(Chord)) {
    let (s, length, start) = (reach.s, reach.length, slide.start);
    let (near, far) = (slope(s, z, slide.near), slope(s, z, slide.far));
    let z_near = height_before(s, z, slide.near, start);
    let z_far = height_before(s, z, slide.far, start + length);
    // With the near end moved by m and the place k beyond the start, the chord over it stands at
    // z_near + near·m + (z_far − z_near + (far − near)·m)·(k − m)/length.
    let turn = (z_far - z_near - near * length) / (far - near);
    for (&place, &height) in s[slide.near..slide.far].iter().zip(&z[slide.near..slide.far]) {
        let moved = 0.5 * (place - start - turn);
        if moved > 0.0 && start + moved < slide.end {
            let (a, b) = (z_near + near * moved, z_far + far * moved);
            let (from, at) = (start + moved, place);
            found(Chord { gap: a + (b - a) * ((at - from) / length) - height, from, to: from + length, at });
        }
    }
}
