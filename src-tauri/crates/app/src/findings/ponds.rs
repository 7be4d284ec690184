//! Where water would stand on a floor that should run to its drain.

use super::framing::{decision, verdict};
use super::{Judging, plain};
use crate::compute::fields::WireProblem;
use crate::wire::*;
use std::cell::OnceCell;
use survey::contours::bands;
use survey::drainage::{Drain as Outlet, Drainage, FallRule, Pond, drainage};
use survey::triangulation::{NoSurface, Triangulation, triangulate};
use survey::units::{Estimate, Length};
use survey::verdict::Maximum;
use survey::{PlanPosition, Point};

/// The surface of a floor and how it drains, each worked out once, when it is first asked for.
#[derive(Default)]
pub(super) struct Water {
    surface: OnceCell<Result<Triangulation, NoSurface>>,
    drained: OnceCell<Result<Drainage, WireProblem>>,
}

/// The ponds, deepest first, or that there are none; a problem where the drainage cannot be said.
pub(super) fn findings(judging: &Judging<'_>) -> (Vec<Finding>, Vec<WireProblem>) {
    match drained(judging) {
        Ok(drained) => (told(judging, drained), Vec::new()),
        Err(problem) => (Vec::new(), vec![problem.clone()]),
    }
}

/// Where water stands as it was read: each pond up to the height at which it spills.
pub(super) fn standing(judging: &Judging<'_>) -> Vec<MapPond> {
    if judging.survey.surface != Surface::Fall {
        return Vec::new();
    }
    drained(judging)
        .as_ref()
        .map_or_else(|_| Vec::new(), |found| found.ponds.iter().map(|it| pond(found, it)).collect())
}

fn pond(drained: &Drainage, pond: &Pond) -> MapPond {
    let is_wet = |triangle: &&[usize; 3]| triangle.iter().any(|corner| pond.vertices.contains(corner));
    let wet: Vec<[usize; 3]> = drained.triangles.iter().filter(is_wet).copied().collect();
    let below = bands(&drained.points, &wet, &[pond.level]).into_iter().next();
    let ring = |ring: &Vec<PlanPosition>| ring.iter().map(|place| (place.x.to_mm(), place.y.to_mm())).collect();
    MapPond {
        polygons: below.map(|band| band.polygons.iter().map(ring).collect()).unwrap_or_default(),
        depth: pond.depth.to_mm(),
    }
}

fn problem(kind: &str, message: String) -> WireProblem {
    WireProblem { kind: kind.to_string(), message, at: None }
}

fn place(&(x, y): &(f64, f64)) -> PlanPosition {
    PlanPosition { x: Length::mm(x), y: Length::mm(y) }
}

/// The surface through the readings of the floor, inside the room's outline where they lie in it.
pub(super) fn surface<'j>(judging: &'j Judging<'_>) -> Result<&'j Triangulation, NoSurface> {
    judging.water.surface.get_or_init(|| laid(judging)).as_ref().map_err(|why| *why)
}

fn laid(judging: &Judging<'_>) -> Result<Triangulation, NoSurface> {
    let points: Vec<Point> = judging.heights.iter().map(|height| height.at()).collect();
    let outline: Vec<PlanPosition> = judging.file.plan.outline.iter().map(place).collect();
    let laid = triangulate(&points, &outline).or_else(|_| triangulate(&points, &[]))?;
    Ok(laid.value)
}

fn outlet(drain: &Drain) -> Outlet {
    match &drain.to {
        Some(to) => Outlet::Line(place(&drain.from), place(to)),
        None => Outlet::Point(place(&drain.from)),
    }
}

/// Every drain of the plan; none if there is none.
pub(super) fn outlets(plan: &Plan) -> Option<Outlet> {
    let first = outlet(plan.drain.as_ref()?);
    Some(match &plan.second_drain {
        Some(second) => Outlet::Several(vec![first, outlet(second)]),
        None => first,
    })
}

fn drained<'j>(judging: &'j Judging<'_>) -> &'j Result<Drainage, WireProblem> {
    judging.water.drained.get_or_init(|| flooded(judging))
}

fn flooded(judging: &Judging<'_>) -> Result<Drainage, WireProblem> {
    let outlet = outlets(&judging.file.plan).ok_or_else(|| {
        let message = "The plan has no drain: put it on the plan, and falls and ponds are judged.";
        problem("no-drain", message.to_string())
    })?;
    let surface = surface(judging)
        .map_err(|why| problem(why.name(), format!("No surface can be laid through the readings: {why}.")))?;
    // Where water stands does not hang on how a fall is measured.
    let limits = survey::drainage::FallLimits { rule: FallRule::Path, ..judging.figures.falls() };
    let found = drainage(surface, &outlet, &[], limits)
        .map_err(|why| problem(why.name(), format!("The way of the water cannot be said: {why}.")))?;
    Ok(found.value)
}

fn told(judging: &Judging<'_>, drained: &Drainage) -> Vec<Finding> {
    let depths = || drained.standing.iter().zip(&judging.heights).filter_map(|(depth, at)| Some(((*depth)?, at)));
    let many = depths().count();
    let mut ponds: Vec<Finding> = drained
        .ponds
        .iter()
        .filter_map(|pond| {
            let under = |index: &usize| Some((*index, drained.standing.get(*index).copied().flatten()?));
            let lowest = pond.vertices.iter().filter_map(under).max_by(|a, b| a.1.to_mm().total_cmp(&b.1.to_mm()))?;
            let height = judging.heights.get(lowest.0)?;
            Some(finding(judging, pond.depth_read_with(judging.sd), height, many))
        })
        .collect();
    ponds.sort_by(|a, b| b.value.unwrap_or(0.0).total_cmp(&a.value.unwrap_or(0.0)));
    if ponds.is_empty() {
        let nearest = depths().max_by(|a, b| a.0.to_mm().total_cmp(&b.0.to_mm()));
        ponds.extend(nearest.map(|(depth, height)| {
            let depth = Estimate::new(depth, judging.sd * 2f64.sqrt());
            let found = finding(judging, depth, height, many);
            Finding { value: Some(0.0), subject: String::new(), place: super::place::nowhere(), ..found }
        }));
    }
    ponds
}

fn finding(judging: &Judging<'_>, depth: Estimate<Length>, at: &crate::heights::Height<'_>, many: usize) -> Finding {
    let mut deepest = Maximum::against(judging.figures.length("pond-depth"));
    (0..many.max(1)).for_each(|_| deepest.judged(depth, ()));
    let verdict = verdict(deepest.verdict_by(decision(judging.figures.decision())));
    Finding {
        value: Some(depth.value.to_mm()),
        u: Some(depth.u.to_mm()),
        limit: Some(judging.figures.mm("pond-depth")),
        place: judging.at(at.point.x, at.point.y),
        retake: if verdict == Verdict::TooCloseToCall { vec![at.point.id.clone()] } else { Vec::new() },
        ..plain(FindingKind::Pond, &at.point.id, judging.figures.name("pond-depth"), verdict)
    }
}
