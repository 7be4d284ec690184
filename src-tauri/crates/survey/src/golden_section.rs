//! The peak of a function of one number.

/// The largest value found in a stretch where it has one peak, the place of the peak within `fine`.
///
/// # Source
/// Golden section search (Kiefer 1953; recalled, not read).
pub(crate) fn golden_section((mut from, mut to): (f64, f64), fine: f64, mut value: impl FnMut(f64) -> f64) -> f64 {
    const GOLDEN: f64 = 0.618_033_988_749_894_8;
    let (mut p, mut q) = (to - GOLDEN * (to - from), from + GOLDEN * (to - from));
    let (mut at_p, mut at_q) = (value(p), value(q));
    while to - from > fine {
        if at_p >= at_q {
            (to, q, at_q) = (q, p, at_p);
            p = to - GOLDEN * (to - from);
            at_p = value(p);
        } else {
            (from, p, at_p) = (p, q, at_q);
            q = from + GOLDEN * (to - from);
            at_q = value(q);
        }
    }
    at_p.max(at_q)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_peak_and_a_ridge_are_found() {
        let peak = golden_section((-1.0, 3.0), 1e-8, |x| 2.0 - (x - 0.7).powi(2));
        assert!((peak - 2.0).abs() < 1e-14);
        let mut at = 0.0;
        let ridge = golden_section((0.0, 1.0), 1e-9, |x| {
            at = x;
            -(x - 0.3).abs()
        });
        assert!(ridge.abs() < 1e-8 && (at - 0.3).abs() < 1e-8);
        assert_eq!(golden_section((2.0, 2.0), 1e-3, |x| x), 2.0);
    }
}
