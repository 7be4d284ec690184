//! How much the floor rises in the doorway.

use super::{Doorway, Target};
use crate::PlanPosition;
use crate::joists::Grid;
use crate::units::Length;

/// The rise of the target over the joist tops at each jamb, up positive; `None` where the first station is unread.
pub(super) fn door_rise(grid: &Grid, target: &Target, doorway: Option<Doorway>) -> Vec<Option<Length>> {
    let (Some(doorway), Some(first)) = (doorway, grid.stations.first()) else { return Vec::new() };
    let rise = |x: Length| top_at(grid, x).map(|top| target.at(PlanPosition { x, y: *first }) - top);
    vec![rise(doorway.from), rise(doorway.to)]
}

/// The larger of the rises that are known.
pub(super) fn larger(rises: &[Option<Length>]) -> Option<Length> {
    rises.iter().flatten().copied().reduce(Length::max)
}

/// The height of the joist tops at `x` along the first station: straight between the two joists around it, or on from
/// the nearest two where it lies outside them.
fn top_at(grid: &Grid, x: Length) -> Option<Length> {
    let mut joists: Vec<_> = grid.joists.iter().map(|joist| (joist.x, joist.top(0))).collect();
    joists.sort_by(|one, other| one.0.to_mm().total_cmp(&other.0.to_mm()));
    if let Some((_, top)) = joists.iter().find(|(at, _)| (*at - x).abs().at_most(Length::ZERO)) {
        return *top;
    }
    joists.dedup_by(|next, kept| (next.0 - kept.0).abs().at_most(Length::ZERO));
    let behind = joists.iter().position(|(at, _)| *at > x).unwrap_or(joists.len());
    let first = behind.saturating_sub(1).min(joists.len().saturating_sub(2));
    let [(near, near_top), (far, far_top)] = joists.get(first..first + 2)? else { return None };
    let share = (x - *near).ratio_to(*far - *near).to_f64();
    Some((*near_top)? * (1.0 - share) + (*far_top)? * share)
}

#[cfg(test)]
mod tests {
    use super::super::target::Target;
    use super::*;
    use crate::joists::example::grid;

    fn check(x: f64, expected: Option<f64>) {
        let mut grid = grid(&[&[0.0], &[1.0], &[3.0], &[9.0]]);
        grid.joists[3].tops[0] = None;
        let target = Target::level(&grid, 254.0);
        let doorway = Doorway { from: Length::inches(x), to: Length::inches(0.0) };
        let rise = door_rise(&grid, &target, Some(doorway));
        let rise = rise[0].map(|rise| (rise.to_inches() * 1e9).round() / 1e9);
        assert_eq!(rise, expected, "{x}");
    }

    #[test]
    fn between_on_and_outside_the_joists() {
        check(16.0, Some(9.0));
        check(24.0, Some(8.0));
        check(-16.0, Some(11.0));
        check(32.0, Some(7.0));
        check(40.0, None);
        check(64.0, None);
    }

    #[test]
    fn one_joist_says_nothing_beside_itself() {
        let grid = grid(&[&[0.0]]);
        assert_eq!(top_at(&grid, Length::inches(1.0)), None);
        assert_eq!(top_at(&grid, Length::ZERO), Some(Length::ZERO));
    }
}
