//! Numbers of twice the working precision: the unevaluated sum of two `f64`, some 32 digits.

use std::ops::{Add, AddAssign, Div, Mul, Sub};

/// What the moments of a plane are summed in.
pub(super) trait Real:
    Copy + Add<Output = Self> + Sub<Output = Self> + Mul<Output = Self> + Div<Output = Self> + AddAssign
{
    fn of(value: f64) -> Self;
    fn near(self) -> f64;
}

impl Real for f64 {
    fn of(value: f64) -> Self {
        value
    }

    fn near(self) -> f64 {
        self
    }
}

/// A number as `high + low`, with `low` below half a unit in the last place of `high`.
///
/// # Source
/// Error-free sum (Knuth) and product (Dekker 1971); the operations as in any double-double arithmetic (textbook).
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Twofold {
    high: f64,
    low: f64,
}

impl Twofold {
    /// The sum of two numbers and its rounding error.
    fn sum(a: f64, b: f64) -> Self {
        let high = a + b;
        let part = high - a;
        Self { high, low: (a - (high - part)) + (b - part) }
    }

    /// The product of two numbers and its rounding error, by halves of the digits.
    fn product(a: f64, b: f64) -> Self {
        const SPLIT: f64 = 134_217_729.0; // 2^27 + 1
        let halves = |v: f64| {
            let big = SPLIT * v;
            let top = big - (big - v);
            (top, v - top)
        };
        let ((a_top, a_rest), (b_top, b_rest)) = (halves(a), halves(b));
        let high = a * b;
        let low = ((a_top * b_top - high) + a_top * b_rest + a_rest * b_top) + a_rest * b_rest;
        Self { high, low }
    }

    fn settled(self) -> Self {
        Self::sum(self.high, self.low)
    }
}

impl Real for Twofold {
    fn of(value: f64) -> Self {
        Self { high: value, low: 0.0 }
    }

    fn near(self) -> f64 {
        self.high + self.low
    }
}

impl Add for Twofold {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        let (high, low) = (Self::sum(self.high, other.high), Self::sum(self.low, other.low));
        let partly = Self { high: high.high, low: high.low + low.high }.settled();
        Self { high: partly.high, low: partly.low + low.low }.settled()
    }
}

impl AddAssign for Twofold {
    fn add_assign(&mut self, other: Self) {
        *self = *self + other;
    }
}

impl Sub for Twofold {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        self + Self { high: -other.high, low: -other.low }
    }
}

impl Mul for Twofold {
    type Output = Self;
    fn mul(self, other: Self) -> Self {
        let product = Self::product(self.high, other.high);
        let cross = self.high * other.low + self.low * other.high;
        Self { high: product.high, low: product.low + cross }.settled()
    }
}

impl Div for Twofold {
    type Output = Self;
    fn div(self, other: Self) -> Self {
        let first = self.high / other.high;
        let rest = self - other * Self::of(first);
        let second = rest.high / other.high;
        let rest = rest - other * Self::of(second);
        Self::sum(first, second) + Self::of(rest.high / other.high)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn digits_beyond_the_sixteenth_are_kept() {
        let (one, tiny) = (Twofold::of(1.0), Twofold::of(1e-20));
        assert_eq!(((one + tiny) - one).near(), 1e-20);
        // (1 + 2^-30)^2 = 1 + 2^-29 + 2^-60 exactly.
        let near_one = Twofold::of(1.0 + 2f64.powi(-30));
        assert_eq!((near_one * near_one - Twofold::of(1.0 + 2f64.powi(-29))).near(), 2f64.powi(-60));
        let third = one / Twofold::of(3.0);
        assert!((third + third + third - one).near().abs() < 1e-31);
    }

    proptest! {
        #[test]
        fn a_quotient_times_its_divisor_comes_back(a in -1e9..1e9f64, b in 1e-6..1e9f64) {
            let back = Twofold::of(a) / Twofold::of(b) * Twofold::of(b) - Twofold::of(a);
            prop_assert!(back.near().abs() <= 1e-30 * a.abs());
        }
    }
}
