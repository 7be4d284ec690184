//! The strips that make up what a joist hangs below the target.

use super::settings::StripStops;
use super::target::Target;
use crate::joists::{Joist, Profile};
use crate::units::Length;

/// One continuous strip: where it lies on the joist and how thick it is at its ends and at every reading between.
#[derive(Debug, Clone, PartialEq)]
pub struct Strip {
    /// (place from the door wall, thickness), the nearest first.
    pub figures: Vec<(Length, Length)>,
}

impl Strip {
    /// Where it begins, from the door wall.
    pub fn from(&self) -> Length {
        self.figures.first().map_or(Length::ZERO, |figure| figure.0)
    }

    /// Where it ends.
    pub fn to(&self) -> Length {
        self.figures.last().map_or(Length::ZERO, |figure| figure.0)
    }
}

/// Two lengths this close, in mm, are one.
const SAME: f64 = 1e-6;

/// The strips of a joist: one over every stretch on which the lift is at least the least worth making.
pub(super) fn strips(joist: &Joist, profile: &Profile, target: &Target, stops: &StripStops) -> Vec<Strip> {
    let lift = profile.map(|y, z| target.mm(joist.x.to_mm(), y) - z);
    let least = stops.least.to_mm();
    let strip = |from: f64, to: f64| {
        let inner = lift.points().iter().filter(|(y, _)| from < *y && *y < to).copied();
        let end = |y: f64| (y, lift.at(y).map_or(least, |thickness| thickness.max(least)));
        let ends = if to > from { vec![end(to)] } else { vec![] };
        let places = [end(from)].into_iter().chain(inner).chain(ends);
        Strip { figures: places.map(|(y, thickness)| (Length::mm(y), Length::mm(thickness))).collect() }
    };
    lift.stretches(least - SAME).iter().map(|stretch| strip(stretch.from, stretch.to)).collect()
}
