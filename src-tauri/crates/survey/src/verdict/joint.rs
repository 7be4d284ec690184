//! How likely several values keep to a limit all together.

use super::Limited;
use crate::normal;
use crate::units::{Estimate, Probability};

/// Beyond so many standard deviations nothing is left to count.
const FAR: f64 = 9.0;

/// The probability that every one of several true values is at most the limit, 0 to 1.
///
/// Each value has an uncertainty of its own, and all share a common one: that of the benchmark, say, or of the line.
/// It is neither the product of the single probabilities, which takes what is shared as independent, nor the least of
/// them, which forgets all the others.
///
/// # Units
/// Values, uncertainties and limit in one quantity.
///
/// # Uncertainty
/// The number itself is good to 1e-9 while own uncertainties are not below a hundredth of the common one.
///
/// # Source
/// The product of the single probabilities given the common error, averaged over it (textbook).
///
/// ```
/// use survey::units::{Estimate, Length};
/// use survey::verdict::all_within;
///
/// let gap = Estimate::new(Length::mm(2.0), Length::mm(1.0));
/// let alone = all_within(&[gap; 2], Length::ZERO, Length::mm(3.0)).to_f64();
/// assert!((alone - 0.841_344_746_068_543_f64.powi(2)).abs() < 1e-12);
/// let together = all_within(&[gap; 2], Length::mm(1.0), Length::mm(3.0)).to_f64();
/// assert!(together > 0.760_249_938_906_523_f64.powi(2), "what is shared goes wrong only once");
/// ```
pub fn all_within<Q: Limited>(values: &[Estimate<Q>], common: Q, limit: Q) -> Probability {
    let common = common.number().abs();
    let given = |error: f64| {
        let one = |value: &Estimate<Q>| {
            let room = (limit - value.value).number() - common * error;
            let u = value.u.number().abs();
            if u > 0.0 { normal::below(room / u) } else { f64::from(room >= 0.0) }
        };
        values.iter().map(one).product::<f64>()
    };
    if common == 0.0 {
        // Step by step, so that a limit met exactly counts as kept.
        let exact = values.iter().all(|value| value.u.number() != 0.0 || value.value.is_at_most(limit));
        let doubted: Vec<Estimate<Q>> = values.iter().copied().filter(|value| value.u.number() != 0.0).collect();
        let one = |value: &Estimate<Q>| normal::below((limit - value.value).number() / value.u.number().abs());
        return Probability::of(if exact { doubted.iter().map(one).product() } else { 0.0 });
    }
    // A value without doubt of its own holds only up to some common error.
    let certain = values.iter().filter(|value| value.u.number() == 0.0);
    let most = certain.map(|value| (limit - value.value).number() / common).fold(FAR, f64::min);
    let sharpest = values.iter().map(|value| value.u.number().abs()).filter(|u| *u > 0.0).fold(common, f64::min);
    Probability::of(averaged(given, most, (common / sharpest * 512.0).clamp(512.0, 65_536.0) as usize))
}

/// The average of a function over the standard normal distribution up to `most`, by Simpson's rule.
fn averaged(of: impl Fn(f64) -> f64, most: f64, steps: usize) -> f64 {
    if most <= -FAR {
        return 0.0;
    }
    let step = (most + FAR) / (2 * steps) as f64;
    let at = |k: usize| {
        // The very end counts from inside: there the step has not come yet.
        let error = if k == 2 * steps { most - 1e-12 * (1.0 + most.abs()) } else { k as f64 * step - FAR };
        of(error) * (-0.5 * error * error).exp()
    };
    let inner: f64 = (1..2 * steps).map(|k| at(k) * if k % 2 == 1 { 4.0 } else { 2.0 }).sum();
    (at(0) + inner + at(2 * steps)) * step / 3.0 / (2.0 * std::f64::consts::PI).sqrt()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::Ratio;
    use proptest::prelude::*;

    fn all(values: &[(f64, f64)], common: f64, limit: f64) -> f64 {
        let values: Vec<Estimate<Ratio>> =
            values.iter().map(|&(y, u)| Estimate::new(Ratio::of(y), Ratio::of(u))).collect();
        all_within(&values, Ratio::of(common), Ratio::of(limit)).to_f64()
    }

    #[test]
    fn the_shared_part_goes_wrong_once() {
        let check = |values: &[(f64, f64)], common: f64, limit: f64, expected: f64| {
            let found = all(values, common, limit);
            assert!((found - expected).abs() < 1e-9, "{values:?} {common}: {found} is not {expected}");
        };
        check(&[], 1.0, 0.0, 1.0);
        check(&[(1.0, 0.6)], 0.8, 2.0, 0.841_344_746_068_543);
        // scipy.stats.multivariate_normal.cdf for two and three values of covariance u² I + common²:
        // two at the limit with correlation 1/2: 1/4 + asin(1/2) / 2π = 1/3, exactly.
        check(&[(0.0, 1.0), (0.0, 1.0)], 1.0, 0.0, 1.0 / 3.0);
        // Three at the limit, all correlated by 1/2: 1/4.
        check(&[(0.0, 1.0); 3], 1.0, 0.0, 0.25);
        // Without doubt of their own: the larger decides alone.
        check(&[(1.0, 0.0), (2.0, 0.0)], 1.0, 3.0, 0.841_344_746_068_543);
        check(&[(3.0, 0.0), (0.0, 1.0)], 0.0, 3.0, normal::below(3.0));
        check(&[(3.1, 0.0), (0.0, 1.0)], 0.0, 3.0, 0.0);
    }

    proptest! {
        #[test]
        fn between_the_product_and_the_least(values in prop::collection::vec((-2.0f64..4.0, 0.1f64..2.0), 1..6), common in 0.1f64..2.0) {
            let together = all(&values, common, 3.0);
            let single = values.iter().map(|one| all(&[*one], common, 3.0));
            let least = single.clone().fold(1.0, f64::min);
            let product: f64 = single.product();
            prop_assert!(together <= least + 1e-9 && together >= product - 1e-9, "{} {} {}", product, together, least);
        }

        #[test]
        fn nothing_panics(values in prop::collection::vec((prop::num::f64::ANY, prop::num::f64::ANY), 0..4),
                          common in prop::num::f64::ANY, limit in prop::num::f64::ANY) {
            let _ = all(&values, common, limit);
        }
    }
}
