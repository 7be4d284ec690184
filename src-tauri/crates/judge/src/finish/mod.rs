//! What lies over the joists: build-up, slope, drain, pour, ledges, tiles.

pub mod build_up;
pub mod drain;
pub mod fall;
pub mod ledges;
pub mod pour;
pub mod surface;
pub mod tiling;
