//! What is known of a room: which readings count, the heights they give, the joists, the rules in force.

pub mod bands;
pub mod closing;
mod current_readings;
mod doubled;
pub mod framing_check;
pub mod from_walls;
pub mod joist_grid;
pub mod point_heights;
pub mod positions;
pub mod rules;
pub mod surveys;
pub mod verdict;
pub mod view;

pub use current_readings::{current_readings, latest_by_point};
