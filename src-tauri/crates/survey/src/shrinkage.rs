//! How much a joist shrinks as it dries.

use crate::units::{Length, Ratio};

/// Moisture contents, in percent of the dry mass, over which the formulas hold.
pub const DRYING: [f64; 2] = [8.0, 19.0];

/// Which way across the wood.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Across {
    /// The wide face of a board: the depth of a joist on edge.
    Width,
    Thickness,
}

impl Across {
    /// The shrinkage from green to a moisture content, in percent of the green size.
    fn percent(self, moisture: f64) -> f64 {
        match self {
            Self::Width => 6.031 - 0.215 * moisture,
            Self::Thickness => 5.062 - 0.181 * moisture,
        }
    }
}

/// The size at another moisture content, a length; `None` outside 8 to 19 percent, where the formulas do not hold.
///
/// # Units
/// Moisture contents in percent of the dry mass.
///
/// # Uncertainty
/// Single boards differ by a third of their shrinkage and more: state the moisture content beside every shim.
///
/// # Source
/// Research paper FPL-RP-489, most softwoods: width 6.031 − 0.215 M, thickness 5.062 − 0.181 M percent, read; the size
/// at one content from that at another by the ratio of both (read in published course work).
///
/// ```
/// use survey::shrinkage::{Across, at_moisture};
/// use survey::units::{Length, Ratio};
///
/// let dry = at_moisture(Length::inches(9.25), Across::Width, Ratio::of(19.0), Ratio::of(8.0)).unwrap();
/// assert!((dry.to_inches() - 9.0269).abs() < 5e-5);
/// ```
pub fn at_moisture(size: Length, across: Across, from: Ratio, to: Ratio) -> Option<Length> {
    let holds = |moisture: Ratio| moisture.at_least(Ratio::of(DRYING[0])) && moisture.at_most(Ratio::of(DRYING[1]));
    let left = |moisture: Ratio| 1.0 - across.percent(moisture.to_f64()) / 100.0;
    (holds(from) && holds(to)).then(|| size * (left(to) / left(from)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn there_and_back_again() {
        let size = Length::mm(235.0);
        let moved = |from: f64, to: f64| at_moisture(size, Across::Thickness, Ratio::of(from), Ratio::of(to));
        assert_eq!(moved(12.0, 12.0), Some(size));
        assert!(moved(19.0, 8.0).is_some_and(|dry| dry < size));
        assert_eq!((moved(25.0, 8.0), moved(19.0, 5.0), moved(f64::NAN, 8.0)), (None, None, None));
    }
}
