//! How far up from its drain to its level edge a floor stands at a place between the two.

use crate::drainage::Drain;
use crate::point::PlanPosition;
use crate::units::{Length, Ratio};

/// The share of the whole rise that a floor has at a place: 0 at the drain or nearer than `off` to it, 1 at the edge.
///
/// The floor is taken as straight from the drain to the edge, along the straight way through the place. `None` outside
/// the edge and for a drain of readings.
///
/// # Units
/// `off` is what lies between the drain's centre and where the floor begins: half its grate.
///
/// # Source
/// Geometry of a level perimeter (common practice).
///
/// ```
/// use survey::PlanPosition;
/// use survey::drainage::Drain;
/// use survey::rise_share::rise_share;
/// use survey::units::Length;
/// let at = |x: f64, y: f64| PlanPosition { x: Length::inches(x), y: Length::inches(y) };
/// let tray = [at(0.0, 0.0), at(60.0, 0.0), at(60.0, 36.0), at(0.0, 36.0)];
/// let drain = Drain::Point(at(30.0, 18.0));
/// let share = rise_share(&tray, &drain, Length::inches(2.0), at(30.0, 10.0)).unwrap();
/// assert!((share.to_f64() - 6.0 / 16.0).abs() < 1e-12);
/// ```
pub fn rise_share(corners: &[PlanPosition], drain: &Drain, off: Length, at: PlanPosition) -> Option<Ratio> {
    let plan = |at: &PlanPosition| [at.x.to_mm(), at.y.to_mm()];
    let outlet = drain.ends()?;
    let corners: Vec<[f64; 2]> = corners.iter().map(plan).collect();
    share(&corners, outlet, off.to_mm(), plan(&at)).map(Ratio::of)
}

fn share(corners: &[[f64; 2]], outlet: [[f64; 2]; 2], off: f64, at: [f64; 2]) -> Option<f64> {
    let from = foot(outlet, at);
    let (dx, dy) = (at[0] - from[0], at[1] - from[1]);
    let away = dx.hypot(dy);
    if away <= off.max(0.0) || away == 0.0 {
        return Some(0.0);
    }
    let wall = beyond(corners, from, [dx / away, dy / away], away)?;
    Some(if wall <= off { 1.0 } else { ((away - off) / (wall - off)).clamp(0.0, 1.0) })
}

/// The place of a segment nearest to another place.
fn foot([a, b]: [[f64; 2]; 2], at: [f64; 2]) -> [f64; 2] {
    let t = crate::boundary::along_segment([a, b], at).clamp(0.0, 1.0);
    [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])]
}

/// How far the first wall lies on a way, no nearer than `least`.
fn beyond(corners: &[[f64; 2]], from: [f64; 2], way: [f64; 2], least: f64) -> Option<f64> {
    let walls = (0..corners.len()).map(|k| [corners[k], corners[(k + 1) % corners.len()]]);
    let met = walls.filter_map(|wall| meets(wall, from, way)).filter(|met| *met >= least - 1e-6);
    met.min_by(f64::total_cmp)
}

/// How far along a way a wall is met.
fn meets([a, b]: [[f64; 2]; 2], from: [f64; 2], way: [f64; 2]) -> Option<f64> {
    let (ex, ey) = (b[0] - a[0], b[1] - a[1]);
    let across = way[0] * ey - way[1] * ex;
    let (ax, ay) = (a[0] - from[0], a[1] - from[1]);
    let (far, along) = ((ax * ey - ay * ex) / across, (ax * way[1] - ay * way[0]) / across);
    (across.abs() > 1e-12 && (-1e-9..=1.0 + 1e-9).contains(&along) && far >= 0.0).then_some(far)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn at(x: f64, y: f64) -> PlanPosition {
        PlanPosition { x: Length::mm(x), y: Length::mm(y) }
    }

    fn tray() -> [PlanPosition; 4] {
        [at(0.0, 0.0), at(1800.0, 0.0), at(1800.0, 900.0), at(0.0, 900.0)]
    }

    #[test]
    fn from_a_line_along_a_wall_the_rise_is_even() {
        let drain = Drain::Line(at(0.0, 0.0), at(0.0, 900.0));
        let check = |x: f64, y: f64, share: f64| {
            let found = rise_share(&tray(), &drain, Length::ZERO, at(x, y)).map(Ratio::to_f64);
            assert!(found.is_some_and(|found| (found - share).abs() < 1e-9), "{x} {y}: {found:?}");
        };
        check(0.0, 450.0, 0.0);
        check(900.0, 100.0, 0.5);
        check(1800.0, 900.0, 1.0);
    }

    #[test]
    fn outside_the_edge_there_is_no_floor() {
        let drain = Drain::Point(at(900.0, 450.0));
        assert_eq!(rise_share(&tray(), &drain, Length::ZERO, at(900.0, 901.0)), None);
        assert_eq!(rise_share(&[], &drain, Length::ZERO, at(900.0, 500.0)), None);
        assert_eq!(rise_share(&tray(), &Drain::Vertices(vec![1]), Length::ZERO, at(900.0, 500.0)), None);
    }

    proptest! {
        #[test]
        fn a_share_is_a_share(x in -10.0f64..1900.0, y in -10.0f64..1000.0, off in 0.0f64..200.0) {
            let drain = Drain::Point(at(700.0, 300.0));
            let found = rise_share(&tray(), &drain, Length::mm(off), at(x, y)).map_or(0.0, Ratio::to_f64);
            prop_assert!((0.0..=1.0).contains(&found));
        }
    }
}
