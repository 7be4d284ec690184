//! Where another reading tells most.

use crate::forms::refusal::Refusal;
use crate::forms::*;
use crate::reading::expected_reading::{over_plane, spacing};
use crate::room::from_walls::from_walls;
use crate::room::joist_grid;
use crate::room::point_heights::{Height, heights, pooled_sd};
use crate::room::rules::Figures;
use crate::room::surveys::survey_named;
use survey::surface::{self, Between};
use survey::units::Length;
use survey::{PlanPosition, Point};

/// At most so many places are named, and so many between readings looked at.
const MOST: usize = 3;
const PLACES: usize = 900;

/// Places this close to a reading, as a share of the spacing, are read already.
const NEAR: f64 = 0.3;

/// The places of a survey where another reading tells most.
///
/// # Errors
/// `not-found` for an unknown survey.
pub fn next_readings(file: &RoomFile, survey: Option<&str>) -> Result<NextReadings, Refusal> {
    let survey = survey_named(file, survey)?;
    let heights = heights(file, &survey.id);
    let read: Vec<Point> = heights.iter().map(|height| height.at()).collect();
    let unread: Vec<&PlanPoint> = file
        .plan
        .points
        .iter()
        .filter(|point| point.survey == survey.id && !heights.iter().any(|height| height.point.id == point.id))
        .collect();
    let candidates: Vec<Candidate<'_>> = match unread.as_slice() {
        [] if survey.surface == Surface::Framing => on_joists(file, &heights),
        [] => between(&read),
        some => some.iter().map(|point| on_plan(point)).collect(),
    };
    let places = Candidates { file, read: &read, sd: pooled_sd(&heights), survey }.ranked(&candidates);
    Ok(NextReadings { places })
}

#[derive(Clone, Copy)]
struct Candidate<'f> {
    point: Option<&'f PlanPoint>,
    joist: Option<&'f str>,
    at: (f64, f64),
}

struct Candidates<'f> {
    file: &'f RoomFile,
    read: &'f [Point],
    sd: Length,
    survey: &'f Survey,
}

impl Candidates<'_> {
    fn ranked(&self, candidates: &[Candidate<'_>]) -> Vec<NextPlace> {
        let Some(found) = self.known(candidates) else {
            let first = candidates.first().filter(|candidate| candidate.point.is_some());
            return first.map(|first| self.place(Advice::Unread, first, None)).into_iter().collect();
        };
        let mut order: Vec<usize> = (0..candidates.len()).collect();
        let sd = |k: usize| found.0.get(k).map_or(0.0, |sd| sd.to_mm());
        order.sort_by(|&a, &b| sd(b).total_cmp(&sd(a)));
        let mut chosen: Vec<usize> = Vec::new();
        for k in order {
            let apart = |other: &usize| distance(candidates, *other, k) > 2.0 * NEAR * spacing(self.read);
            if chosen.len() < MOST - 1 && chosen.iter().all(apart) {
                chosen.push(k);
            }
        }
        let mut places: Vec<NextPlace> = chosen
            .iter()
            .filter_map(|&k| candidates.get(k).map(|one| self.place(self.why(one), one, Some(sd(k)))))
            .collect();
        let undecided = found.1.filter(|k| !chosen.contains(k)).and_then(|k| Some((candidates.get(k)?, sd(k))));
        places.extend(undecided.map(|(one, sd)| self.place(Advice::Undecided, one, Some(sd))));
        places
    }

    /// How well the floor is known at each place, and where it is least decided whether it stands too high.
    fn known(&self, candidates: &[Candidate<'_>]) -> Option<(Vec<Length>, Option<usize>)> {
        // The plane is taken off first: what is asked is how the floor departs from one even slope.
        let (_, over, waves) = over_plane(self.read, self.sd)?;
        let place = |x: f64, y: f64| PlanPosition { x: Length::mm(x), y: Length::mm(y) };
        let at: Vec<PlanPosition> = candidates.iter().map(|one| place(one.at.0, one.at.1)).collect();
        let figures = Figures::of(&self.file.rules);
        let limit = figures.straightedges(self.survey.surface).map(|[long, _]| figures.length(long));
        let found = surface::heights(&over, &at, Between::Kriging(waves), limit).ok()?.value;
        Some((found.sd?, found.next_reading.and_then(|next| next.most_undecided)))
    }

    fn why(&self, candidate: &Candidate<'_>) -> Advice {
        if candidate.point.is_some() { Advice::Unread } else { Advice::LeastKnown }
    }

    fn place(&self, why: Advice, candidate: &Candidate<'_>, sd_mm: Option<f64>) -> NextPlace {
        NextPlace {
            why,
            point: candidate.point.map(|point| point.id.clone()),
            joist: candidate.joist.map(str::to_string),
            at: candidate.at,
            from_walls: from_walls(&self.file.plan, candidate.at),
            sd_mm,
        }
    }
}

fn distance(candidates: &[Candidate<'_>], a: usize, b: usize) -> f64 {
    match (candidates.get(a), candidates.get(b)) {
        (Some(a), Some(b)) => (a.at.0 - b.at.0).hypot(a.at.1 - b.at.1),
        _ => 0.0,
    }
}

fn on_plan(point: &PlanPoint) -> Candidate<'_> {
    Candidate { point: Some(point), joist: point.joist.as_deref(), at: (point.x, point.y) }
}

/// Places halfway between two readings of one joist: between the joists there is nothing to read.
fn on_joists<'f>(file: &'f RoomFile, heights: &[Height<'f>]) -> Vec<Candidate<'f>> {
    let along = |height: &&Height<'_>| joist_grid::station(file.plan.joists_along, height.point.x, height.point.y);
    let halfway = |joist: &'f Joist| {
        let on = |height: &&Height<'f>| height.point.joist.as_deref() == Some(joist.id.as_str());
        let mut read: Vec<&Height<'f>> = heights.iter().filter(on).collect();
        read.sort_by(|a, b| along(a).total_cmp(&along(b)));
        let pairs: Vec<(f64, f64)> = read
            .windows(2)
            .filter_map(|pair| match pair {
                [a, b] => Some(((a.point.x + b.point.x) / 2.0, (a.point.y + b.point.y) / 2.0)),
                _ => None,
            })
            .collect();
        pairs.into_iter().map(|at| Candidate { point: None, joist: Some(&joist.id), at })
    };
    file.plan.joists.iter().flat_map(halfway).collect()
}

/// Places between the readings, on an even grid over them.
fn between<'f>(read: &[Point]) -> Vec<Candidate<'f>> {
    let range = |of: fn(&Point) -> f64| {
        let all = read.iter().map(of);
        (all.clone().fold(f64::INFINITY, f64::min), all.fold(f64::NEG_INFINITY, f64::max))
    };
    let ((left, right), (top, bottom)) = (range(|point| point.x.to_mm()), range(|point| point.y.to_mm()));
    let step = (spacing(read) / 2.0).max(((right - left) * (bottom - top) / PLACES as f64).sqrt());
    if !step.is_finite() || step <= 0.0 {
        return Vec::new();
    }
    let along = |from: f64, to: f64| {
        let count = ((to - from) / step).floor().max(0.0) as usize;
        (0..=count).map(move |k| from + (to - from) * k as f64 / count.max(1) as f64)
    };
    let clear =
        |x: f64, y: f64| read.iter().all(|point| (point.x.to_mm() - x).hypot(point.y.to_mm() - y) > NEAR * step);
    along(left, right)
        .flat_map(|x| along(top, bottom).map(move |y| (x, y)))
        .filter(|&(x, y)| clear(x, y))
        .map(|at| Candidate { point: None, joist: None, at })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use survey::units::INCH_MM;

    #[test]
    fn a_floor_read_through_is_advised_between_its_readings() {
        let file = crate::demo("kestrel").expect("the demo room");
        let places = next_readings(&file, None).expect("advice").places;
        assert!(!places.is_empty() && places.len() <= MOST);
        assert!(places.iter().all(|place| place.point.is_none() && place.why != Advice::Unread));
        assert!(places.iter().all(|place| place.joist.is_some()), "there is nothing to read between joists");
        assert!(places.iter().all(|place| place.sd_mm.is_some_and(|sd| sd > 0.0)));
    }

    #[test]
    fn what_is_on_the_plan_and_unread_comes_first() {
        let mut file = crate::demo("kestrel").expect("the demo room");
        file.readings.retain(|reading| reading.point != "J7@90" && reading.point != "J4@60");
        let places = next_readings(&file, None).expect("advice").places;
        // The corner hangs free; the one in the middle is held by its neighbours.
        assert_eq!(places.first().and_then(|place| place.point.as_deref()), Some("J7@90"));
        assert_eq!(places.first().map(|place| place.why), Some(Advice::Unread));
    }

    #[test]
    fn what_is_undecided_is_so_by_the_tile_of_the_room() {
        let floor = |longest_edge: f64, large_long: Option<f64>| {
            let mut file = crate::demo("kestrel").expect("the demo room");
            file.plan.surveys.iter_mut().for_each(|survey| survey.surface = Surface::Floor);
            file.rules.tile = Some(Tile { name: String::new(), longest_edge, joint: None });
            file.rules.changed.extend(large_long.map(|limit| ("tile-large-long".to_string(), limit)));
            next_readings(&file, None).expect("advice").places
        };
        let small = floor(300.0, None);
        assert_eq!(small, floor(600.0, Some(INCH_MM / 4.0)), "a quarter of an inch either way");
        assert_ne!(small, floor(600.0, None));
    }

    #[test]
    fn before_anything_is_read_the_first_point_is_next() {
        let mut file = crate::demo("kestrel").expect("the demo room");
        file.readings.clear();
        let places = next_readings(&file, None).expect("advice").places;
        assert_eq!(places.first().and_then(|place| place.point.as_deref()), Some("J1@0"));
    }
}
