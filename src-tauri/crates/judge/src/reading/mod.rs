//! One reading and the next: what a typed text means, what its neighbours lead one to expect, where to read next.

pub mod comparison;
pub mod expected_reading;
pub mod length_text;
pub mod level_check;
pub mod method_check;
pub mod next_readings;
pub mod tilt_text;
pub mod tilt_walks;
pub mod typed_reading;
