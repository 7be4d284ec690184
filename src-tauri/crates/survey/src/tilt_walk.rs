//! Heights from a level that is walked along on a foot, and how well the walk closes.

use crate::misclosure::Misclosure;
use crate::units::{Angle, Length};

/// The heights of every station of a walk over its first, up positive: one more than there are tilts.
///
/// # Units
/// The foot is the distance between its two rests; a tilt is positive where the far rest stands higher.
///
/// # Uncertainty
/// See [`uncertainty`]: it grows with the root of the stations.
///
/// # Source
/// Each step rises by the foot times the tangent of its tilt (geometry; checked against Moody's plate of 1955).
///
/// ```
/// use survey::tilt_walk::heights;
/// use survey::units::{Angle, Length};
///
/// let walk = heights(Length::mm(600.0), &[0.1, -0.1, 0.0].map(Angle::degrees));
/// assert!((walk[1].to_mm() - 1.0472).abs() < 1e-4);
/// assert!(walk[3].to_mm().abs() < 1e-12);
/// ```
pub fn heights(foot: Length, tilts: &[Angle]) -> Vec<Length> {
    let mut at = Length::ZERO;
    let step = |tilt: &Angle| {
        at += tilt.to_slope().times(foot);
        at
    };
    std::iter::once(Length::ZERO).chain(tilts.iter().map(step).collect::<Vec<_>>()).collect()
}

/// The standard uncertainty of a height so many steps into a walk, given that of one tilt: the steps are independent.
///
/// ```
/// use survey::tilt_walk::uncertainty;
/// use survey::units::{Angle, Length};
///
/// // A twentieth of a degree on a 600 mm foot: half a millimetre a step.
/// let four = uncertainty(Length::mm(600.0), Angle::degrees(0.05), 4);
/// assert!((four.to_mm() - 2.0 * 0.5236).abs() < 1e-4);
/// ```
pub fn uncertainty(foot: Length, tilt_sd: Angle, steps: usize) -> Length {
    tilt_sd.abs().to_slope().times(foot.abs()) * (steps as f64).sqrt()
}

/// A walk that came back to a height that is known.
#[derive(Debug, Clone, PartialEq)]
pub struct Closed {
    /// Every station, the closing error shared out evenly.
    pub heights: Vec<Length>,
    /// What was left at the end, beside three standard uncertainties of it.
    pub misclosure: Misclosure,
}

/// The heights of a walk whose last station stands `rise` over its first, the closing error shared out evenly.
///
/// A loop has no rise. An error beyond three standard uncertainties is no longer noise: walk it again.
///
/// # Source
/// Least squares of equal, independent steps shares the error evenly (textbook).
///
/// ```
/// use survey::tilt_walk::closed;
/// use survey::units::{Angle, Length};
///
/// let around = [0.1, 0.0, -0.1, 0.02].map(Angle::degrees);
/// let walk = closed(Length::mm(600.0), &around, Length::ZERO, Angle::degrees(0.01));
/// assert!((walk.misclosure.error.to_mm() - 0.20944).abs() < 1e-5);
/// assert!(walk.misclosure.is_within());
/// assert!(walk.heights[4].to_mm().abs() < 1e-12);
/// ```
pub fn closed(foot: Length, tilts: &[Angle], rise: Length, tilt_sd: Angle) -> Closed {
    let walked = heights(foot, tilts);
    let error = walked.last().copied().unwrap_or_default() - rise;
    let share = |(k, height): (usize, &Length)| *height - error * (k as f64 / tilts.len().max(1) as f64);
    let limit = uncertainty(foot, tilt_sd, tilts.len()) * 3.0;
    Closed { heights: walked.iter().enumerate().map(share).collect(), misclosure: Misclosure { error, limit } }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn a_closed_walk_ends_where_it_must(tilts in prop::collection::vec(-1.0f64..1.0, 1..40), rise in -50.0f64..50.0) {
            let tilts: Vec<Angle> = tilts.into_iter().map(Angle::degrees).collect();
            let walk = closed(Length::mm(600.0), &tilts, Length::mm(rise), Angle::degrees(0.05));
            prop_assert_eq!(walk.heights.len(), tilts.len() + 1);
            prop_assert!((walk.heights[tilts.len()].to_mm() - rise).abs() < 1e-9);
            // A tilt common to all steps is taken out altogether.
            let leaning: Vec<Angle> = tilts.iter().map(|tilt| Angle::degrees(tilt.to_degrees() + 0.3)).collect();
            let other = closed(Length::mm(600.0), &leaning, Length::mm(rise), Angle::degrees(0.05));
            for (one, other) in walk.heights.iter().zip(&other.heights) {
                prop_assert!((*one - *other).abs().to_mm() < 0.02, "{:?} {:?}", one, other);
            }
        }

        #[test]
        fn nothing_panics(foot in prop::num::f64::ANY, tilts in prop::collection::vec(prop::num::f64::ANY, 0..5), rise in prop::num::f64::ANY) {
            let tilts: Vec<Angle> = tilts.into_iter().map(Angle::degrees).collect();
            let _ = closed(Length::mm(foot), &tilts, Length::mm(rise), Angle::degrees(rise));
        }
    }
}
