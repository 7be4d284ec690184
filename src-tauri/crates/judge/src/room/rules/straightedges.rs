//! The rules whose straightedges are laid on a surface.

use super::{Figures, LengthId};
use crate::forms::Surface;
use survey::units::Length;

impl Figures {
    /// The rules of the long and of the short bar on a surface; none for a floor that falls, which is no flat one.
    pub fn straightedges(&self, surface: Surface) -> Option<[LengthId; 2]> {
        match surface {
            Surface::Framing => Some([LengthId::FramingFlat, LengthId::FramingFlatShort]),
            Surface::Floor if self.is_large() => Some([LengthId::TileLargeLong, LengthId::TileLargeShort]),
            Surface::Floor => Some([LengthId::TileSmallLong, LengthId::TileSmallShort]),
            Surface::Fall => None,
        }
    }

    /// Whether the room's tile is judged as a large one, as a tile of unknown size is.
    fn is_large(&self) -> bool {
        let edge = self.length(LengthId::TileLargeEdge);
        self.rules.tile.as_ref().is_none_or(|tile| Length::mm(tile.longest_edge).at_least(edge))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::forms::{Rules, Tile};

    #[test]
    fn the_tile_decides_and_one_of_unknown_size_counts_as_large() {
        let check = |longest_edge: Option<f64>, expected: LengthId| {
            let tile = longest_edge.map(|longest_edge| Tile { name: String::new(), longest_edge, joint: None });
            let figures = Figures::of(&Rules { tile, ..Rules::default() });
            assert_eq!(figures.straightedges(Surface::Floor).map(|[long, _]| long), Some(expected), "{longest_edge:?}");
        };
        check(None, LengthId::TileLargeLong);
        check(Some(381.0), LengthId::TileLargeLong);
        check(Some(380.9), LengthId::TileSmallLong);
    }
}
