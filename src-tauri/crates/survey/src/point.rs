//! Where a reading was taken, and how high it was.

use crate::units::Length;

/// A place on the plan: x along the base wall, y into the room.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PlanPosition {
    pub x: Length,
    pub y: Length,
}

/// A point of the floor: its place on the plan and its height above the room datum (up is positive).
#[derive(Debug, Clone, Copy, PartialEq)]
#[repr(C)]
pub struct Point {
    pub x: Length,
    pub y: Length,
    pub z: Length,
}

impl Point {
    /// The point at `x`, `y`, `z` millimetres.
    pub fn mm(x: f64, y: f64, z: f64) -> Self {
        Self { x: Length::mm(x), y: Length::mm(y), z: Length::mm(z) }
    }
}
