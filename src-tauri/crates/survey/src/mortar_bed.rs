//! Which notch a tile is commonly set with, and how thick its bed comes out.

use crate::tile::large_from;
use crate::units::{Length, Ratio};

/// A notch, the bed it leaves, and how much of the tile's back the mortar must touch.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MortarBed {
    /// Width and depth of the notch.
    pub notch: (Length, Length),
    /// The collapsed ridges: half the notch's depth.
    pub bed: Length,
    /// In a room that stays dry.
    pub contact_dry: Ratio,
    /// Where it gets wet.
    pub contact_wet: Ratio,
    /// Whether the back of the tile is buttered as well.
    pub back_buttered: bool,
}

/// The notch commonly taken for a tile of this longest edge. Lift a tile and look: the mortar's sheet decides.
///
/// # Source
/// Common practice throughout; 80 and 95 in a hundred are ANSI A108.5 as recalled, not read. Practitioners differ on
/// half the depth of the notch.
///
/// ```
/// use survey::mortar_bed::mortar_bed;
/// use survey::units::Length;
/// let large = mortar_bed(Length::inches(24.0));
/// assert_eq!((large.bed, large.back_buttered), (Length::inches(0.25), true));
/// ```
pub fn mortar_bed(longest_edge: Length) -> MortarBed {
    let (wide, deep) = match longest_edge {
        edge if edge.at_most(Length::inches(2.0)) => (3.0 / 16.0, 5.0 / 32.0),
        edge if edge.at_most(Length::inches(8.0)) => (0.25, 0.25),
        edge if edge.at_least(large_from()) => (0.5, 0.5),
        _ => (0.25, 0.375),
    };
    let depth = Length::inches(deep);
    MortarBed {
        notch: (Length::inches(wide), depth),
        bed: depth / 2.0,
        contact_dry: Ratio::of(0.80),
        contact_wet: Ratio::of(0.95),
        back_buttered: longest_edge.at_least(large_from()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn larger_tiles_take_deeper_notches() {
        for (edge, depth) in [(1.0, 5.0 / 32.0), (6.0, 0.25), (12.0, 0.375), (14.9995, 0.375), (15.0, 0.5), (48.0, 0.5)]
        {
            assert_eq!(mortar_bed(Length::inches(edge)).notch.1, Length::inches(depth), "{edge}");
        }
        assert!(!mortar_bed(Length::inches(12.0)).back_buttered);
    }
}
