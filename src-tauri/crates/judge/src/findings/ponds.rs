//! Where water would stand on a floor that should run to its drain.

use super::judging::{Judging, plain};
use crate::forms::WireProblem;
use crate::forms::*;
use crate::room::from_walls::nowhere;
use crate::room::rules::LengthId;
use crate::room::verdict::{decision, verdict};
use survey::PlanPosition;
use survey::contours::bands;
use survey::drainage::{Drainage, Pond};
use survey::units::{Estimate, Length};
use survey::verdict::Maximum;

/// The ponds, deepest first, or that there are none; a problem where the drainage cannot be said.
pub(super) fn findings(judging: &Judging<'_>) -> (Vec<Finding>, Vec<WireProblem>) {
    match judging.drained() {
        Ok(drained) => (told(judging, drained), Vec::new()),
        Err(problem) => (Vec::new(), vec![problem.clone()]),
    }
}

/// Where water stands as it was read: each pond up to the height at which it spills.
pub(super) fn standing(judging: &Judging<'_>) -> Vec<MapPond> {
    if judging.survey.surface != Surface::Fall {
        return Vec::new();
    }
    judging
        .drained()
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
            Finding { value: Some(0.0), subject: String::new(), place: nowhere(), ..found }
        }));
    }
    ponds
}

fn finding(
    judging: &Judging<'_>,
    depth: Estimate<Length>,
    at: &crate::room::point_heights::Height<'_>,
    many: usize,
) -> Finding {
    let mut deepest = Maximum::against(judging.figures.length(LengthId::PondDepth));
    (0..many.max(1)).for_each(|_| deepest.judged(depth, ()));
    let verdict = verdict(deepest.verdict_by(decision(judging.figures.decision())));
    Finding {
        value: Some(depth.value.to_mm()),
        u: Some(depth.u.to_mm()),
        limit: Some(judging.figures.length(LengthId::PondDepth).to_mm()),
        place: judging.at(at.point.x, at.point.y),
        retake: if verdict == Verdict::TooCloseToCall { vec![at.point.id.clone()] } else { Vec::new() },
        ..plain(FindingKind::Pond, &at.point.id, judging.figures.name(LengthId::PondDepth), verdict)
    }
}
