//! Before and after: the same places read twice.

use crate::forms::refusal::Refusal;
use crate::forms::*;
use crate::room::point_heights::{Height, heights};
use crate::room::surveys::survey_named;
use survey::plane;
use survey::units::Length;
use survey::{PlanPosition, Point};

/// Places this close, mm, are the same.
const SAME_PLACE: f64 = 1.0;

/// What reading alone exceeds one time in twenty, in standard deviations.
const REAL: f64 = 1.959_963_984_540_054;

/// What changed between two surveys of a room.
///
/// # Errors
/// `not-found` for an unknown survey.
pub fn comparison(file: &RoomFile, before: &str, after: &str) -> Result<Comparison, Refusal> {
    let (before, after) = (survey_named(file, Some(before))?, survey_named(file, Some(after))?);
    let (old, new) = (heights(file, &before.id), heights(file, &after.id));
    let changes: Vec<PointChange> =
        new.iter().filter_map(|new| old.iter().find(|old| is_same(old, new)).map(|old| change(old, new))).collect();
    Ok(Comparison {
        before: before.id.clone(),
        after: after.id.clone(),
        unmatched: (old.len() + new.len()).saturating_sub(2 * changes.len()) as u32,
        changes,
        range_before: range(&old),
        range_after: range(&new),
    })
}

fn is_same(old: &Height<'_>, new: &Height<'_>) -> bool {
    (old.point.x - new.point.x).hypot(old.point.y - new.point.y) <= SAME_PLACE
}

fn change(old: &Height<'_>, new: &Height<'_>) -> PointChange {
    let change = (new.z - old.z).to_mm();
    let u = old.sd.to_mm().hypot(new.sd.to_mm());
    PointChange {
        point: new.point.id.clone(),
        x: new.point.x,
        y: new.point.y,
        before: old.z.to_mm(),
        after: new.z.to_mm(),
        change,
        u,
        is_real: change.abs() > REAL * u,
    }
}

/// Highest less lowest over the plane through all.
fn range(heights: &[Height<'_>]) -> Option<f64> {
    let points: Vec<Point> = heights.iter().map(Height::at).collect();
    let plane = plane::best_fit(&points).ok()?;
    let over = points.iter().map(|point| point.z - plane.height_at(PlanPosition { x: point.x, y: point.y }));
    let (low, high) = (over.clone().reduce(Length::min)?, over.reduce(Length::max)?);
    Some((high - low).to_mm())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::room::current_readings;

    /// The hall bath read again after J6 was sistered up by half an inch.
    fn read_again(raised: f64) -> RoomFile {
        let mut file = crate::demo("kestrel").expect("the demo room");
        file.plan.surveys.push(Survey { id: "after".into(), name: "after".into(), surface: Surface::Framing });
        let points: Vec<PlanPoint> = file.plan.points.clone();
        for point in points {
            let id = format!("{}'", point.id);
            let up = if point.joist.as_deref() == Some("J6") { raised } else { 0.0 };
            let known = current_readings(&file).find(|reading| reading.point == point.id).cloned();
            let again = known.map(|reading| Reading {
                id: format!("{}'", reading.id),
                point: id.clone(),
                value: reading.value - up,
                supersedes: None,
                ..reading
            });
            file.readings.extend(again);
            file.plan.points.push(PlanPoint { id, survey: "after".into(), ..point });
        }
        file
    }

    #[test]
    fn what_was_raised_is_found_and_nothing_else() {
        let file = read_again(12.7);
        let before = file.plan.surveys[0].id.clone();
        let found = comparison(&file, &before, "after").expect("a comparison");
        assert_eq!((found.changes.len(), found.unmatched), (28, 0));
        let real: Vec<&str> = found.changes.iter().filter(|one| one.is_real).map(|one| one.point.as_str()).collect();
        assert_eq!(real, ["J6@0'", "J6@30'", "J6@60'", "J6@90'"]);
        assert!(found.changes.iter().all(|one| one.is_real == (one.change - 12.7).abs().lt(&1e-9)));
        assert!(found.range_after < found.range_before);
    }

    #[test]
    fn a_change_that_reading_alone_would_show_is_not_real() {
        let file = read_again(1.0);
        let before = file.plan.surveys[0].id.clone();
        let found = comparison(&file, &before, "after").expect("a comparison");
        assert!(found.changes.iter().all(|one| !one.is_real));
    }
}
