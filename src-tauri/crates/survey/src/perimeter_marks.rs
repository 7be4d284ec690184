//! The heights to mark round the walls of a floor that falls to a drain.

use crate::boundary::from_segment;
use crate::drainage::{Drain, FallRule};
use crate::point::PlanPosition;
use crate::units::{Length, Slope};

/// How the edge of the floor is to stand.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Edge {
    /// At one height over the drain all round.
    Level(Length),
    /// Rising evenly with the distance from the drain.
    Even(Slope),
}

/// One mark on a wall.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WallMark {
    /// The wall, from its corner of this index to the next.
    pub wall: usize,
    /// From the wall's first corner.
    pub along: Length,
    pub at: PlanPosition,
    /// Over the drain.
    pub height: Length,
    /// The way to the drain that its fall is reckoned over.
    pub way: Length,
}

/// No more marks than this on one wall.
const MOST: f64 = 200.0;

/// The marks on every wall in turn: at both its corners and every `spacing` between them.
///
/// An even floor measured square to a line drain rises with the distance from the drain's line, otherwise with the
/// straight way to the drain. Nothing for a drain of readings.
///
/// # Source
/// Common practice: a level line all round, or one plane to a line drain.
///
/// ```
/// use survey::PlanPosition;
/// use survey::drainage::{Drain, FallRule};
/// use survey::perimeter_marks::{Edge, perimeter_marks};
/// use survey::units::{Length, Slope};
/// let at = |x: f64, y: f64| PlanPosition { x: Length::mm(x), y: Length::mm(y) };
/// let room = [at(0.0, 0.0), at(1800.0, 0.0), at(1800.0, 900.0), at(0.0, 900.0)];
/// let drain = Drain::Line(at(0.0, 0.0), at(0.0, 900.0));
/// let edge = Edge::Even(Slope::ratio(25.0 / 1800.0));
/// let marks = perimeter_marks(&room, &drain, edge, FallRule::SquareToDrain, Length::mm(900.0));
/// assert!((marks[1].height.to_mm() - 12.5).abs() < 1e-9, "half way along the first wall");
/// ```
pub fn perimeter_marks(
    corners: &[PlanPosition],
    drain: &Drain,
    edge: Edge,
    rule: FallRule,
    spacing: Length,
) -> Vec<WallMark> {
    let plan = |at: &PlanPosition| [at.x.to_mm(), at.y.to_mm()];
    let Some(outlet) = drain.ends() else { return Vec::new() };
    let walls = (0..corners.len()).map(|k| [plan(&corners[k]), plan(&corners[(k + 1) % corners.len()])]);
    let of_wall = |(wall, ends): (usize, [[f64; 2]; 2])| {
        let (long, step) = (length(ends), spacing.to_mm());
        let step = if step > 0.0 { step.max(long / MOST) } else { long };
        let place = move |along: f64| mark(wall, ends, along, outlet, edge, rule);
        stops(long, step).into_iter().map(place)
    };
    walls.enumerate().flat_map(of_wall).collect()
}

/// Nothing, every step, and the whole, without a last stop that falls on the whole.
fn stops(long: f64, step: f64) -> Vec<f64> {
    let between = (0..).map(|k| f64::from(k) * step).take_while(|along| *along < long - 1.0);
    if long > 0.0 { between.chain([long]).collect() } else { Vec::new() }
}

fn mark(
    wall: usize,
    ends @ [a, b]: [[f64; 2]; 2],
    along: f64,
    outlet: [[f64; 2]; 2],
    edge: Edge,
    rule: FallRule,
) -> WallMark {
    let t = along / length(ends);
    let at = [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])];
    let way = Length::mm(way(outlet, at, rule));
    let height = match edge {
        Edge::Level(rise) => rise,
        Edge::Even(fall) => fall.times(way),
    };
    let place = PlanPosition { x: Length::mm(at[0]), y: Length::mm(at[1]) };
    WallMark { wall, along: Length::mm(along), at: place, height, way }
}

/// The way from a place to the drain that a rule reckons its fall over; `None` for a drain of readings.
///
/// ```
/// use survey::PlanPosition;
/// use survey::drainage::{Drain, FallRule};
/// use survey::perimeter_marks::way_to;
/// use survey::units::Length;
/// let at = |x: f64, y: f64| PlanPosition { x: Length::mm(x), y: Length::mm(y) };
/// let drain = Drain::Line(at(0.0, 0.0), at(0.0, 900.0));
/// assert_eq!(way_to(&drain, at(1800.0, 1000.0), FallRule::SquareToDrain), Some(Length::mm(1800.0)));
/// ```
pub fn way_to(drain: &Drain, at: PlanPosition, rule: FallRule) -> Option<Length> {
    let plan = |at: &PlanPosition| [at.x.to_mm(), at.y.to_mm()];
    let outlet = drain.ends()?;
    Some(Length::mm(way(outlet, plan(&at), rule)))
}

fn way(outlet @ [a, b]: [[f64; 2]; 2], at: [f64; 2], rule: FallRule) -> f64 {
    let (dx, dy) = (b[0] - a[0], b[1] - a[1]);
    let long = dx.hypot(dy);
    if rule == FallRule::SquareToDrain && long > 0.0 {
        (dx * (at[1] - a[1]) - dy * (at[0] - a[0])).abs() / long
    } else {
        from_segment(outlet, at)
    }
}

fn length([a, b]: [[f64; 2]; 2]) -> f64 {
    (b[0] - a[0]).hypot(b[1] - a[1])
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(x: f64, y: f64) -> PlanPosition {
        PlanPosition { x: Length::mm(x), y: Length::mm(y) }
    }

    #[test]
    fn a_level_edge_has_one_height_and_an_even_one_as_many_as_ways() {
        let room = [at(0.0, 0.0), at(1200.0, 0.0), at(1200.0, 900.0), at(0.0, 900.0)];
        let drain = Drain::Point(at(600.0, 450.0));
        let of = |edge: Edge| perimeter_marks(&room, &drain, edge, FallRule::Path, Length::mm(400.0));
        let level = of(Edge::Level(Length::mm(18.0)));
        // Stops at 0, 400, 800 and 1200 on the long walls, at 0, 400, 800 and 900 on the short ones.
        assert_eq!(level.len(), 16);
        assert!(level.iter().all(|mark| mark.height == Length::mm(18.0)));
        let even = of(Edge::Even(Slope::one_in(50.0)));
        assert!((even[0].height.to_mm() - 15.0).abs() < 1e-9, "750 to the corner");
        assert!(even.iter().all(|mark| mark.height == Slope::one_in(50.0).times(mark.way)));
    }

    #[test]
    fn odd_outlines_and_spacings_stop_somewhere() {
        let of = |corners: &[PlanPosition], spacing: f64| {
            let drain = Drain::Point(at(0.0, 0.0));
            perimeter_marks(corners, &drain, Edge::Level(Length::ZERO), FallRule::Path, Length::mm(spacing)).len()
        };
        assert_eq!(of(&[], 300.0), 0);
        assert_eq!(of(&[at(5.0, 5.0)], 300.0), 0);
        assert_eq!(of(&[at(0.0, 0.0), at(1e6, 0.0), at(0.0, 1e6)], -1.0), 6);
        assert!(of(&[at(0.0, 0.0), at(1e6, 0.0), at(0.0, 1e6)], 1e-3) < 700);
    }
}
