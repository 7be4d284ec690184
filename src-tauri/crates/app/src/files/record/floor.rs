//! The map and the profiles of the sheets.

use super::findable::Findable;
use crate::forms::*;
use judge::words;
use report::model;
use survey::PlanPosition;
use survey::units::Length;

fn at((x, y): (f64, f64)) -> PlanPosition {
    PlanPosition { x: Length::mm(x), y: Length::mm(y) }
}

fn ring(places: &[(f64, f64)]) -> Vec<PlanPosition> {
    places.iter().copied().map(at).collect()
}

pub(super) fn map(findable: &Findable<'_>) -> Option<model::Map> {
    let map = &findable.findings.map;
    if map.bands.is_empty() {
        return None;
    }
    let read = map.points.iter().filter(|point| point.z.is_some());
    Some(model::Map {
        caption: "The floor as found, seen from above.".to_string(),
        reference: "high and low of the middle reading".to_string(),
        outline: map.outline.iter().copied().map(at).collect(),
        walls: model::Walls { base: findable.file.plan.base_wall.clone(), side: findable.file.plan.side_wall.clone() },
        bands: map.bands.iter().map(|band| model_band(findable, band)).collect(),
        ponds: map.ponds.iter().flat_map(|pond| &pond.polygons).map(|places| ring(places)).collect(),
        joists: map
            .joists
            .iter()
            .map(|joist| model::JoistLine { name: joist.name.clone(), from: at(joist.from), to: at(joist.to) })
            .collect(),
        openings: openings(&findable.file.plan),
        spots: map.marks.iter().map(|mark| spot(findable, mark)).collect(),
        straightedge: straightedge(findable),
        readings: read.map(|point| at((point.x, point.y))).collect(),
    })
}

fn model_band(findable: &Findable<'_>, band: &MapBand) -> model::Band {
    let say = findable.say;
    let figure = match (band.from, band.to) {
        (from, to) if from < 0.0 && to > 0.0 => "level with the middle reading".to_string(),
        (from, to) if from >= 0.0 => format!("{} to {} high", say.bare(from), say.bare(to)),
        (from, to) => format!("{} to {} low", say.bare(-to), say.bare(-from)),
    };
    model::Band {
        from: Length::mm(band.from),
        to: Length::mm(band.to),
        figure,
        rings: band.polygons.iter().map(|places| ring(places)).collect(),
    }
}

fn openings(plan: &Plan) -> Vec<model::Opening> {
    let lowest = plan.outline.iter().map(|corner| corner.1).fold(f64::INFINITY, f64::min);
    let door = plan.doorway.as_ref().filter(|_| plan.joists_along == Axis::Y).map(|door| model::Opening {
        name: "doorway".to_string(),
        from: at((door.from, lowest)),
        to: at((door.to, lowest)),
    });
    let entry =
        plan.entry.map(|(from, to)| model::Opening { name: "entry line".to_string(), from: at(from), to: at(to) });
    door.into_iter().chain(entry).collect()
}

fn spot(findable: &Findable<'_>, mark: &Mark) -> model::Spot {
    let from = |k: usize| mark.from_walls.get(k).map(|wall| findable.say.length(wall.distance)).unwrap_or_default();
    model::Spot {
        side: if mark.high { model::Side::High } else { model::Side::Low },
        at: at((mark.x, mark.y)),
        amount: findable.say.bare(mark.amount),
        name: mark.name.clone(),
        from_side: from(0),
        from_base: from(1),
    }
}

/// The bar that shows most, where it rests.
fn straightedge(findable: &Findable<'_>) -> Option<model::Straightedge> {
    let bar = findable.findings.map.bar.as_ref()?;
    let finding = findable.findings.findings.iter().find(|finding| {
        matches!(finding.kind, FindingKind::StraightedgeAlong | FindingKind::StraightedgeAcross)
            && finding.subject == bar.name
    })?;
    Some(model::Straightedge {
        sentence: words::finding(finding, findable.say),
        from: at(bar.from),
        to: at(bar.to),
        supports: vec![at(bar.from), at(bar.to)],
        gap_at: at(finding.place.point?),
    })
}

/// Every joist seen from the side; for other floors every line along.
pub(super) fn profiles(findable: &Findable<'_>) -> Option<model::Profiles> {
    let along: Vec<model::Profile> =
        findable.findings.profiles.iter().filter(|profile| profile.along).map(|line| profile(findable, line)).collect();
    if along.is_empty() {
        return None;
    }
    let caption = format!("heights over the datum, {}, up is positive", findable.say.unit());
    let on_joists = !findable.findings.map.joists.is_empty();
    let title = if on_joists { "Along the joists" } else { "Along the lines" }.to_string();
    Some(model::Profiles { title, caption, joists: along })
}

fn profile(findable: &Findable<'_>, line: &Profile) -> model::Profile {
    let name = line.name.strip_prefix("along ").unwrap_or(&line.name).to_string();
    let own = findable
        .findings
        .findings
        .iter()
        .find(|finding| finding.kind == FindingKind::CrownOrSag && finding.subject == name);
    let mark = |point: &str| findable.findings.map.marks.iter().find(|mark| is_at(findable, mark, point));
    let point = |point: &ProfilePoint| {
        Some(model::ProfilePoint {
            station: Length::mm(point.s),
            height: Length::mm(point.z?),
            figure: findable.say.bare(point.z?),
            spot: mark(&point.point).map(|mark| if mark.high { model::Side::High } else { model::Side::Low }),
        })
    };
    let sentence = own.map(|finding| words::finding(finding, findable.say)).unwrap_or_default();
    model::Profile { points: line.points.iter().filter_map(point).collect(), sentence, name }
}

fn is_at(findable: &Findable<'_>, mark: &Mark, point: &str) -> bool {
    let here = findable.findings.map.points.iter().find(|known| known.id == point);
    here.is_some_and(|here| (here.x - mark.x).abs() < 0.5 && (here.y - mark.y).abs() < 0.5)
}
