//! A joist that falls away close to an end: the sign of a notch, a split or a cut underneath.

use super::Profile;
use crate::units::Length;

/// How far a joist drops from an end reading to the next.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SharpDrop {
    /// The end reading, from the door wall.
    pub from: Length,
    /// The reading next to it.
    pub to: Length,
    pub drop: Length,
}

/// Under this no drop is worth crawling under a floor for, in mm: 1/4 in.
const LEAST: f64 = 6.35;
/// The share of the whole drop from that end that must come in the first bay.
const SHARE: f64 = 0.75;

/// The sharp drops of a joist, the one by the door wall first.
///
/// A drop is sharp where at least 1/4 in and two standard uncertainties are lost from an end reading to the next, and
/// that is at least three quarters of all that is lost from that end.
///
/// # Source
/// That damage near a bearing shows as a sudden drop is common practice; the figures are ours.
pub(super) fn sharp_drops(profile: &Profile, u: Length) -> Vec<SharpDrop> {
    let points = profile.points();
    let back: Vec<(f64, f64)> = points.iter().rev().copied().collect();
    [sharp_drop(points, u.to_mm()), sharp_drop(&back, u.to_mm())].into_iter().flatten().collect()
}

fn sharp_drop(points: &[(f64, f64)], u: f64) -> Option<SharpDrop> {
    let [end, next, _, ..] = points else { return None };
    let lowest = points.iter().map(|&(_, z)| z).fold(end.1, f64::min);
    let (drop, whole) = (end.1 - next.1, end.1 - lowest);
    let sharp = drop >= LEAST + 2.0 * u && drop >= SHARE * whole;
    sharp.then(|| SharpDrop { from: Length::mm(end.0), to: Length::mm(next.0), drop: Length::mm(drop) })
}

#[cfg(test)]
mod tests {
    use super::super::example::grid;
    use super::*;

    fn check(tops: &[f64], expected: &[(f64, f64)]) {
        let grid = grid(&[tops]);
        let drops = sharp_drops(&grid.profile(&grid.joists[0]), grid.u);
        let found: Vec<_> = drops.iter().map(|drop| (drop.from.to_inches(), drop.to.to_inches())).collect();
        assert_eq!(found, expected, "{tops:?}");
    }

    #[test]
    fn near_an_end_only() {
        check(&[0.0, -0.5, -0.625, -0.5], &[(0.0, 30.0)]);
        check(&[0.0, -0.5, -0.625, -0.125], &[(0.0, 30.0), (90.0, 60.0)]);
        check(&[0.0, -0.1, -0.2, -0.8], &[]);
        check(&[0.0, -0.3, -0.6, -0.9], &[]);
        check(&[0.0, 0.5, 0.5, 0.0], &[]);
        check(&[0.0, -0.25, -0.25, -0.25], &[]);
        check(&[0.0, -1.0], &[]);
    }
}
