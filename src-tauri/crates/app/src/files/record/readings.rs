//! The readings of the sheets, as they were taken, with every correction.

use super::findable::Findable;
use crate::forms::*;
use judge::room::current_readings;
use judge::room::joist_grid;
use report::model::{Cell, ReadingRow, Readings};

/// A table with a row for each joist or line and a column for each station.
pub(super) fn readings(findable: &Findable<'_>) -> Option<Readings> {
    let (file, survey) = (findable.file, findable.findings.survey.as_str());
    let along: Vec<&Profile> = findable.findings.profiles.iter().filter(|profile| profile.along).collect();
    let stations = stations(&along);
    if stations.is_empty() {
        return None;
    }
    let sense = current_readings(file).find(|reading| of_survey(file, reading, survey)).map(|reading| reading.sense);
    let caption = match sense {
        Some(Sense::Up) => format!("up from the datum, {}", findable.say.unit()),
        _ => format!("down from the line: a bigger number is lower, {}", findable.say.unit()),
    };
    Some(Readings {
        caption,
        columns: stations.iter().map(|station| findable.say.bare(*station)).collect(),
        rows: along.iter().map(|line| row(findable, line, &stations)).collect(),
    })
}

fn of_survey(file: &RoomFile, reading: &Reading, survey: &str) -> bool {
    file.plan.points.iter().any(|point| point.id == reading.point && point.survey == survey)
}

fn stations(along: &[&Profile]) -> Vec<f64> {
    let mut all: Vec<f64> = along.iter().flat_map(|line| line.points.iter().map(|point| point.s)).collect();
    all.sort_by(f64::total_cmp);
    all.dedup_by(|a, b| (*a - *b).abs() <= joist_grid::SAME_STATION);
    all
}

fn row(findable: &Findable<'_>, line: &Profile, stations: &[f64]) -> ReadingRow {
    let at = |station: &f64| line.points.iter().find(|point| (point.s - station).abs() <= joist_grid::SAME_STATION);
    let cell = |station: &f64| {
        at(station).map_or(Cell { figure: String::new(), note: None }, |point| cell(findable.file, &point.point))
    };
    let name = line.name.strip_prefix("along ").unwrap_or(&line.name).to_string();
    ReadingRow { name, cells: stations.iter().map(cell).collect() }
}

fn cell(file: &RoomFile, point: &str) -> Cell {
    let here: Vec<&Reading> = current_readings(file).filter(|reading| reading.point == point).collect();
    let figures: Vec<&str> = here.iter().map(|reading| reading.entered.as_str()).collect();
    let corrected = here.iter().filter_map(|reading| reading.supersedes.as_deref());
    let notes: Vec<String> = corrected
        .filter_map(|id| file.readings.iter().find(|reading| reading.id == id))
        .map(|old| format!("{point}: first entered {}, corrected", old.entered))
        .collect();
    Cell { figure: figures.join(" · "), note: (!notes.is_empty()).then(|| notes.join("; ")) }
}
