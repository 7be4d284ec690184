//! From which edge on a tile is large.

use crate::units::Length;

/// From this edge on a tile is large: 15 in, itself included.
///
/// # Source
/// ANSI A108.02, read as quoted in a trade magazine ("15 in or longer").
///
/// ```
/// assert_eq!(survey::tile::large_from().to_mm(), 381.0);
/// ```
pub fn large_from() -> Length {
    Length::inches(15.0)
}
