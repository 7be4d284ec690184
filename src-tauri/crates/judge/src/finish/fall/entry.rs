//! Whether the entry line is level: as marked, and as read.

use super::edge::lies_on;
use super::floor::Floor;
use crate::forms::*;
use crate::room::point_heights::{Height, heights, pooled_sd};
use crate::room::rules::LengthId;
use crate::room::verdict::{decision, verdict};
use survey::units::{Estimate, Length};
use survey::verdict::Maximum;

/// Whether the marks of the entry wall stand at one height.
pub(super) fn marks_level(walls: &[FallWall]) -> bool {
    let marks = walls.iter().filter(|wall| wall.entry).flat_map(|wall| &wall.marks);
    let (low, high) = marks
        .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), mark| (low.min(mark.height), high.max(mark.height)));
    high - low < 1e-6 || high < low
}

/// The heights of a floor that falls that were read on its entry line.
pub(super) fn on_entry<'f>(floor: &Floor<'f>) -> Option<(&'f Survey, Vec<Height<'f>>, Vec<usize>)> {
    let line = floor.file.plan.entry?;
    let survey = floor.survey()?;
    let heights = heights(floor.file, &survey.id);
    let on = |height: &Height<'_>| lies_on(line, (height.point.x, height.point.y));
    let at = heights.iter().enumerate().filter(|(_, height)| on(height)).map(|(k, _)| k).collect();
    Some((survey, heights, at))
}

/// How level the entry was laid; none with fewer than two readings on it.
pub(super) fn as_read(floor: &Floor<'_>) -> Option<EntryLevel> {
    let (_, heights, at) = on_entry(floor)?;
    let read: Vec<&Height<'_>> = at.iter().filter_map(|&k| heights.get(k)).collect();
    let by_z = |a: &&&Height<'_>, b: &&&Height<'_>| a.z.to_mm().total_cmp(&b.z.to_mm());
    let (highest, lowest) = (read.iter().max_by(by_z)?, read.iter().min_by(by_z)?);
    if read.len() < 2 {
        return None;
    }
    let limit = floor.figures.length(LengthId::EntryLevel);
    let u = pooled_sd(&heights) * 2f64.sqrt();
    let mut worst = Maximum::against(limit);
    for (k, one) in read.iter().enumerate() {
        read[k + 1..].iter().for_each(|other| worst.judged(Estimate::new((one.z - other.z).abs(), u), ()));
    }
    Some(EntryLevel {
        points: read.iter().map(|height| height.point.id.clone()).collect(),
        highest: highest.point.id.clone(),
        lowest: lowest.point.id.clone(),
        difference: (highest.z - lowest.z).to_mm(),
        u: Length::to_mm(u),
        limit: limit.to_mm(),
        verdict: verdict(worst.verdict_by(decision(floor.figures.decision()))),
        rule: floor.figures.name(LengthId::EntryLevel),
    })
}

impl<'f> Floor<'f> {
    /// The survey of the floor that falls.
    pub(super) fn survey(&self) -> Option<&'f Survey> {
        self.file.plan.surveys.iter().rfind(|survey| survey.surface == Surface::Fall)
    }
}
