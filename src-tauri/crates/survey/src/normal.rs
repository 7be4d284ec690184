//! The normal distribution, as bare numbers: every probability in this crate comes from here.

use libm::erfc;
use statrs::function::erf::erfc_inv;
use std::f64::consts::{PI, SQRT_2};

/// Φ(z), the share of a standard normal distribution below `z`; accurate in the lower tail too.
pub(crate) fn below(z: f64) -> f64 {
    0.5 * erfc(-z / SQRT_2)
}

/// Φ(b) − Φ(a) for `a` ≤ `b`, taken in the tail where nothing cancels.
pub(crate) fn between(a: f64, b: f64) -> f64 {
    if a > 0.0 { below(-a) - below(-b) } else { below(b) - below(a) }
}

/// Φ⁻¹(p), the value with the share `p` below it; ±∞ at 1 and 0.
///
/// For `p` near 1 ask for `-quantile(1 - p)` with the small share itself, which loses no digits.
pub(crate) fn quantile(p: f64) -> f64 {
    let near = -SQRT_2 * erfc_inv(2.0 * p);
    if !near.is_finite() {
        return near;
    }
    // One Newton step takes the last digits.
    let density = (-0.5 * near * near).exp() / (2.0 * PI).sqrt();
    if density > 0.0 { near - (below(near) - p) / density } else { near }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(found: f64, expected: f64) {
        let scale = expected.abs().max(1e-300);
        assert!((found - expected).abs() <= 1e-12 * scale, "{found} is not {expected}");
    }

    /// Expected values computed to 30 digits with mpmath (erfc, erfinv).
    #[test]
    fn shares_and_quantiles_to_twelve_digits() {
        check(below(-8.0), 6.220_960_574_271_784e-16);
        check(below(-3.3), 4.834_241_423_837_772e-4);
        check(below(0.0), 0.5);
        check(below(2.5), 0.993_790_334_674_224);
        check(between(2.5, 9.0), 6.209_665_325_776_135e-3);
        check(quantile(0.95), 1.644_853_626_951_472_6);
        check(quantile(0.0005), -3.290_526_731_491_895);
        check(quantile(1e-9), -5.997_807_015_007_687);
        check(quantile(0.8), 0.841_621_233_572_914_2);
    }
}
