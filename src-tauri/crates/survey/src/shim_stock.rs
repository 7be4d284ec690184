//! What shims and sheets really measure, which of them fills a gap, and which may take the place of a rip.

use crate::units::Length;

/// A piece of stock as it is called and as it measures.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ShimStock {
    pub called: Length,
    pub actual: Length,
    /// Plywood, ripped to the width of the joist; else a solid shim.
    pub plywood: bool,
}

/// The stock commonly had in inches, the thinnest first. Measure the real piece.
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

/// The stock commonly had in millimetres, the thinnest first. Measure the real piece.
///
/// # Source
/// Common practice: packers and plywood as they are called; what a sheet really measures is put in by hand.
pub fn shim_stock_metric() -> Vec<ShimStock> {
    let of = |(mm, plywood): (f64, bool)| ShimStock { called: Length::mm(mm), actual: Length::mm(mm), plywood };
    let packers = [1.0, 1.5, 2.0, 3.0, 5.0].map(|mm| (mm, false));
    let sheets = [6.0, 9.0, 12.0, 15.0, 18.0].map(|mm| (mm, true));
    packers.into_iter().chain(sheets).map(of).collect()
}

/// The thickest stock that is not thicker than a gap, and what of the gap is left; `None` for a gap under the thinnest.
///
/// # Source
/// Common practice: what fills is never above the line, and the rest is said.
///
/// ```
/// use survey::shim_stock::{not_above, shim_stock};
/// use survey::units::Length;
/// let (stock, left) = not_above(&shim_stock(), Length::inches(3.0 / 8.0)).unwrap();
/// assert_eq!((stock.called, stock.actual), (Length::inches(3.0 / 8.0), Length::inches(11.0 / 32.0)));
/// assert!((left - Length::inches(1.0 / 32.0)).abs() < Length::mm(1e-9));
/// ```
pub fn not_above(stock: &[ShimStock], gap: Length) -> Option<(ShimStock, Length)> {
    let fitting = stock.iter().filter(|stock| stock.actual > Length::ZERO && stock.actual.at_most(gap));
    let fits = *fitting.max_by(|a, b| a.actual.to_mm().total_cmp(&b.actual.to_mm()))?;
    Some((fits, (gap - fits.actual).max(Length::ZERO)))
}

/// The stock that may take the place of a strip: nowhere over the strip's line, and nowhere farther under it than
/// `short`; with how far it is under it at most. `None` where the strip is no such thing.
///
/// # Source
/// Common practice: a strip of one thickness need not be ripped where a sheet measures the same.
///
/// ```
/// use survey::shim_stock::{in_place_of, shim_stock};
/// use survey::units::Length;
/// let even = Length::inches(3.0 / 8.0);
/// let (stock, under) = in_place_of(&shim_stock(), even, even, Length::inches(1.0 / 32.0)).unwrap();
/// assert!(stock.plywood && (under - Length::inches(1.0 / 32.0)).abs() < Length::mm(1e-9));
/// assert_eq!(in_place_of(&shim_stock(), Length::inches(1.0 / 4.0), even, Length::inches(1.0 / 32.0)), None);
/// ```
pub fn in_place_of(
    stock: &[ShimStock],
    thinnest: Length,
    thickest: Length,
    short: Length,
) -> Option<(ShimStock, Length)> {
    let (fits, _) = not_above(stock, thinnest)?;
    let under = (thickest - fits.actual).max(Length::ZERO);
    under.at_most(short).then_some((fits, under))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn stock_is_in_order_and_nothing_fills_nothing() {
        for stock in [shim_stock(), shim_stock_metric()] {
            assert!(stock.is_sorted_by(|a, b| a.actual < b.actual));
        }
        assert_eq!(not_above(&shim_stock(), Length::inches(1.0 / 64.0)), None);
        assert_eq!(not_above(&[], Length::inches(1.0)), None);
        let (stock, left) = not_above(&shim_stock(), Length::inches(0.25)).expect("a shim");
        assert_eq!((stock.plywood, left), (false, Length::ZERO));
    }

    #[test]
    fn stock_never_stands_over_the_line_of_a_strip() {
        let inches = Length::inches;
        let found = |thin: f64, thick: f64| in_place_of(&shim_stock(), inches(thin), inches(thick), inches(1.0 / 32.0));
        // 15/32 stands over a strip that is 7/16 at its thin end; 11/32 is 3/32 short of its thick one.
        assert_eq!(found(7.0 / 16.0, 15.0 / 32.0), None);
        let (half, under) = found(15.0 / 32.0, 0.5).expect("half-inch plywood");
        assert!(half.called == inches(0.5) && (under - inches(1.0 / 32.0)).abs() < Length::mm(1e-9), "{under:?}");
    }
}
