//! How well a set-up or a loop of levelling closes on where it began.

use crate::units::Length;

/// A closing error beside what it may be.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Misclosure {
    /// The close less the start, with its sign.
    pub error: Length,
    pub limit: Length,
}

impl Misclosure {
    /// Whether the error keeps to its limit, the limit included: a check of plausibility, without probability.
    pub fn is_within(self) -> bool {
        self.error.abs().at_most(self.limit)
    }
}

/// What a loop of this length may fail to close by: `per_root_km` for each root of a kilometre.
///
/// # Source
/// The k√K form is seen in published worked problems (k = 4 mm first order, 12 mm third order; construction 10 or
/// 15 mm); which k holds is a setting.
///
/// ```
/// use survey::misclosure::loop_limit;
/// use survey::units::Length;
/// let third_order = loop_limit(Length::mm(12.0), Length::mm(10e6));
/// assert!((third_order.to_mm() - 37.947).abs() < 1e-3);
/// ```
pub fn loop_limit(per_root_km: Length, round: Length) -> Length {
    per_root_km * (round.to_mm().max(0.0) * 1e-6).sqrt()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_close_beyond_its_limit_is_not_within() {
        let check = |close: f64, within: bool| {
            let found = Misclosure { error: Length::mm(close - 1000.0), limit: Length::mm(1.5) };
            assert_eq!(found.is_within(), within, "{found:?}");
        };
        check(1001.5, true);
        check(998.5, true);
        check(1001.51, false);
        check(998.49, false);
    }

    #[test]
    fn the_limit_grows_with_the_root() {
        // COMPUTED: a 20 m loop at k = 12 mm gives 1.70 mm, at k = 10 mm 1.41 mm.
        assert!((loop_limit(Length::mm(12.0), Length::mm(20_000.0)).to_mm() - 1.697).abs() < 1e-3);
        assert!((loop_limit(Length::mm(10.0), Length::mm(20_000.0)).to_mm() - 1.414).abs() < 1e-3);
    }
}
