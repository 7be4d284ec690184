//! How flat a floor must be for the tile that goes on it.

use crate::rules::{FlatnessRule, Provenance, Reach, Rule};
use crate::units::Length;

/// Which tolerance a tile asks for, by its longest edge.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum TileClass {
    /// Every edge shorter than 15 in.
    Small,
    /// Some edge 15 in or longer: the tighter tolerance.
    Large,
}

/// From this edge on a tile is large: 15 in, itself included.
///
/// # Source
/// ANSI A108.02, read as quoted in a trade magazine ("15 in or longer").
pub fn large_from() -> Length {
    Length::inches(15.0)
}

impl TileClass {
    /// The class of a tile whose longest edge is this long.
    ///
    /// ```
    /// use survey::tile::TileClass;
    /// use survey::units::Length;
    ///
    /// assert_eq!(TileClass::of(Length::inches(15.0)), TileClass::Large);
    /// assert_eq!(TileClass::of(Length::mm(380.0)), TileClass::Small);
    /// ```
    pub fn of(longest_edge: Length) -> Self {
        if longest_edge.at_least(large_from()) { Self::Large } else { Self::Small }
    }

    /// How flat the surface under it must be: both reaches hold together, and the worse decides.
    ///
    /// Small: 1/4 in in 10 ft and 1/16 in in 1 ft. Large: 1/8 in in 10 ft and 1/16 in in 2 ft. Measured from the high
    /// points of the surface.
    ///
    /// # Source
    /// ANSI A108.02, read as quoted in trade magazines, not in the standard; no edition was named there.
    pub fn flatness(self) -> FlatnessRule {
        let inches = Length::inches;
        let (name, [limit, short_limit, short]) = match self {
            Self::Small => ("Substrate for tile, every edge shorter than 15 in", [0.25, 0.0625, 12.0]),
            Self::Large => ("Substrate for tile, an edge of 15 in or longer", [0.125, 0.0625, 24.0]),
        };
        FlatnessRule {
            rule: Rule::of(name, "ANSI A108.02", "", Provenance::Read),
            reaches: vec![
                Reach { limit: inches(limit), length: inches(120.0) },
                Reach { limit: inches(short_limit), length: inches(short) },
            ],
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(longest_edge: Length, class: TileClass) {
        assert_eq!(TileClass::of(longest_edge), class, "{longest_edge:?}");
    }

    #[test]
    fn fifteen_inches_go_to_the_tighter_class() {
        check(Length::inches(14.9999), TileClass::Small);
        check(Length::inches(15.0), TileClass::Large);
        check(Length::mm(381.0), TileClass::Large);
        check(Length::mm(381.0 - 0.9e-6), TileClass::Large);
        check(Length::mm(381.0 - 1.1e-6), TileClass::Small);
        check(Length::ZERO, TileClass::Small);
    }

    #[test]
    fn both_reaches_in_millimetres() {
        let mm = |class: TileClass| {
            let reaches = class.flatness().reaches;
            reaches.iter().map(|reach| (reach.limit.to_mm(), reach.length.to_mm())).collect::<Vec<_>>()
        };
        // Exact conversions of the quoted figures.
        let close = |found: Vec<(f64, f64)>, expected: [(f64, f64); 2]| {
            assert_eq!(found.len(), 2);
            for (found, expected) in found.iter().zip(expected) {
                assert!((found.0 - expected.0).abs() < 1e-9 && (found.1 - expected.1).abs() < 1e-9, "{found:?}");
            }
        };
        close(mm(TileClass::Small), [(6.35, 3048.0), (1.5875, 304.8)]);
        close(mm(TileClass::Large), [(3.175, 3048.0), (1.5875, 609.6)]);
    }
}
