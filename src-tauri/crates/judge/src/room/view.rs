//! A room as the screens show it.

use crate::forms::*;
use crate::room::closing;
use crate::room::point_heights::height_of;
use crate::room::rules::Figures;
use crate::room::{current_readings, latest_by_point};
use std::collections::HashMap;

/// A room as the screens show it; `undo` is the change that can be undone.
pub fn view(file: RoomFile, undo: Option<UndoView>) -> RoomView {
    let surveys = file.plan.surveys.iter().map(|survey| survey_view(&file, survey)).collect();
    let figures = Figures::of(&file.rules);
    let standing = file.setups.iter().filter(|setup| !setup.withdrawn);
    let setups = standing.map(|setup| setup_view(setup, &figures)).collect();
    RoomView {
        doubled: crate::room::doubled::doubled(&file),
        surveys,
        setups,
        gate: crate::room::framing_check::views(&file),
        decision: file.rules.decision.unwrap_or(Decision::Guarded),
        tile: file.rules.tile.clone(),
        plan: (!file.plan.surveys.is_empty()).then_some(file.plan),
        room: file.room,
        approvals: file.approvals.into_iter().filter(|approval| !approval.withdrawn).collect(),
        layers: file.layers,
        works: file.works,
        target: file.target,
        done: file.done,
        undo,
        head: None,
        archived: false,
    }
}

fn setup_view(setup: &Setup, figures: &Figures) -> SetupView {
    let closing_error = closing::error(setup);
    let closes = closing_error.map(|error| closing::verdict(error, figures));
    SetupView { setup: setup.clone(), closing_error, closes }
}

fn survey_view(file: &RoomFile, survey: &Survey) -> SurveyView {
    let readings = latest_by_point(file);
    let corrected = corrections(file);
    let edges = edges(file);
    let points: Vec<PointView> = file
        .plan
        .points
        .iter()
        .filter(|point| point.survey == survey.id)
        .map(|point| PointView {
            edges: edges.get(point.id.as_str()).cloned().unwrap_or_default(),
            ..point_view(file, point, readings.get(point.id.as_str()).copied(), &corrected)
        })
        .collect();
    SurveyView {
        id: survey.id.clone(),
        name: survey.name.clone(),
        surface: survey.surface,
        read: points.iter().filter(|point| point.reading.is_some()).count() as u32,
        next: points.iter().find(|point| point.reading.is_none()).map(|point| point.id.clone()),
        points,
    }
}

fn point_view(
    file: &RoomFile,
    point: &PlanPoint,
    reading: Option<&Reading>,
    corrected: &HashMap<&str, u32>,
) -> PointView {
    PointView {
        id: point.id.clone(),
        x: point.x,
        y: point.y,
        joist: point.joist.clone(),
        edges: Vec::new(),
        station: if file.plan.joists_along == Axis::Y { point.y } else { point.x },
        reading: reading.map(|reading| ReadingView {
            id: reading.id.clone(),
            setup: reading.setup.clone(),
            sense: reading.sense,
            entered: reading.entered.clone(),
            value: reading.value,
            z: height_of(file, reading),
            sd_mm: reading.sd_mm,
            at: reading.at.clone(),
            source: reading.source.clone(),
            corrections: corrected.get(point.id.as_str()).copied().unwrap_or(0),
        }),
    }
}

/// The readings in force that were taken on one edge, by their point.
fn edges(file: &RoomFile) -> HashMap<&str, Vec<EdgeReading>> {
    let mut all: HashMap<&str, Vec<EdgeReading>> = HashMap::new();
    for reading in current_readings(file) {
        let Some(edge) = &reading.edge else { continue };
        let read = EdgeReading { edge: edge.clone(), reading: reading.id.clone(), entered: reading.entered.clone() };
        all.entry(reading.point.as_str()).or_default().push(read);
    }
    all
}

fn corrections(file: &RoomFile) -> HashMap<&str, u32> {
    let mut counts = HashMap::new();
    for reading in file.readings.iter().filter(|reading| reading.supersedes.is_some()) {
        *counts.entry(reading.point.as_str()).or_insert(0) += 1;
    }
    counts
}
