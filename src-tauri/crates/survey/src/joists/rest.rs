//! What each reading is of the plane that most of the joists share, so that the odd joists are seen.

use super::{Departure, Grid, Joist};
use crate::plane::{Plane, best_fit};
use crate::units::Length;
use crate::{Analysis, PlanPosition, Point, Problem, ProblemKind};

/// Heights by station.
type Heights = Vec<Option<Length>>;

/// For each joist and station the height over the shared plane, up positive; empty where there is none to speak of.
///
/// The plane is that of all readings of the joists whose own departure is at most `straight`; with fewer than two such
/// joists, of all readings.
pub(super) fn of_the_rest(grid: &Grid, own: &[Option<Departure>], straight: Length) -> Analysis<Vec<Heights>> {
    let calm = |own: &Option<Departure>| own.is_none_or(|own| own.value.value.abs().at_most(straight));
    let read = |joist: &Joist| (0..grid.stations.len()).any(|station| joist.top(station).is_some());
    let mut among: Vec<bool> = grid.joists.iter().zip(own).map(|(joist, own)| read(joist) && calm(own)).collect();
    if among.iter().filter(|calm| **calm).count() < 2 {
        among.iter_mut().for_each(|among| *among = true);
    }
    let plane = best_fit(&readings(grid, &among));
    let none = |why| Problem::new(ProblemKind::NoSharedPlane, format!("The joists share no plane: {why}."));
    let problems = plane.as_ref().err().map(none).into_iter().collect();
    let value = grid.joists.iter().map(|joist| departures(grid, joist, plane.as_ref().ok())).collect();
    Analysis { value, problems }
}

fn departures(grid: &Grid, joist: &Joist, plane: Option<&Plane>) -> Heights {
    let over = |(k, y): (usize, &Length)| {
        let place = PlanPosition { x: joist.x, y: *y };
        plane.zip(joist.top(k)).map(|(plane, z)| z - plane.height_at(place))
    };
    grid.stations.iter().enumerate().map(over).collect()
}

fn readings(grid: &Grid, among: &[bool]) -> Vec<Point> {
    let joists = grid.joists.iter().zip(among).filter(|(_, among)| **among).map(|(joist, _)| joist);
    let of_joist = |joist: &Joist| {
        let read =
            grid.stations.iter().enumerate().filter_map(|(k, y)| joist.top(k).map(|z| Point { x: joist.x, y: *y, z }));
        read.collect::<Vec<_>>()
    };
    joists.flat_map(of_joist).collect()
}
