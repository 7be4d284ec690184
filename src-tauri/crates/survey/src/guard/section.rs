//! The rectangular section of a joist, and what a cut takes from it.

use crate::units::{Area, Length, Ratio, SecondMoment, SectionModulus};

/// A rectangle of wood: its breadth across, its depth up.
///
/// # Source
/// Area bd, section modulus bd²/6, second moment bd³/12: elementary mechanics.
///
/// ```
/// use survey::guard::Section;
/// use survey::units::Length;
///
/// let two_by_ten = Section { breadth: Length::inches(1.5), depth: Length::inches(9.25) };
/// let dressed = Length::inches(0.125);
/// assert!((two_by_ten.modulus_lost(dressed).to_f64() - 0.0268).abs() < 5e-5);
/// assert!((two_by_ten.stiffness_lost(dressed).to_f64() - 0.0400).abs() < 5e-5);
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Section {
    pub breadth: Length,
    pub depth: Length,
}

impl Section {
    pub fn area(&self) -> Area {
        Area::mm2(self.breadth.to_mm() * self.depth.to_mm())
    }

    pub fn modulus(&self) -> SectionModulus {
        SectionModulus::mm3(self.breadth.to_mm() * self.depth.to_mm().powi(2) / 6.0)
    }

    pub fn second_moment(&self) -> SecondMoment {
        SecondMoment::mm4(self.breadth.to_mm() * self.depth.to_mm().powi(3) / 12.0)
    }

    /// The depth that a cut leaves, not below nothing.
    pub fn depth_left(&self, cut: Length) -> Length {
        (self.depth - cut).max(Length::ZERO)
    }

    /// The share of the section modulus that a cut takes off the top, 0 to 1.
    pub fn modulus_lost(&self, cut: Length) -> Ratio {
        self.lost(cut, 2)
    }

    /// The share of the bending stiffness that a cut takes off the top, 0 to 1.
    pub fn stiffness_lost(&self, cut: Length) -> Ratio {
        self.lost(cut, 3)
    }

    fn lost(&self, cut: Length, power: i32) -> Ratio {
        Ratio::of(1.0 - self.depth_left(cut).ratio_to(self.depth).to_f64().powi(power))
    }
}
