//! Where on the plan a drain may go: between the joists, where the floor can fall, within reach of its trap.

use crate::drainage::{Drain, FallLimits};
use crate::level_perimeter::{LevelPerimeter, level_perimeter};
use crate::point::PlanPosition;
use crate::units::Length;

/// What a drain has to keep to.
#[derive(Debug, Clone, PartialEq)]
pub struct DrainSite {
    pub corners: Vec<PlanPosition>,
    /// The centrelines of the joists, across the direction in which they run.
    pub joists: Vec<Length>,
    /// Whether the joists run along x, so that their centrelines are heights of y.
    pub joists_along_x: bool,
    pub joist_thickness: Length,
    pub hole: Length,
    /// Between the hole and a joist.
    pub clearance: Length,
    /// How wide the trough of a line drain is that hangs below the tops of the joists; absent where it does not.
    pub trough: Option<Length>,
    pub falls: FallLimits,
    /// Where the pipe goes down or is vented, and how long the arm from the trap to it may be.
    pub trap: Option<(PlanPosition, Length)>,
}

/// What stands against a drain at a place.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Bar {
    /// Its hole reaches over a wall.
    Wall,
    /// Its hole meets this joist, or comes nearer to it than it may.
    Joist(usize),
    /// Its trough hangs below the tops of the joists and meets this one, or comes nearer to it than it may.
    Trough(usize),
    /// No level perimeter keeps both limits of the fall.
    Fall,
    /// Its trap arm would be too long.
    Trap,
}

/// What a drain at a place comes to.
#[derive(Debug, Clone, PartialEq)]
pub struct Placed {
    pub bars: Vec<Bar>,
    /// What a level edge asks; `None` where the drain lies on the edge.
    pub perimeter: Option<LevelPerimeter>,
    /// How long the trap arm would be, straight.
    pub trap_arm: Option<Length>,
}

/// What stands against a drain: its hole at `at`, the floor falling to `drain`.
///
/// A point drain is its own hole. A line drain's floor falls to its line and its hole is at its outlet.
///
/// # Source
/// Common practice: never cut a joist for a drain; the farthest times the least fall may not exceed the nearest times
/// the greatest. The plumbing code sets the trap arm.
///
/// ```
/// use survey::PlanPosition;
/// use survey::drain_window::{Bar, DrainSite, placed};
/// use survey::drainage::{Drain, FallLimits, FallRule};
/// use survey::units::{Length, Slope};
/// let inches = Length::inches;
/// let at = |x: f64, y: f64| PlanPosition { x: inches(x), y: inches(y) };
/// let site = DrainSite {
///     corners: vec![at(0.0, 0.0), at(60.0, 0.0), at(60.0, 36.0), at(0.0, 36.0)],
///     joists: vec![inches(0.0), inches(16.0), inches(32.0)],
///     joists_along_x: true,
///     joist_thickness: inches(1.5),
///     hole: inches(4.5),
///     clearance: inches(0.25),
///     trough: None,
///     falls: FallLimits { minimum: Slope::one_in(48.0), maximum: Slope::one_in(24.0), rule: FallRule::Path },
///     trap: None,
/// };
/// // Over the joist at 16; beside it the near wall becomes too steep.
/// let of = |y: f64| placed(&site, at(30.0, y), &Drain::Point(at(30.0, y))).bars;
/// assert_eq!(of(18.0), [Bar::Joist(1)]);
/// assert_eq!(of(19.25), [Bar::Fall]);
/// ```
pub fn placed(site: &DrainSite, at: PlanPosition, drain: &Drain) -> Placed {
    let mut bars = Vec::new();
    if !within(site, at) {
        bars.push(Bar::Wall);
    }
    bars.extend(joists_met(site, at).into_iter().map(Bar::Joist));
    bars.extend(joists_under(site, drain).into_iter().map(Bar::Trough));
    let perimeter = level_perimeter(&site.corners, drain, site.falls);
    if perimeter.is_some_and(|edge| !edge.is_possible()) {
        bars.push(Bar::Fall);
    }
    let trap_arm = site.trap.map(|(stack, _)| Length::mm((at.x - stack.x).to_mm().hypot((at.y - stack.y).to_mm())));
    if site.trap.zip(trap_arm).is_some_and(|((_, most), arm)| !arm.at_most(most)) {
        bars.push(Bar::Trap);
    }
    Placed { bars, perimeter, trap_arm }
}

/// The least that the whole shower moves across the joists, by furring a wall out, for its hole to clear them; positive
/// toward the greater coordinate. Nothing where it clears already; `None` where
/// it clears nowhere.
///
/// # Source
/// Common practice: the drain stays in the middle of its shower, and the shower moves.
///
/// ```
/// use survey::PlanPosition;
/// use survey::drain_window::{DrainSite, slide};
/// use survey::drainage::{FallLimits, FallRule};
/// use survey::units::{Length, Slope};
/// let inches = Length::inches;
/// let site = DrainSite {
///     corners: vec![],
///     joists: vec![inches(0.0), inches(16.0), inches(32.0)],
///     joists_along_x: true,
///     joist_thickness: inches(1.5),
///     hole: inches(4.5),
///     clearance: inches(0.25),
///     trough: None,
///     falls: FallLimits { minimum: Slope::one_in(48.0), maximum: Slope::one_in(24.0), rule: FallRule::Path },
///     trap: None,
/// };
/// let found = slide(&site, PlanPosition { x: inches(30.0), y: inches(18.0) }).unwrap();
/// assert!((found.to_inches() - 1.25).abs() < 1e-9, "an inch and a quarter: a 2x on the wall is an inch and a half");
/// ```
pub fn slide(site: &DrainSite, at: PlanPosition) -> Option<Length> {
    if joists_met(site, at).is_empty() {
        return Some(Length::ZERO);
    }
    let across = if site.joists_along_x { at.y } else { at.x };
    let away = (site.hole + site.joist_thickness) / 2.0 + site.clearance;
    let to = site.joists.iter().flat_map(|joist| [*joist - away, *joist + away]);
    let moved = |to: Length| match site.joists_along_x {
        true => PlanPosition { y: to, ..at },
        false => PlanPosition { x: to, ..at },
    };
    let clear = to.filter(|to| joists_met(site, moved(*to)).is_empty()).map(|to| to - across);
    clear.min_by(|one, other| one.abs().to_mm().total_cmp(&other.abs().to_mm()))
}

/// Whether the hole lies inside the walls: its middle, and four places of its edge.
fn within(site: &DrainSite, at: PlanPosition) -> bool {
    let corners: Vec<[f64; 2]> = site.corners.iter().map(|corner| [corner.x.to_mm(), corner.y.to_mm()]).collect();
    let Some(outline) = crate::boundary::Boundary::new(&corners) else { return false };
    let half = site.hole.to_mm() / 2.0;
    let (x, y) = (at.x.to_mm(), at.y.to_mm());
    [(0.0, 0.0), (half, 0.0), (-half, 0.0), (0.0, half), (0.0, -half)]
        .iter()
        .all(|(dx, dy)| outline.holds_or_touches([x + dx, y + dy]))
}

/// The joists that the hole comes nearer to than it may, by index.
fn joists_met(site: &DrainSite, at: PlanPosition) -> Vec<usize> {
    let across = if site.joists_along_x { at.y } else { at.x };
    let away = (site.hole + site.joist_thickness) / 2.0 + site.clearance;
    let met = |joist: &Length| !(across - *joist).abs().at_least(away);
    site.joists.iter().enumerate().filter(|(_, joist)| met(joist)).map(|(k, _)| k).collect()
}

/// The joists that the trough of a line drain meets or comes nearer to than it may, by index.
fn joists_under(site: &DrainSite, drain: &Drain) -> Vec<usize> {
    let (Some(wide), Drain::Line(from, to)) = (site.trough, drain) else { return Vec::new() };
    let of = |at: &PlanPosition| if site.joists_along_x { (at.y, at.x) } else { (at.x, at.y) };
    let ((from_across, from_along), (to_across, to_along)) = (of(from), of(to));
    let run = (to_across - from_across).to_mm().hypot((to_along - from_along).to_mm());
    // Its width counts across the joists only as far as it runs along them.
    let along = if run > 0.0 { (to_along - from_along).abs().to_mm() / run } else { 1.0 };
    let away = (wide * along + site.joist_thickness) / 2.0 + site.clearance;
    let (low, high) = (from_across.min(to_across), from_across.max(to_across));
    let met = |joist: &Length| !(low - *joist).at_least(away) && !(*joist - high).at_least(away);
    site.joists.iter().enumerate().filter(|(_, joist)| met(joist)).map(|(k, _)| k).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drainage::FallRule;
    use crate::units::Slope;

    fn at(x: f64, y: f64) -> PlanPosition {
        PlanPosition { x: Length::mm(x), y: Length::mm(y) }
    }

    fn site() -> DrainSite {
        DrainSite {
            corners: vec![at(0.0, 0.0), at(900.0, 0.0), at(900.0, 900.0), at(0.0, 900.0)],
            joists: vec![Length::mm(250.0), Length::mm(700.0)],
            joists_along_x: false,
            joist_thickness: Length::mm(45.0),
            hole: Length::mm(110.0),
            clearance: Length::mm(6.0),
            trough: None,
            falls: FallLimits {
                minimum: Slope::one_in(80.0),
                maximum: Slope::one_in(50.0),
                rule: FallRule::SquareToDrain,
            },
            trap: Some((at(450.0, 0.0), Length::mm(700.0))),
        }
    }

    #[test]
    fn each_bar_is_named() {
        let of = |x: f64, y: f64| placed(&site(), at(x, y), &Drain::Point(at(x, y))).bars;
        assert_eq!(of(450.0, 450.0), []);
        assert_eq!(of(300.0, 450.0), [Bar::Joist(0), Bar::Fall]);
        assert_eq!(of(450.0, 40.0), [Bar::Wall, Bar::Fall]);
        assert_eq!(of(450.0, 800.0), [Bar::Fall, Bar::Trap]);
        assert_eq!(of(2000.0, 2000.0)[0], Bar::Wall, "a drain outside the room");
    }

    #[test]
    fn a_line_along_a_wall_asks_nothing_of_the_edge() {
        let line = Drain::Line(at(0.0, 0.0), at(900.0, 0.0));
        let found = placed(&site(), at(450.0, 60.0), &line);
        assert_eq!((found.bars, found.perimeter), (vec![], None));
        assert_eq!(found.trap_arm, Some(Length::mm(60.0)));
        assert_eq!(placed(&DrainSite { corners: vec![], ..site() }, at(450.0, 60.0), &line).bars, [Bar::Wall]);
    }

    #[test]
    fn a_trough_below_the_tops_meets_the_joists_under_it() {
        let hung = DrainSite { trough: Some(Length::mm(90.0)), trap: None, ..site() };
        // Across both joists; along them at x = 450, free; along them 60 from the first, 73.5 being asked.
        let across = Drain::Line(at(0.0, 0.0), at(900.0, 0.0));
        let along = |x: f64| Drain::Line(at(x, 0.0), at(x, 900.0));
        let of = |drain: &Drain| placed(&hung, at(450.0, 60.0), drain).bars;
        assert_eq!(of(&across), [Bar::Trough(0), Bar::Trough(1)]);
        assert_eq!(of(&along(450.0)), []);
        assert_eq!(of(&along(310.0)), [Bar::Trough(0)]);
        assert_eq!(of(&along(250.0 + 73.5)), [], "just clear");
        assert_eq!(placed(&site(), at(450.0, 60.0), &across).bars, [], "a trough that fits in the floor");
    }
}
