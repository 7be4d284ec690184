//! The plane that a few wild readings cannot pull far.

use super::moments::Moments;
use crate::Point;

/// In standard deviations: beyond, a reading pulls with constant force. 95 % efficient on normal errors.
const K: f64 = 1.345;
/// The fitted heights have settled when none moves by more, in mm.
const SETTLED: f64 = 1e-12;
/// Rounds of reweighting; far more than any floor needs.
const ROUNDS: usize = 10_000;

/// Reweights until the heights stand still: the moments and weights of the last round.
///
/// # Source
/// Huber 1964; k = 1.345 and iterative reweighting as in the textbooks (recalled, not read).
pub(super) fn settle(points: &[Point], sd: f64, start: Moments) -> (Moments, Vec<f64>) {
    let mut moments = start;
    let mut weights = Vec::new();
    for _ in 0..ROUNDS {
        weights = weights_of(points, &moments, sd);
        let next = Moments::weighted(points, &weights);
        let moved = largest_move(points, &moments, &next);
        moments = next;
        if moved <= SETTLED.max(rounding(points, &moments)) {
            break;
        }
    }
    (moments, weights)
}

fn weights_of(points: &[Point], moments: &Moments, sd: f64) -> Vec<f64> {
    points.iter().map(|point| (K * sd / moments.residual(point).abs()).min(1.0)).collect()
}

fn largest_move(points: &[Point], before: &Moments, after: &Moments) -> f64 {
    points.iter().map(|point| (before.residual(point) - after.residual(point)).abs()).fold(0.0, f64::max)
}

/// What the heights cannot be told apart by, whatever the rounds: some units in the last place of the largest.
fn rounding(points: &[Point], moments: &Moments) -> f64 {
    let heights = points.iter().map(|point| moments.centred(point)[2].abs());
    4.0 * f64::EPSILON * heights.fold(0.0, f64::max)
}
