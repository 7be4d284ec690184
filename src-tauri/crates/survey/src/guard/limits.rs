//! Notch and bore limits of a solid sawn joist.

use super::Member;
use crate::units::Length;

/// How deep dressing may ever go: 1/8 in. A setting may ask for less, never for more.
///
/// # Source
/// Common practice.
pub fn dressing_most() -> Length {
    Length::inches(0.125)
}

/// What may be taken out of a solid sawn joist of one depth, unrounded; print it rounded down.
///
/// # Source
/// IRC R502.8.1, read as summarised in published study material and a trade magazine: notch no deeper than d/6 and no
/// longer than d/3, not in the middle third of the span, at ends no deeper than d/4; hole no wider than d/3 and no
/// nearer than 2 in to the edges, other holes and notches.
///
/// ```
/// use survey::guard::Limits;
/// use survey::length_text::{Parts, Rounding, fraction};
/// use survey::units::Length;
///
/// let limits = Limits::of(Length::inches(7.25));
/// assert_eq!(fraction(limits.bore, Parts::Sixteenths, Rounding::Down), "2-3/8");
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Limits {
    pub notch_depth: Length,
    pub notch_length: Length,
    pub end_notch_depth: Length,
    /// The widest hole.
    pub bore: Length,
    /// The least wood between a hole and an edge, another hole or a notch.
    pub bore_edge: Length,
}

impl Limits {
    /// The limits of a joist this deep.
    pub fn of(depth: Length) -> Self {
        Self {
            notch_depth: depth / 6.0,
            notch_length: depth / 3.0,
            end_notch_depth: depth / 4.0,
            bore: depth / 3.0,
            bore_edge: Length::inches(2.0),
        }
    }
}

/// Where the middle third of the clear span begins and ends, from the door wall.
pub fn middle_third(member: &Member) -> (Length, Length) {
    let third = member.span / 3.0;
    (member.first_bearing + third, member.first_bearing + third * 2.0)
}
