//! The slip of the tongue or the tape, asked about while the reader still kneels there.

use crate::length_text::DefaultUnit;
use crate::units::{INCH_MM, Length};

/// What kind of slip a reading looks like.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum SlipKind {
    /// A burned inch, or the whole inch misread.
    Inch,
    Foot,
    TenMillimetres,
    HundredMillimetres,
    /// Two digits of the whole number changed places.
    SwappedDigits,
    /// Up taken for down: the sign is the other way round.
    Sense,
    /// The other edge of the line than before.
    LineEdge,
}

impl SlipKind {
    /// The name used on every wire: `ten-millimetres`.
    pub fn name(self) -> &'static str {
        match self {
            Self::Inch => "inch",
            Self::Foot => "foot",
            Self::TenMillimetres => "ten-millimetres",
            Self::HundredMillimetres => "hundred-millimetres",
            Self::SwappedDigits => "swapped-digits",
            Self::Sense => "sense",
            Self::LineEdge => "line-edge",
        }
    }
}

/// A suspected slip, and what the reading was if it is one.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Slip {
    pub kind: SlipKind,
    pub suggestion: Length,
}

/// Whether `typed` looks like an exact slip beside its `neighbours`: readings around it in the same sense, from the
/// same set-up, each of standard deviation `sd`. `None` leaves the reading alone, which is never refused.
///
/// It is a slip if it lies outside all its neighbours and taking the slip back lands among them, within an eighth of
/// the slip and three standard deviations (never more than a third of the slip). An ordinary crown is no slip: it is
/// off by its own height, not by an inch. Inches and feet are looked for in inch rooms, tens and hundreds of
/// millimetres in millimetre rooms, swapped digits and a sign the wrong way round in both; the sign only where it
/// makes a centimetre or more, since less is what a crown does.
///
/// # Source
/// The kinds of slip are common practice; the figures are ours.
///
/// ```
/// use survey::length_text::DefaultUnit;
/// use survey::slips::{SlipKind, slip};
/// use survey::units::Length;
///
/// let inches = Length::inches;
/// let neighbours = [44.1875, 44.1875, 44.1875].map(inches);
/// let sd = inches(1.0 / 32.0);
/// let burned = slip(inches(43.125), DefaultUnit::Inch, &neighbours, sd).unwrap();
/// assert_eq!(burned.kind, SlipKind::Inch);
/// assert!((burned.suggestion - inches(44.125)).abs().at_most(Length::ZERO));
/// assert_eq!(slip(inches(43.875), DefaultUnit::Inch, &neighbours, sd), None); // a crown of 5/16
/// ```
pub fn slip(typed: Length, unit: DefaultUnit, neighbours: &[Length], sd: Length) -> Option<Slip> {
    let low = neighbours.iter().copied().reduce(Length::min)?;
    let high = neighbours.iter().copied().reduce(Length::max)?;
    let outside = |value: Length| (low - value).max(value - high).max(Length::ZERO);
    let fits = |slip: &Slip| {
        let size = (slip.suggestion - typed).abs();
        let reach = (size / 8.0 + sd.abs() * 3.0).min(size / 3.0);
        outside(slip.suggestion).at_most(reach)
            && outside(typed) > outside(slip.suggestion)
            && outside(typed) > size / 2.0
    };
    let nearer = |best: Slip, next: Slip| {
        if outside(next.suggestion) < outside(best.suggestion) { next } else { best }
    };
    candidates(typed, unit).into_iter().filter(fits).reduce(nearer)
}

/// What the reading may have been, the commonest slip first.
fn candidates(typed: Length, unit: DefaultUnit) -> Vec<Slip> {
    let steps = match unit {
        DefaultUnit::Inch => [(SlipKind::Inch, INCH_MM), (SlipKind::Foot, 12.0 * INCH_MM)],
        DefaultUnit::Millimetre => [(SlipKind::TenMillimetres, 10.0), (SlipKind::HundredMillimetres, 100.0)],
    };
    let step = |(kind, mm): (SlipKind, f64)| [mm, -mm].map(|mm| Slip { kind, suggestion: typed + Length::mm(mm) });
    steps.into_iter().flat_map(step).chain(swapped(typed, unit)).chain(other_way(typed)).collect()
}

/// The reading with its sign the other way round, where that is more than an ordinary crown.
fn other_way(typed: Length) -> Option<Slip> {
    let far = Length::mm(LEAST_FLIP).at_most(typed.abs() * 2.0);
    far.then(|| Slip { kind: SlipKind::Sense, suggestion: Length::ZERO - typed })
}

/// A sign the wrong way round that makes less than this, in mm, is not told from a crown.
const LEAST_FLIP: f64 = 10.0;

/// Whether a place read `before`, from the same set-up and each with `sd`, now reads off by the `width` of the line:
/// once its upper edge was taken and once its lower one. The suggestion is the edge that was taken before.
///
/// It is asked about where the two differ by the width within a quarter of it, and by more than twice what reading
/// twice explains.
///
/// # Source
/// Common practice: the middle of the line or always the same edge of it is read; the figures are ours.
///
/// ```
/// use survey::slips::line_edge;
/// use survey::units::Length;
///
/// let (width, sd) = (Length::mm(3.0), Length::mm(0.5));
/// let off = line_edge(Length::mm(1123.0), &[Length::mm(1120.0)], width, sd).unwrap();
/// assert!((off.suggestion.to_mm() - 1120.0).abs() < 1e-9);
/// assert_eq!(line_edge(Length::mm(1121.0), &[Length::mm(1120.0)], width, sd), None);
/// ```
pub fn line_edge(typed: Length, before: &[Length], width: Length, sd: Length) -> Option<Slip> {
    let nearest =
        before.iter().copied().min_by(|a, b| (*a - typed).abs().to_mm().total_cmp(&(*b - typed).abs().to_mm()))?;
    let off = typed - nearest;
    let is_width = (off.abs() - width.abs()).abs().at_most(width.abs() / 4.0);
    let is_real = off.abs() > sd.abs() * 2.0 * 2f64.sqrt();
    let by = if off > Length::ZERO { width.abs() } else { Length::ZERO - width.abs() };
    (is_width && is_real).then(|| Slip { kind: SlipKind::LineEdge, suggestion: typed - by })
}

/// The reading with two neighbouring digits of its whole number changed over.
fn swapped(typed: Length, unit: DefaultUnit) -> Vec<Slip> {
    let mm = match unit {
        DefaultUnit::Inch => INCH_MM,
        DefaultUnit::Millimetre => 1.0,
    };
    // The slack keeps a whole number that arithmetic left a hair short.
    let whole = (typed.to_mm().abs() / mm + 1e-6).floor();
    let swap = |power: i32| {
        let ten = 10f64.powi(power);
        let digit = |place: f64| (whole / place).floor() % 10.0;
        let change = (digit(ten) - digit(ten * 10.0)) * 9.0 * ten * mm * typed.to_mm().signum();
        let leading = whole >= ten * 10.0 && change != 0.0;
        leading.then(|| Slip { kind: SlipKind::SwappedDigits, suggestion: typed + Length::mm(change) })
    };
    (0..5).filter_map(swap).collect()
}

/// The readings around one place of a grid of joists by stations: the nearest two along the joist each way, and those
/// of the joists beside it at the same station and the next.
pub fn around(tops: &[Vec<Option<Length>>], joist: usize, station: usize) -> Vec<Length> {
    let at = |joist: usize, station: usize| tops.get(joist).and_then(|tops| tops.get(station)).copied().flatten();
    let steps = |from: usize, to: usize| from.checked_add(1).map(|from| from..=to).into_iter().flatten();
    let count = tops.get(joist).map_or(0, Vec::len);
    let before = (0..station.min(count)).rev().filter_map(|k| at(joist, k)).take(2);
    let behind = steps(station, count).filter_map(|k| at(joist, k)).take(2);
    let beside = [joist.checked_sub(1), joist.checked_add(1)].into_iter().flatten();
    let stations = [station.checked_sub(1), Some(station), station.checked_add(1)];
    let across = beside.flat_map(|joist| stations.into_iter().flatten().filter_map(move |k| at(joist, k)));
    before.chain(behind).chain(across).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn check(unit: DefaultUnit, typed: f64, neighbours: &[f64], expected: Option<(SlipKind, f64)>) {
        let (length, sd): (fn(f64) -> Length, _) = match unit {
            DefaultUnit::Inch => (Length::inches, Length::inches(1.0 / 32.0)),
            DefaultUnit::Millimetre => (Length::mm, Length::mm(0.5)),
        };
        let neighbours: Vec<Length> = neighbours.iter().map(|&value| length(value)).collect();
        let found = slip(length(typed), unit, &neighbours, sd);
        let same = match (found, expected) {
            (Some(found), Some((kind, value))) => {
                found.kind == kind && (found.suggestion - length(value)).abs().to_mm() < 1e-9
            }
            (found, expected) => found.is_none() && expected.is_none(),
        };
        assert!(same, "{typed} beside {neighbours:?}: {found:?}");
    }

    #[test]
    fn inches_feet_and_digits() {
        let check = |typed, neighbours: &[f64], expected| check(DefaultUnit::Inch, typed, neighbours, expected);
        let floor = [44.1875, 44.25, 44.125];
        check(43.125, &floor, Some((SlipKind::Inch, 44.125)));
        check(45.1875, &floor, Some((SlipKind::Inch, 44.1875)));
        check(32.25, &floor, Some((SlipKind::Foot, 44.25)));
        check(54.5, &[45.5, 45.375], Some((SlipKind::SwappedDigits, 45.5)));
        check(44.875, &floor, None);
        check(43.5, &floor, None);
        check(44.1875, &floor, None);
        check(43.125, &[43.125, 44.125], None);
        check(43.125, &[], None);
        check(20.0, &floor, None);
    }

    #[test]
    fn millimetres() {
        let check = |typed, neighbours: &[f64], expected| check(DefaultUnit::Millimetre, typed, neighbours, expected);
        let floor = [1122.0, 1123.0, 1121.5];
        check(1112.0, &floor, Some((SlipKind::TenMillimetres, 1122.0)));
        check(1222.0, &floor, Some((SlipKind::HundredMillimetres, 1122.0)));
        check(1212.0, &floor, Some((SlipKind::SwappedDigits, 1122.0)));
        check(1127.0, &floor, None);
        check(1096.6, &floor, None);
    }

    #[test]
    fn a_sign_the_wrong_way_round() {
        let check = |typed, neighbours: &[f64], expected| check(DefaultUnit::Millimetre, typed, neighbours, expected);
        check(-14.0, &[12.0, 15.0, 13.0], Some((SlipKind::Sense, 14.0)));
        check(18.0, &[-16.0, -18.5], Some((SlipKind::Sense, -18.0)));
        // Less than a centimetre from end to end is what a crown does.
        check(-2.0, &[2.0, 1.5, 2.5], None);
        check(14.0, &[12.0, 15.0, 13.0], None);
    }

    #[test]
    fn the_other_edge_of_the_line() {
        let check = |typed: f64, before: &[f64], expected: Option<f64>| {
            let before: Vec<Length> = before.iter().map(|&value| Length::mm(value)).collect();
            let found = line_edge(Length::mm(typed), &before, Length::mm(3.2), Length::mm(0.8));
            assert_eq!(found.map(|slip| slip.suggestion.to_mm().round()), expected, "{typed} after {before:?}");
        };
        check(1123.2, &[1120.0], Some(1120.0));
        check(1116.8, &[1120.0], Some(1120.0));
        check(1121.5, &[1120.0], None);
        check(1125.0, &[1120.0], None);
        // Beside a reading that agrees there is nothing to ask.
        check(1123.2, &[1120.0, 1123.0], None);
        check(1123.2, &[], None);
    }

    #[test]
    fn neighbours_on_a_grid() {
        let top = |value: f64| Some(Length::mm(value));
        let tops = vec![vec![top(1.0), None, top(3.0)], vec![top(4.0), top(5.0), top(6.0)], vec![None, top(8.0), None]];
        let mm = |joist, station| around(&tops, joist, station).into_iter().map(Length::to_mm).collect::<Vec<_>>();
        assert_eq!(mm(1, 1), [4.0, 6.0, 1.0, 3.0, 8.0]);
        assert_eq!(mm(0, 0), [3.0, 4.0, 5.0]);
        assert_eq!(mm(9, 9), [] as [f64; 0]);
        assert_eq!(mm(usize::MAX, usize::MAX), [] as [f64; 0]);
    }

    proptest! {
        #[test]
        fn a_reading_among_its_neighbours_is_left_alone(
            values in proptest::collection::vec(0.0..2000.0f64, 1..6), share in 0.0..1.0f64,
        ) {
            let low = values.iter().copied().fold(f64::MAX, f64::min);
            let high = values.iter().copied().fold(f64::MIN, f64::max);
            let neighbours: Vec<Length> = values.iter().map(|&value| Length::mm(value)).collect();
            for unit in [DefaultUnit::Inch, DefaultUnit::Millimetre] {
                let typed = Length::mm(low + (high - low) * share);
                prop_assert_eq!(slip(typed, unit, &neighbours, Length::mm(0.5)), None);
            }
        }

        #[test]
        fn a_slip_of_an_inch_is_seen_both_ways(truth in 30.0..60.0f64, off in -0.125..0.125f64, up: bool) {
            let typed = Length::inches(truth + if up { 1.0 } else { -1.0 });
            let neighbours = [Length::inches(truth + off)];
            let found = slip(typed, DefaultUnit::Inch, &neighbours, Length::inches(1.0 / 32.0));
            prop_assert!(found.is_some_and(|slip| (slip.suggestion.to_inches() - truth).abs() < 1e-9), "{found:?}");
        }
    }
}
