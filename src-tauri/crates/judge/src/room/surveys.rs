//! Which survey of a room is meant.

use crate::forms::refusal::{Kind, Refusal};
use crate::forms::{RoomFile, Survey};
use crate::room::current_readings;

/// The survey asked for, or the one to show.
pub fn survey_named<'f>(file: &'f RoomFile, asked: Option<&'f str>) -> Result<&'f Survey, Refusal> {
    if let Some(name) = asked.filter(|name| !file.plan.surveys.iter().any(|survey| survey.id == *name)) {
        return Err(Refusal::not_found("survey", name).field("survey"));
    }
    survey_of(file, asked)
        .ok_or_else(|| Refusal::new(Kind::NotReady, "This room has no plan yet. Lay it out, then read its points."))
}

/// The survey asked for, else the one that was read last, else the first.
pub fn survey_of<'f>(file: &'f RoomFile, asked: Option<&'f str>) -> Option<&'f Survey> {
    let last = current_readings(file).last().map(|reading| reading.point.as_str());
    let read_last =
        file.plan.points.iter().find(|point| Some(point.id.as_str()) == last).map(|point| point.survey.as_str());
    let name = asked.or(read_last);
    file.plan.surveys.iter().find(|survey| Some(survey.id.as_str()) == name).or_else(|| file.plan.surveys.first())
}
