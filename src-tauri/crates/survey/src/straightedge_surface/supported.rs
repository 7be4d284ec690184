//! The bar that is supported at the start of a line: where it ends, and where the gap under it is largest.

use super::chord::{Aim, squares_between};
use super::ray::Crossing;

/// The best bar from the first crossing of a profile: its score, the crossing at its low place, and how far it reaches.
pub(super) fn best_from(profile: &[Crossing], length: f64, aim: &Aim) -> Option<(f64, usize, f64)> {
    let first = profile.first()?;
    let ends = supports(profile, length);
    let mut best: Option<(f64, usize, f64)> = None;
    for &(away, z, squares) in &ends {
        let under = profile.iter().enumerate().skip(1).take_while(|(_, crossing)| crossing.along < away);
        for (low, crossing) in under {
            let share = crossing.along / away;
            let gap = first.z + share * (z - first.z) - crossing.z;
            if best.is_some_and(|best| gap + aim.most() <= best.0) {
                continue;
            }
            let squares = (1.0 - share).powi(2) * first.squares() + share * share * squares + crossing.squares();
            let score = if aim.guard > 0.0 { gap + aim.guard * aim.u(squares) } else { gap };
            if best.is_none_or(|best| score > best.0) {
                best = Some((score, low, away));
            }
        }
    }
    best
}

/// Where a bar from the first crossing may end: at each crossing within its length, and at its whole length.
fn supports(profile: &[Crossing], length: f64) -> Vec<(f64, f64, f64)> {
    let within = profile.partition_point(|crossing| crossing.along <= length);
    let mut ends: Vec<(f64, f64, f64)> =
        profile[..within].iter().map(|crossing| (crossing.along, crossing.z, crossing.squares())).collect();
    if let (Some(last), Some(beyond)) = (within.checked_sub(1).and_then(|last| profile.get(last)), profile.get(within))
    {
        let share = (length - last.along) / (beyond.along - last.along);
        let squares = squares_between(last, beyond, share);
        ends.push((length, last.z + share * (beyond.z - last.z), squares));
    }
    ends
}
