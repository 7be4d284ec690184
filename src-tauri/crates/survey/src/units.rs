//! Quantities. The only place where a number becomes a length, a slope or a probability.
//!
//! Each type holds one private finite `f64` in the unit its docs name, within ±[`LIMIT`], so that no sum or product of
//! measured quantities overflows and none is ever NaN. Numbers from outside enter through `try_…`; the plain
//! constructors are for literals and for results of arithmetic on quantities.
//! Comparisons against limits go through [`Length::at_most`] and its kin, which hold the tolerance of each quantity.

use std::fmt;
use std::ops::{Add, AddAssign, Div, Mul, Neg, Sub, SubAssign};

/// The largest magnitude a quantity takes, in its own unit: 1e15 mm is a million kilometres of floor.
pub const LIMIT: f64 = 1e15;

/// The number is NaN, infinite, or too large to be a measurement.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct NotFinite;

impl fmt::Display for NotFinite {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("the number is not finite, or too large to be a measurement")
    }
}

impl std::error::Error for NotFinite {}

/// Keeps a computed number inside the range of quantities; what is not a number becomes the visible nonsense [`LIMIT`].
fn held(value: f64) -> f64 {
    if value.is_nan() { LIMIT } else { value.clamp(-LIMIT, LIMIT) }
}

macro_rules! quantity {
    ($(#[$doc:meta])* $name:ident, $unit:ident, $try_unit:ident, $to_unit:ident, within $slack:literal) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Default)]
        #[repr(transparent)]
        pub struct $name(f64);

        impl $name {
            pub const ZERO: Self = Self(0.0);

            /// The quantity of a literal or a computed number; out of range is held at the range's end.
            pub fn $unit(value: f64) -> Self {
                Self(held(value))
            }

            /// The quantity of a number from outside.
            ///
            /// # Errors
            /// [`NotFinite`] for NaN, infinities and anything beyond [`LIMIT`].
            pub fn $try_unit(value: f64) -> Result<Self, NotFinite> {
                if value.abs() <= LIMIT { Ok(Self(value)) } else { Err(NotFinite) }
            }

            pub fn $to_unit(self) -> f64 {
                self.0
            }

            /// Whether this is no more than `limit`, the limit itself included within the quantity's tolerance.
            pub fn at_most(self, limit: Self) -> bool {
                self.0 <= limit.0 + $slack
            }

            /// Whether this is no less than `limit`, the limit itself included within the quantity's tolerance.
            pub fn at_least(self, limit: Self) -> bool {
                self.0 >= limit.0 - $slack
            }

            pub fn abs(self) -> Self {
                Self(self.0.abs())
            }

            pub fn max(self, other: Self) -> Self {
                Self(self.0.max(other.0))
            }

            pub fn min(self, other: Self) -> Self {
                Self(self.0.min(other.0))
            }
        }

        impl Add for $name {
            type Output = Self;
            fn add(self, other: Self) -> Self {
                Self(held(self.0 + other.0))
            }
        }

        impl AddAssign for $name {
            fn add_assign(&mut self, other: Self) {
                *self = *self + other;
            }
        }

        impl Sub for $name {
            type Output = Self;
            fn sub(self, other: Self) -> Self {
                Self(held(self.0 - other.0))
            }
        }

        impl SubAssign for $name {
            fn sub_assign(&mut self, other: Self) {
                *self = *self - other;
            }
        }

        impl Neg for $name {
            type Output = Self;
            fn neg(self) -> Self {
                Self(-self.0)
            }
        }

        impl Mul<f64> for $name {
            type Output = Self;
            fn mul(self, factor: f64) -> Self {
                Self(held(self.0 * factor))
            }
        }

        impl Div<f64> for $name {
            type Output = Self;
            fn div(self, divisor: f64) -> Self {
                Self(held(self.0 / divisor))
            }
        }

        impl std::iter::Sum for $name {
            fn sum<I: Iterator<Item = Self>>(all: I) -> Self {
                all.fold(Self::ZERO, |sum, one| sum + one)
            }
        }
    };
}

quantity! {
    /// A length, held in millimetres. Heights are lengths, positive upward. Equal within 1e-6 mm.
    Length, mm, try_mm, to_mm, within 1e-6
}
quantity! {
    /// A slope, held as rise over run (mm per mm). Equal within 1e-9.
    Slope, ratio, try_ratio, to_ratio, within 1e-9
}
quantity! {
    /// An angle, held in degrees.
    Angle, degrees, try_degrees, to_degrees, within 1e-9
}
quantity! {
    /// An area, held in square millimetres.
    Area, mm2, try_mm2, to_mm2, within 1e-6
}
quantity! {
    /// A section modulus, held in cubic millimetres.
    SectionModulus, mm3, try_mm3, to_mm3, within 1e-6
}
quantity! {
    /// A second moment of area, held in millimetres to the fourth.
    SecondMoment, mm4, try_mm4, to_mm4, within 1e-6
}
quantity! {
    /// A stress in a member, or its modulus of elasticity, held in megapascals (N/mm²).
    Stress, mpa, try_mpa, to_mpa, within 1e-9
}
quantity! {
    /// A load spread over a floor, held in pascals (N/m²).
    Load, pa, try_pa, to_pa, within 1e-9
}
quantity! {
    /// A volume, held in litres.
    Volume, litres, try_litres, to_litres, within 1e-9
}
quantity! {
    /// A mass, held in kilograms.
    Mass, kg, try_kg, to_kg, within 1e-9
}
quantity! {
    /// An electrical resistance, held in ohms.
    Resistance, ohms, try_ohms, to_ohms, within 1e-9
}
quantity! {
    /// A temperature, held in degrees Celsius.
    Temperature, celsius, try_celsius, to_celsius, within 1e-9
}
quantity! {
    /// A span of time, held in seconds.
    Duration, seconds, try_seconds, to_seconds, within 1e-9
}
quantity! {
    /// A plain number: a ratio of two quantities of one kind, a count, a normalised residual.
    Ratio, of, try_of, to_f64, within 1e-12
}

/// One inch in millimetres, exact by definition (international yard and pound agreement, 1959).
pub const INCH_MM: f64 = 25.4;
/// The weight of one pound in newtons: 0.45359237 kg at 9.80665 m/s², both exact by definition.
const POUND_N: f64 = 0.453_592_37 * 9.806_65;

impl Length {
    /// The length of `inches`; one inch is 25.4 mm exactly.
    pub fn inches(inches: f64) -> Self {
        Self::mm(inches * INCH_MM)
    }

    pub fn to_inches(self) -> f64 {
        self.0 / INCH_MM
    }

    /// The rise of this height over a run; zero over no run.
    pub fn over(self, run: Length) -> Slope {
        if run.0 == 0.0 { Slope::ZERO } else { Slope::ratio(self.0 / run.0) }
    }

    /// How many times `other` goes into this; zero if `other` is zero.
    pub fn ratio_to(self, other: Length) -> Ratio {
        if other.0 == 0.0 { Ratio::ZERO } else { Ratio::of(self.0 / other.0) }
    }
}

impl Stress {
    /// The stress of pounds on a square inch.
    pub fn psi(psi: f64) -> Self {
        Self::mpa(psi * POUND_N / (INCH_MM * INCH_MM))
    }
}

impl Load {
    /// The load of pounds on a square foot.
    pub fn psf(psf: f64) -> Self {
        Self::pa(psf * POUND_N / (0.3048 * 0.3048))
    }
}

impl Slope {
    /// The rise over this slope's `run`.
    pub fn times(self, run: Length) -> Length {
        Length::mm(self.0 * run.0)
    }

    /// One in `n`: 1:48 is a quarter inch per foot. One in nothing is level.
    pub fn one_in(n: f64) -> Self {
        if n == 0.0 { Self::ZERO } else { Self::ratio(1.0 / n) }
    }

    pub fn to_percent(self) -> f64 {
        self.0 * 100.0
    }

    pub fn to_inches_per_foot(self) -> f64 {
        self.0 * 12.0
    }

    pub fn to_angle(self) -> Angle {
        Angle::degrees(self.0.atan().to_degrees())
    }
}

impl Angle {
    /// The slope of a foot tilted by this angle. Steeper than 89.999 degrees is held there.
    pub fn to_slope(self) -> Slope {
        Slope::ratio(self.0.clamp(-89.999, 89.999).to_radians().tan())
    }
}

/// A probability between 0 and 1. Equal within 1e-12.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Default)]
#[repr(transparent)]
pub struct Probability(f64);

impl Probability {
    /// A computed probability, held between 0 and 1; what is not a number is held at 0.
    pub fn of(value: f64) -> Self {
        Self(if value.is_nan() { 0.0 } else { value.clamp(0.0, 1.0) })
    }

    /// A probability from outside.
    ///
    /// # Errors
    /// [`NotFinite`] unless the number lies between 0 and 1.
    pub fn try_of(value: f64) -> Result<Self, NotFinite> {
        if (0.0..=1.0).contains(&value) { Ok(Self(value)) } else { Err(NotFinite) }
    }

    pub fn to_f64(self) -> f64 {
        self.0
    }

    /// Whether this is no less than `limit`, within 1e-12.
    pub fn at_least(self, limit: Self) -> bool {
        self.0 >= limit.0 - 1e-12
    }

    /// Whether this is no more than `limit`, within 1e-12.
    pub fn at_most(self, limit: Self) -> bool {
        self.0 <= limit.0 + 1e-12
    }
}

/// A value and its standard uncertainty (k = 1), both in the same quantity.
///
/// # Source
/// JCGM 100 (GUM), 2.3.1 standard uncertainty (recalled, not read).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Estimate<Q> {
    pub value: Q,
    pub u: Q,
}

impl<Q: Copy + Mul<f64, Output = Q>> Estimate<Q> {
    pub fn new(value: Q, u: Q) -> Self {
        Self { value, u }
    }

    /// The expanded uncertainty `k·u`.
    pub fn expanded(self, k: f64) -> Q {
        self.u * k
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_number_from_outside_is_finite_or_refused() {
        for bad in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, 1e308, -1e16] {
            assert_eq!(Length::try_mm(bad), Err(NotFinite), "{bad}");
        }
        assert_eq!(Length::try_mm(4.5e9).map(Length::to_mm), Ok(4.5e9));
    }

    #[test]
    fn arithmetic_never_leaves_the_range() {
        let most = Length::mm(LIMIT);
        assert_eq!((most + most).to_mm(), LIMIT);
        assert_eq!((-most - most).to_mm(), -LIMIT);
        assert_eq!((Length::ZERO / 0.0).to_mm(), LIMIT);
        assert_eq!(Length::mm(5.0).over(Length::ZERO), Slope::ZERO);
    }

    #[test]
    fn inch_and_slope_are_exact() {
        // 1 in = 25.4 mm by definition; 1/64 in = 0.396875 mm; 1/4 in per ft = 1:48 = 2.0833 % = 1.1935 degrees.
        assert_eq!(Length::inches(1.0 / 64.0).to_mm(), 0.396875);
        let quarter = Length::inches(0.25).over(Length::inches(12.0));
        assert!((quarter.to_ratio() - Slope::one_in(48.0).to_ratio()).abs() < 1e-15);
        assert!((quarter.to_percent() - 2.083_333).abs() < 1e-6);
        assert!((quarter.to_angle().to_degrees() - 1.193_5).abs() < 5e-5);
        assert!(!Slope::ratio(0.02).at_least(quarter), "2 % is a rounding and falls short of 1/4 in per ft");
    }

    #[test]
    fn at_the_limit_counts_as_inside() {
        let limit = Length::inches(0.125);
        assert!((limit + Length::mm(0.9e-6)).at_most(limit));
        assert!(!(limit + Length::mm(1.1e-6)).at_most(limit));
        assert!((limit - Length::mm(0.9e-6)).at_least(limit));
    }
}
