//! The joists of a survey as a grid: joists across, stations along.

use crate::forms::{Axis, Joist, JoistKind, RoomFile};
use crate::framing::doorway;
use crate::room::framing_check;
use crate::room::point_heights::Height;
use crate::room::rules::{Figures, FlagId, LengthId, NumberId, SlopeId};
use survey::framing::{Cost, Doorway, Dress, Settings, StripStops};
use survey::guard::{Approval, Member, MemberKind};
use survey::joists;
use survey::units::Length;

/// Two stations closer than this are one.
pub const SAME_STATION: f64 = 0.001;

/// The place of a point along the joists.
pub fn station(axis: Axis, x: f64, y: f64) -> f64 {
    if axis == Axis::Y { y } else { x }
}

/// The stations of a survey's points on joists, nearest first.
pub fn stations(file: &RoomFile, survey: &str) -> Vec<f64> {
    let on_joists = file.plan.points.iter().filter(|point| point.survey == survey && point.joist.is_some());
    let mut all: Vec<f64> = on_joists.map(|point| station(file.plan.joists_along, point.x, point.y)).collect();
    all.sort_by(f64::total_cmp);
    all.dedup_by(|a, b| (*a - *b).abs() <= SAME_STATION);
    all
}

/// The joists of the plan from the side wall on, each with its tops by station.
pub fn grid(file: &RoomFile, survey: &str, heights: &[Height<'_>], u: Length) -> joists::Grid {
    let stations = stations(file, survey);
    let mut in_order: Vec<&Joist> = file.plan.joists.iter().collect();
    in_order.sort_by(|a, b| a.at.total_cmp(&b.at));
    let joists = in_order.into_iter().map(|joist| grid_joist(file, joist, &stations, heights)).collect();
    joists::Grid { stations: stations.into_iter().map(Length::mm).collect(), joists, u }
}

fn grid_joist(file: &RoomFile, joist: &Joist, stations: &[f64], heights: &[Height<'_>]) -> joists::Joist {
    let axis = file.plan.joists_along;
    let at = |s: f64| {
        heights.iter().find(|height| {
            let point = height.point;
            point.joist.as_deref() == Some(&joist.id) && (station(axis, point.x, point.y) - s).abs() <= SAME_STATION
        })
    };
    let read: Vec<Option<&Height<'_>>> = stations.iter().map(|&s| at(s)).collect();
    let edges = |read: &Option<&Height<'_>>| read.and_then(|height| height.edges);
    joists::Joist {
        id: joist.id.clone(),
        x: Length::mm(joist.at),
        tops: read.iter().map(|height| edges(height).map(|(one, _)| one).or(height.map(|height| height.z))).collect(),
        other_edge: read.iter().map(|height| edges(height).map(|(_, other)| other)).collect(),
        member: member(joist),
        sound: framing_check::sound(file, &joist.id, joist.sound),
        approval: approval(file, &joist.id),
    }
}

/// The joist as the guard knows it.
pub fn member(joist: &Joist) -> Member {
    Member {
        kind: match joist.kind {
            JoistKind::Sawn => MemberKind::Sawn,
            JoistKind::Engineered => MemberKind::Engineered,
            JoistKind::Unknown => MemberKind::Unknown,
        },
        depth: Length::mm(joist.depth),
        span: Length::mm(joist.span),
        first_bearing: Length::mm(joist.first_bearing),
    }
}

/// The approval last recorded for a joist and not taken back.
fn approval(file: &RoomFile, joist: &str) -> Option<Approval> {
    let standing = file.approvals.iter().rev().find(|approval| approval.joist == joist && !approval.withdrawn)?;
    Some(Approval { depth: Length::mm(standing.depth), from: Length::mm(standing.from), to: Length::mm(standing.to) })
}

/// What the framing plan is made to in this room.
pub fn settings(file: &RoomFile, figures: &Figures, height: Option<f64>) -> Settings {
    let doorway = file.plan.doorway.as_ref();
    Settings {
        strip: StripStops {
            least: figures.length(LengthId::StripLeast),
            sheet_below: figures.length(LengthId::StripSheetBelow),
            most: figures.length(LengthId::StripMost),
            tall: figures.length(LengthId::StripTall),
            allow_tall: figures.flag(FlagId::StripTallAllowed),
        },
        dress: Dress { most: figures.length(LengthId::DressMost) },
        sag_ratio: figures.ratio(NumberId::SagRatio),
        doorway: doorway.map(|door| Doorway { from: Length::mm(door.from), to: Length::mm(door.to) }),
        door_budget: doorway::budget(file).map(Length::mm),
        height: height.map(Length::mm),
        max_tilt: figures.slope(SlopeId::MaxTilt),
        wet_room: figures.flag(FlagId::WetRoom),
        cost: Cost {
            strip: figures.ratio(NumberId::CostStrip),
            strip_mm: figures.ratio(NumberId::CostStripMm),
            sister: figures.ratio(NumberId::CostSister),
            dress: figures.ratio(NumberId::CostDress),
            door_mm: figures.ratio(NumberId::CostDoorMm),
        },
    }
}
