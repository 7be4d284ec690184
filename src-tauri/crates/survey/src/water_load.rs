//! What standing water weighs on a floor.

use crate::units::{Area, Length, Mass};

/// Of water, in kg per litre: 62.3 lb in a cubic foot.
const DENSITY: f64 = 62.3 * 0.453_592_37 / 28.316_846_592;

/// The mass of water this deep over an area. A flood test loads the joists: have them looked at first.
///
/// # Source
/// ASTM D5957, note 1: 62.3 lb/ft³, that is 5.19 lb/ft² for every inch (read).
///
/// ```
/// use survey::units::{Area, Length};
/// use survey::water_load::water_load;
///
/// // Two inches on a square metre.
/// assert!((water_load(Length::inches(2.0), Area::mm2(1e6)).to_kg() - 50.7).abs() < 0.05);
/// ```
pub fn water_load(depth: Length, area: Area) -> Mass {
    Mass::kg(DENSITY * depth.to_mm().max(0.0) * area.to_mm2().max(0.0) * 1e-6)
}
