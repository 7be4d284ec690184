//! From readings to heights: which way is up, over which datum, how surely.

use crate::forms::{PlanPoint, Reading, RoomFile, Sense};
use crate::room::current_readings;
use std::collections::BTreeMap;
use survey::Point;
use survey::units::{Length, Ratio};

/// The height of one place, from all the readings in force there.
#[derive(Debug, Clone)]
pub struct Height<'f> {
    pub point: &'f PlanPoint,
    /// Over the room datum; where two edges of a joist were read, the higher one.
    pub z: Length,
    pub sd: Length,
    /// The heights of both edges, where both were read.
    pub edges: Option<(Length, Length)>,
}

impl Height<'_> {
    pub fn at(&self) -> Point {
        Point { x: Length::mm(self.point.x), y: Length::mm(self.point.y), z: self.z }
    }
}

/// The height over the datum that a reading gives; none for gaps, tilts, and readings whose set-up is gone.
pub fn height_of(file: &RoomFile, reading: &Reading) -> Option<f64> {
    let setup = file.setups.iter().find(|setup| setup.id == reading.setup && !setup.withdrawn)?;
    match reading.sense {
        Sense::Down => Some(setup.benchmark.height + setup.opening.mm - reading.value),
        Sense::Up => Some(reading.value),
        Sense::Gap | Sense::Tilt => None,
    }
}

/// The heights of a survey's points in walking order; points not read are left out.
pub fn heights<'f>(file: &'f RoomFile, survey: &str) -> Vec<Height<'f>> {
    let mut by_point: BTreeMap<&str, Vec<&Reading>> = BTreeMap::new();
    for reading in current_readings(file) {
        by_point.entry(reading.point.as_str()).or_default().push(reading);
    }
    let points = file.plan.points.iter().filter(|point| point.survey == survey);
    points.filter_map(|point| height_at(file, point, by_point.get(point.id.as_str())?)).collect()
}

fn height_at<'f>(file: &'f RoomFile, point: &'f PlanPoint, readings: &[&Reading]) -> Option<Height<'f>> {
    let mut by_edge: BTreeMap<&str, Vec<&Reading>> = BTreeMap::new();
    for reading in readings {
        by_edge.entry(reading.edge.as_deref().unwrap_or_default()).or_default().push(reading);
    }
    let edges: Vec<(Length, Length)> = by_edge.values().filter_map(|readings| mean(file, readings)).collect();
    let &(z, sd) = edges.iter().max_by(|a, b| a.0.to_mm().total_cmp(&b.0.to_mm()))?;
    let both = match edges.as_slice() {
        [(left, _), (right, _)] => Some((*left, *right)),
        _ => None,
    };
    Some(Height { point, z, sd, edges: both })
}

/// The mean of repeated readings and its standard uncertainty; none where no reading gives a height.
fn mean(file: &RoomFile, readings: &[&Reading]) -> Option<(Length, Length)> {
    let all: Vec<(f64, f64)> =
        readings.iter().filter_map(|reading| Some((height_of(file, reading)?, reading.sd_mm))).collect();
    let n = all.len() as f64;
    if all.is_empty() {
        return None;
    }
    let z = all.iter().map(|(z, _)| z).sum::<f64>() / n;
    let variance = all.iter().map(|(_, sd)| sd * sd).sum::<f64>() / (n * n);
    Some((Length::mm(z), Length::mm(variance.sqrt())))
}

/// The standard uncertainty that stands for all the heights: the root of the mean variance.
pub fn pooled_sd(heights: &[Height<'_>]) -> Length {
    let n = Ratio::of(heights.len().max(1) as f64).to_f64();
    let mean = heights.iter().map(|height| height.sd.to_mm().powi(2)).sum::<f64>() / n;
    Length::mm(mean.sqrt())
}
