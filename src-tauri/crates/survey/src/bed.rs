//! How much mortar a bed laid to fall takes.

use crate::units::{Area, Length, Volume};

/// How a bed rises from its drain.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Shape {
    /// From a point up to a level edge all around: the edge stands over the drain by the whole rise.
    ToAPoint,
    /// From a line along one wall up to the wall across.
    ToALine,
}

/// The volume of a bed on a level floor: so thick at the drain, and so much thicker at the far edge.
///
/// # Source
/// A cone or pyramid holds a third under its faces, so the mean rise to a point drain is two thirds of the whole, to a
/// line drain a half (geometry).
///
/// ```
/// use survey::bed::{Shape, volume};
/// use survey::units::{Area, Length};
///
/// // Four feet square, 1-1/4 in at the drain, half an inch of rise: 59.78 litres.
/// let square = Area::mm2(1219.2 * 1219.2);
/// let found = volume(Shape::ToAPoint, square, Length::inches(1.25), Length::inches(0.5));
/// assert!((found.to_litres() - 59.78).abs() < 0.005);
/// ```
pub fn volume(shape: Shape, area: Area, at_drain: Length, rise: Length) -> Volume {
    let share = match shape {
        Shape::ToAPoint => 2.0 / 3.0,
        Shape::ToALine => 0.5,
    };
    let mean = at_drain + rise * share;
    Volume::litres(area.to_mm2().max(0.0) * mean.to_mm().max(0.0) * 1e-6)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_flat_bed_is_a_slab() {
        for shape in [Shape::ToAPoint, Shape::ToALine] {
            assert_eq!(volume(shape, Area::mm2(1e6), Length::mm(30.0), Length::ZERO), Volume::litres(30.0));
            assert_eq!(volume(shape, Area::mm2(1e6), Length::mm(-30.0), Length::ZERO), Volume::ZERO);
        }
        let sloped = volume(Shape::ToALine, Area::mm2(1e6), Length::mm(30.0), Length::mm(20.0));
        assert_eq!(sloped, Volume::litres(40.0));
    }
}
