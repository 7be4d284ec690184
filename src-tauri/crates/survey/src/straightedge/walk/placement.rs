//! One place to lay a bar, and what shows under it.

use crate::point::{PlanPosition, Point};
use crate::units::Length;

/// Which way a bar lies on the plan.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Way {
    /// Along the x axis.
    X,
    /// Along the y axis.
    Y,
    /// Corner to corner, x and y growing together.
    Rising,
    /// The other diagonal.
    Falling,
}

impl Way {
    /// The name used on every wire: `rising`.
    pub fn name(self) -> &'static str {
        match self {
            Self::X => "x",
            Self::Y => "y",
            Self::Rising => "rising",
            Self::Falling => "falling",
        }
    }
}

/// One place to lay the bar, and what the heights lead one to expect there.
#[derive(Debug, Clone, PartialEq)]
pub struct Placement {
    pub way: Way,
    /// The bar that is laid; where it is longer than from end to end, it overhangs.
    pub bar: Length,
    /// The reading that one end lies on, by its index.
    pub from: usize,
    /// Where the other end lies.
    pub to: PlanPosition,
    /// The gap expected under it, not negative; none where no reading lies between its ends.
    pub expected: Option<Length>,
    /// Where that gap shows.
    pub lowest_at: PlanPosition,
    /// Whether the floor stands above the bar between its ends, so that it would rock.
    pub rocks: bool,
}

impl Placement {
    /// The gap to order places by, in mm.
    pub(super) fn gap(&self) -> f64 {
        self.expected.map_or(0.0, Length::to_mm)
    }
}

/// What shows under a chord: the heights between its ends by how far along they lie.
pub(super) struct Under {
    pub(super) gap: f64,
    pub(super) at: f64,
    pub(super) rocks: bool,
}

/// More than this above the bar, in mm, and it rocks.
const ROCKS: f64 = 0.5;

/// The largest gap under a chord from height `start` to `end` over `length`, and whether anything stands above it.
pub(super) fn under(start: f64, end: f64, length: f64, between: impl Iterator<Item = (f64, f64)>) -> Under {
    let chord = |s: f64| if length > 0.0 { start + (end - start) * s / length } else { start };
    between.fold(Under { gap: 0.0, at: length / 2.0, rocks: false }, |most, (s, z)| {
        let gap = chord(s) - z;
        let rocks = most.rocks || -gap > ROCKS;
        if gap > most.gap { Under { gap, at: s, rocks } } else { Under { rocks, ..most } }
    })
}

/// The place a share of the way from one to the other.
pub(super) fn between(from: (f64, f64), to: (f64, f64), share: f64) -> PlanPosition {
    let on = |a: f64, b: f64| Length::mm(a + (b - a) * share);
    PlanPosition { x: on(from.0, to.0), y: on(from.1, to.1) }
}

pub(super) fn plan(point: &Point) -> (f64, f64) {
    (point.x.to_mm(), point.y.to_mm())
}
