//! One reading on a line.

use crate::units::Length;

/// One reading on a line: how far along, and how high (up is positive).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LinePoint {
    pub s: Length,
    pub z: Length,
}

impl LinePoint {
    /// The reading at `s` millimetres along the line, `z` millimetres high.
    pub fn mm(s: f64, z: f64) -> Self {
        Self { s: Length::mm(s), z: Length::mm(z) }
    }
}
