//! How much water the floor holds before it crosses the entry, and how long that lasts.

use super::edge::Edge;
use super::entry::on_entry;
use super::floor::Floor;
use crate::finish::pour::outline_area;
use crate::forms::*;
use crate::room::point_heights::Height;
use survey::bed::Shape;
use survey::hold::{Hold, designed, holds};
use survey::triangulation::triangulate;
use survey::units::{Duration, Length, Ratio};

/// By the readings, where the entry was read; else by the design.
pub(super) fn hold(floor: &Floor<'_>, plan: &FallPlan, edge: &Edge) -> Option<HoldView> {
    floor.file.plan.entry?;
    let read = as_read(floor);
    let held = read.unwrap_or_else(|| {
        let shape = if floor.drain.to.is_some() { Shape::ToALine } else { Shape::ToAPoint };
        designed(shape, outline_area(&floor.file.plan.outline), Length::mm(edge.rise))
    });
    let lasts = plan.flow.and_then(|flow| held.lasts(Ratio::of(flow)));
    Some(HoldView {
        as_read: read.is_some(),
        volume: held.volume.to_litres(),
        deepest: held.deepest.to_mm(),
        minutes: lasts.map(|time| Duration::to_seconds(time) / 60.0),
    })
}

fn as_read(floor: &Floor<'_>) -> Option<Hold> {
    let (_, heights, entry) = on_entry(floor)?;
    let points: Vec<survey::Point> = heights.iter().map(Height::at).collect();
    let surface = triangulate(&points, &floor.corners).or_else(|_| triangulate(&points, &[])).ok()?;
    if entry.is_empty() { None } else { holds(&surface.value, &entry).ok() }
}
