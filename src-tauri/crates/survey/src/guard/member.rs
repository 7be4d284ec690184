//! A joist as the guard sees it.

use crate::units::Length;

/// What a joist is made of, as far as cutting it goes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum MemberKind {
    /// Solid sawn lumber.
    Sawn,
    /// I-joist, truss, laminated or strand lumber.
    Engineered,
    /// Nobody has looked.
    Unknown,
}

/// A joist as the guard sees it. Places along it count from the door wall.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Member {
    pub kind: MemberKind,
    pub depth: Length,
    /// Clear, between its bearings.
    pub span: Length,
    /// Where the bearing nearest the door wall stands; negative if behind it.
    pub first_bearing: Length,
}
