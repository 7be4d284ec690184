//! The departure of the profile from a bar that stands on its two ends.

use super::profile::height_before;
use super::reach::Reach;
use super::supported::{Chord, stationary};

/// The largest departure either way, positive where the profile stands above the chord of the bar's ends.
pub(crate) fn end_supported(reach: &Reach<'_>, z: &[f64]) -> Chord {
    let mut best = Chord { gap: 0.0, from: 0.0, to: reach.length, at: 0.0 };
    departures(reach, z, |chord| {
        if chord.gap.abs() > best.gap.abs() {
            best = chord;
        }
    });
    for slide in &reach.slides {
        stationary(reach, z, slide, |chord| {
            if chord.gap.abs() > best.gap.abs() {
                best = Chord { gap: -chord.gap, ..chord };
            }
        });
    }
    best
}

/// The departures under every bar that has an end at a place, each place under it in turn.
pub(super) fn departures(reach: &Reach<'_>, z: &[f64], mut found: impl FnMut(Chord)) {
    let (s, length) = (reach.s, reach.length);
    let mut bar = |from: f64, z_from: f64, to: f64, z_to: f64, under: std::ops::Range<usize>| {
        for place in under {
            let chord = z_from + (z_to - z_from) * ((s[place] - from) / (to - from));
            found(Chord { gap: z[place] - chord, from, to, at: s[place] });
        }
    };
    for (near, &(last, piece)) in reach.rightward.iter().enumerate() {
        let to = s[near] + length;
        match piece {
            Some(piece) => bar(s[near], z[near], to, height_before(s, z, piece, to), near + 1..piece),
            None if to <= reach.s[last] + super::reach::SAME => bar(s[near], z[near], s[last], z[last], near + 1..last),
            None => {}
        }
    }
    for &(far, piece) in &reach.leftward {
        let from = s[far] - length;
        bar(from, height_before(s, z, piece, from), s[far], z[far], piece..far);
    }
}
