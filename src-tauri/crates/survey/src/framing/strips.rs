//! The strips that make up what a joist hangs below the target.

use super::settings::StripStops;
use super::target::Target;
use crate::joists::{Joist, Profile, Stretch};
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

/// A stretch shorter than this, in mm, is a single station: nothing so short is ripped. Our own choice.
const SINGLE: f64 = 25.4;

/// The strips of a joist: one over every stretch on which the lift is at least the least worth making.
///
/// A single station's reaches halfway to its neighbours, and no farther than where half of it would stand too high.
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
    let own = |stretch: &Stretch| {
        if stretch.to - stretch.from < SINGLE { widened(&lift, stretch, least) } else { (stretch.from, stretch.to) }
    };
    lift.stretches(least - SAME).iter().map(own).map(|(from, to)| strip(from, to)).collect()
}

/// How far what lies at a single station reaches to either side.
fn widened(lift: &Profile, single: &Stretch, least: f64) -> (f64, f64) {
    let here = |y: f64| single.from - SAME <= y && y <= single.to + SAME;
    let halves = lift.stretches(least / 2.0);
    let whole = halves.iter().find(|half| half.from <= single.from + SAME && single.to - SAME <= half.to);
    let (mut from, mut to) = whole.map_or((single.from, single.to), |half| (half.from, half.to));
    for pair in lift.points().windows(2) {
        let [(near, _), (far, _)] = pair else { continue };
        match (here(*near), here(*far)) {
            (false, true) => from = from.max((near + far) / 2.0),
            (true, false) => to = to.min((near + far) / 2.0),
            _ => (),
        }
    }
    (from, to)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::PlanPosition;
    use crate::joists::example::joist;
    use crate::units::Slope;

    const STOPS: StripStops = StripStops {
        least: Length::ZERO,
        sheet_below: Length::ZERO,
        most: Length::ZERO,
        tall: Length::ZERO,
        allow_tall: false,
    };

    /// Where the strips of a joist lie that hangs so many sixteenths below the target at stations 30 in apart.
    fn check(lifts: &[f64], expected: &[(f64, f64)]) {
        let tops: Vec<f64> = lifts.iter().map(|lift| -lift / 16.0).collect();
        let read = lifts.iter().enumerate().map(|(k, lift)| (k as f64 * 30.0 * 25.4, -lift * 25.4 / 16.0));
        let target = Target {
            height: Length::ZERO,
            tilt_x: Slope::ZERO,
            tilt_y: Slope::ZERO,
            centre: PlanPosition { x: Length::ZERO, y: Length::ZERO },
        };
        let stops = StripStops { least: Length::inches(1.0 / 16.0), ..STOPS };
        let found = strips(&joist("J1", 0.0, &tops), &Profile::new(read.collect()), &target, &stops);
        let places: Vec<(f64, f64)> =
            found.iter().map(|strip| (strip.from().to_inches(), strip.to().to_inches())).collect();
        assert_eq!(places.len(), expected.len(), "{places:?}");
        let near = |((from, to), (a, b)): (&(f64, f64), &(f64, f64))| (from - a).abs() < 0.01 && (to - b).abs() < 0.01;
        assert!(places.iter().zip(expected).all(near), "{places:?}");
    }

    #[test]
    fn a_single_station_reaches_halfway_to_its_neighbours() {
        check(&[0.0, 0.0, 1.0, 0.0], &[(45.0, 75.0)]);
        check(&[1.0, 0.0, 0.0, 0.0], &[(0.0, 15.0)]);
        check(&[0.75, 1.0, 0.0, 0.0], &[(15.0, 45.0)]);
        // Toward a place that stands 1/16 too high, only to where half of it would stand over.
        check(&[0.0, 0.0, 1.0, -1.0], &[(45.0, 67.5)]);
    }

    #[test]
    fn a_strip_runs_to_where_it_is_too_thin_to_make() {
        check(&[2.0, 2.0, 0.0, 4.0], &[(0.0, 45.0), (67.5, 90.0)]);
        check(&[0.5, 0.5, 0.5, 0.5], &[]);
    }
}
