//! What shims and sheets really measure, and which of them fills a gap.

use crate::units::Length;

/// A piece of stock as it is called and as it measures.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ShimStock {
    pub called: Length,
    pub actual: Length,
    /// Plywood, ripped to the width of the joist; else a solid shim.
    pub plywood: bool,
}

/// The stock commonly had, the thinnest first. Measure the real piece.
///
/// # Source
/// Common practice: plastic shims to size, plywood a thirty-second under.
pub fn shim_stock() -> Vec<ShimStock> {
    let of = |(called, actual, plywood): (f64, f64, bool)| ShimStock {
        called: Length::inches(called),
        actual: Length::inches(actual),
        plywood,
    };
    let (s, t) = (1.0 / 16.0, 1.0 / 32.0);
    [
        (t, t, false),
        (s, s, false),
        (2.0 * s, 2.0 * s, false),
        (3.0 * s, 3.0 * s, false),
        (4.0 * s, 7.0 * t, true),
        (4.0 * s, 4.0 * s, false),
        (6.0 * s, 11.0 * t, true),
        (8.0 * s, 15.0 * t, true),
    ]
    .map(of)
    .to_vec()
}

/// The thickest stock that is not thicker than a gap, and what of the gap is left; `None` for a gap under the thinnest.
///
/// # Source
/// Common practice: what fills is never above the line, and the rest is said.
///
/// ```
/// use survey::shim_stock::not_above;
/// use survey::units::Length;
/// let (stock, left) = not_above(Length::inches(3.0 / 8.0)).unwrap();
/// assert_eq!((stock.called, stock.actual), (Length::inches(3.0 / 8.0), Length::inches(11.0 / 32.0)));
/// assert!((left - Length::inches(1.0 / 32.0)).abs() < Length::mm(1e-9));
/// ```
pub fn not_above(gap: Length) -> Option<(ShimStock, Length)> {
    let fits = shim_stock().into_iter().rfind(|stock| stock.actual.at_most(gap))?;
    Some((fits, (gap - fits.actual).max(Length::ZERO)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn stock_is_in_order_and_nothing_fills_nothing() {
        assert!(shim_stock().is_sorted_by(|a, b| a.actual < b.actual));
        assert_eq!(not_above(Length::inches(1.0 / 64.0)), None);
        let (stock, left) = not_above(Length::inches(0.25)).expect("a shim");
        assert_eq!((stock.plywood, left), (false, Length::ZERO));
    }
}
