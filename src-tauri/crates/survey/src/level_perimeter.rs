//! Whether a floor with a level edge can fall to its drain at all, said before anything is mixed.

use crate::boundary::from_segment;
use crate::drainage::{Drain, FallLimits, FallRule};
use crate::point::PlanPosition;
use crate::units::{Length, Slope};

/// What a level edge asks of the rise above the drain.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LevelPerimeter {
    pub nearest: Length,
    pub farthest: Length,
    /// The least rise the farthest part of the edge needs.
    pub needs: Length,
    /// The greatest rise the nearest part of the edge allows.
    pub allows: Length,
}

impl LevelPerimeter {
    /// Whether any rise does for the whole edge, the limits included.
    pub fn is_possible(self) -> bool {
        self.needs.at_most(self.allows)
    }

    /// The fall to the nearest part of the edge if the farthest has just its least.
    pub fn steepest(self) -> Slope {
        self.needs.over(self.nearest)
    }
}

/// What a level edge asks of a drain inside it: the farthest times the least fall, the nearest times the greatest.
///
/// Along the path, distances run to corners and to the nearest place of each wall; square to the waste they run
/// square to each wall. A drain of readings has no place here: `None`, as for fewer than three corners or a drain
/// that touches the edge, where there is no rise to share.
///
/// # Source
/// A certifier's note (read): 1800 × 900 with one central waste cannot keep 1:80 to 1:50, for 11.25 mm over 450 mm is
/// 1:40.
///
/// ```
/// use survey::drainage::{Drain, FallLimits, FallRule};
/// use survey::level_perimeter::level_perimeter;
/// use survey::units::{Length, Slope};
/// use survey::PlanPosition;
/// let at = |x: f64, y: f64| PlanPosition { x: Length::mm(x), y: Length::mm(y) };
/// let room = [at(0.0, 0.0), at(1800.0, 0.0), at(1800.0, 900.0), at(0.0, 900.0)];
/// let (minimum, maximum) = (Slope::one_in(80.0), Slope::one_in(50.0));
/// let falls = FallLimits { minimum, maximum, rule: FallRule::SquareToDrain };
/// let found = level_perimeter(&room, &Drain::Point(at(900.0, 450.0)), falls).unwrap();
/// assert!(!found.is_possible());
/// assert_eq!(found.needs.to_mm(), 11.25);
/// assert!((found.steepest().to_ratio() - 1.0 / 40.0).abs() < 1e-12);
/// ```
pub fn level_perimeter(corners: &[PlanPosition], drain: &Drain, falls: FallLimits) -> Option<LevelPerimeter> {
    let plan = |at: &PlanPosition| [at.x.to_mm(), at.y.to_mm()];
    let corners: Vec<[f64; 2]> = corners.iter().map(plan).collect();
    let drain = drain.ends()?;
    let walls: Vec<[[f64; 2]; 2]> =
        (0..corners.len()).map(|k| [corners[k], corners[(k + 1) % corners.len()]]).collect();
    let to_walls = walls.iter().map(|&wall| between(wall, drain));
    let to_corners = corners.iter().map(|&corner| from_segment(drain, corner));
    let nearest = to_walls.clone().fold(f64::INFINITY, f64::min);
    let farthest = match falls.rule {
        FallRule::Path => to_corners.fold(0.0, f64::max),
        FallRule::SquareToDrain => walls.iter().map(|&wall| square_to(wall, drain)).fold(0.0, f64::max),
    };
    (corners.len() > 2 && nearest > 0.0).then(|| LevelPerimeter {
        nearest: Length::mm(nearest),
        farthest: Length::mm(farthest),
        needs: falls.minimum.times(Length::mm(farthest)),
        allows: falls.maximum.times(Length::mm(nearest)),
    })
}

/// The least distance between two segments that do not cross.
fn between(wall: [[f64; 2]; 2], drain: [[f64; 2]; 2]) -> f64 {
    let ends = drain.map(|end| from_segment(wall, end)).into_iter();
    ends.chain(wall.map(|end| from_segment(drain, end))).fold(f64::INFINITY, f64::min)
}

/// The distance of a drain from the line of a wall, square to it.
fn square_to([from, to]: [[f64; 2]; 2], drain: [[f64; 2]; 2]) -> f64 {
    let (dx, dy) = (to[0] - from[0], to[1] - from[1]);
    let length = dx.hypot(dy).max(f64::MIN_POSITIVE);
    let away = drain.map(|end| (dx * (end[1] - from[1]) - dy * (end[0] - from[0])).abs() / length);
    away[0].min(away[1])
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(x: f64, y: f64) -> PlanPosition {
        PlanPosition { x: Length::mm(x), y: Length::mm(y) }
    }

    fn room(wide: f64, deep: f64) -> [PlanPosition; 4] {
        [at(0.0, 0.0), at(wide, 0.0), at(wide, deep), at(0.0, deep)]
    }

    #[test]
    fn showers_that_can_and_cannot_fall() {
        let check = |size: (f64, f64), drain: Drain, falls: (f64, f64, FallRule), possible: bool| {
            let limits = FallLimits { minimum: Slope::one_in(falls.0), maximum: Slope::one_in(falls.1), rule: falls.2 };
            let found = level_perimeter(&room(size.0, size.1), &drain, limits).expect("a drain inside");
            assert_eq!(found.is_possible(), possible, "{size:?} {drain:?} {found:?}");
        };
        let (square, path) = (FallRule::SquareToDrain, FallRule::Path);
        check((1800.0, 900.0), Drain::Point(at(900.0, 450.0)), (80.0, 50.0, square), false);
        check((1000.0, 900.0), Drain::Point(at(500.0, 450.0)), (80.0, 50.0, square), true);
        // An invented tray of 60 × 36 in: 34.99 in to the corner and 18 to the wall, 1/4 to 1/2 in per ft: just possible.
        check((1524.0, 914.4), Drain::Point(at(762.0, 457.2)), (48.0, 24.0, path), true);
        // Where one fall is both least and greatest, only a drain as far from every wall does.
        check((900.0, 900.0), Drain::Point(at(450.0, 450.0)), (48.0, 48.0, square), true);
        check((900.0, 900.0), Drain::Point(at(450.0, 450.0)), (48.0, 48.0, path), false);
        check((1800.0, 900.0), Drain::Line(at(400.0, 450.0), at(1400.0, 450.0)), (80.0, 50.0, square), true);
    }

    #[test]
    fn a_drain_at_the_edge_or_of_readings_asks_nothing() {
        let limits = FallLimits { minimum: Slope::one_in(80.0), maximum: Slope::one_in(50.0), rule: FallRule::Path };
        let of = |drain: Drain| level_perimeter(&room(1800.0, 900.0), &drain, limits);
        assert_eq!(of(Drain::Line(at(0.0, 0.0), at(0.0, 900.0))), None);
        assert_eq!(of(Drain::Vertices(vec![0])), None);
        assert_eq!(level_perimeter(&[], &Drain::Point(at(0.0, 0.0)), limits), None);
    }
}
