//! The floor as read, as flat facets between its readings: for a drawing in three dimensions.

use crate::forms::refusal::{Kind, Refusal};
use crate::forms::*;
use crate::room::point_heights::heights;
use crate::room::surveys::survey_named;
use survey::triangulation::triangulate;
use survey::units::Length;
use survey::{PlanPosition, Point};

/// The facets between the readings of a survey.
///
/// # Errors
/// `not-found` for an unknown survey, `not-ready` where the readings span no surface.
pub fn surface(file: &RoomFile, survey: Option<&str>) -> Result<FloorSurface, Refusal> {
    let survey = survey_named(file, survey)?;
    let points: Vec<Point> = heights(file, &survey.id).iter().map(|height| height.at()).collect();
    let place = |&(x, y): &(f64, f64)| PlanPosition { x: Length::mm(x), y: Length::mm(y) };
    let outline: Vec<PlanPosition> = file.plan.outline.iter().map(place).collect();
    let facets = triangulate(&points, &outline).or_else(|_| triangulate(&points, &[]));
    let facets =
        facets.map_err(|why| Refusal::new(Kind::NotReady, format!("There is no floor to draw yet: {why}.")))?;
    let mm = |point: &Point| (point.x.to_mm(), point.y.to_mm(), point.z.to_mm());
    let index = |triangle: &[usize; 3]| triangle.map(|corner| corner as u32);
    Ok(FloorSurface {
        points: facets.value.points().iter().map(mm).collect(),
        triangles: facets.value.triangles().iter().map(index).map(Into::into).collect(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_hall_bath_is_drawn_whole() {
        let drawn = surface(&crate::demo("kestrel").expect("the demo room"), None).expect("a surface");
        // Seven by four readings: six by three squares of two facets each.
        assert_eq!((drawn.points.len(), drawn.triangles.len()), (28, 36));
        assert!(drawn.triangles.iter().all(|&(a, b, c)| [a, b, c].iter().all(|&k| (k as usize) < 28)));
    }

    #[test]
    fn without_readings_there_is_nothing_to_draw() {
        let mut file = crate::demo("kestrel").expect("the demo room");
        file.readings.clear();
        assert_eq!(surface(&file, None).expect_err("no floor").kind, Kind::NotReady);
    }
}
