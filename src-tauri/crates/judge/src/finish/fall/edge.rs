//! How high the edge of a floor stands over its drain, and the marks that set it out.

use super::floor::Floor;
use crate::finish::build_up::{design, drop_of};
use crate::forms::WireProblem;
use crate::forms::*;
use crate::room::positions::position;
use survey::drainage::FallRule;
use survey::level_perimeter::{LevelPerimeter, level_perimeter};
use survey::perimeter_marks::{self, WallMark, perimeter_marks, way_to};
use survey::units::{INCH_MM, Length};

/// The kind of the problem that the drain touches the edge.
pub(crate) const DRAIN_AT_EDGE: &str = "drain-at-edge";

/// An edge as it is planned.
pub(super) struct Edge {
    pub(super) shape: EdgeShape,
    pub(super) rise: f64,
    /// What it asks: of an even floor at its farthest corner alone.
    pub(super) perimeter: LevelPerimeter,
}

impl Floor<'_> {
    /// The edge of a plan, and what keeps it from being level.
    pub(super) fn edge(&self, plan: &FallPlan) -> (Edge, Vec<WireProblem>) {
        let level = level_perimeter(&self.corners, &self.outlet, self.limits);
        let shape = if level.is_none() { EdgeShape::Even } else { plan.edge };
        let perimeter = level.filter(|_| shape == EdgeShape::Level).unwrap_or_else(|| self.even());
        let layers = self.file.layers.as_ref().map(drop_of).filter(|drop| *drop > 0.0);
        let off = self.off(plan.origin);
        let seen = less(perimeter, off, self);
        let middle = (seen.needs + seen.allows) / 2.0;
        let edge = Edge { shape, rise: plan.rise.or(layers).unwrap_or(middle.to_mm()), perimeter };
        let message = "The drain touches the edge, which cannot be level there: the floor is laid as one plane.";
        let told = shape != plan.edge;
        let problem = WireProblem { kind: DRAIN_AT_EDGE.to_string(), message: message.to_string(), at: None };
        (edge, if told { vec![problem] } else { Vec::new() })
    }

    /// What an even floor asks at its farthest corner.
    fn even(&self) -> LevelPerimeter {
        let ways = self.corners.iter().filter_map(|corner| way_to(&self.outlet, *corner, self.limits.rule));
        let far = ways.fold(Length::ZERO, Length::max);
        LevelPerimeter {
            nearest: far,
            farthest: far,
            needs: self.limits.minimum.times(far),
            allows: self.limits.maximum.times(far),
        }
    }

    /// What lies between the drain's centre and where the floor begins.
    fn off(&self, origin: Origin) -> f64 {
        match origin {
            Origin::Centre => 0.0,
            Origin::Rim => self.drain.grate.unwrap_or(0.0) / 2.0,
        }
    }

    /// The fall from each origin, the one that was chosen first.
    pub(super) fn designs(&self, plan: &FallPlan, edge: &Edge) -> Vec<FallDesign> {
        let rim = self.drain.grate.is_some().then_some(Origin::Rim);
        let mut origins: Vec<Origin> = [Some(Origin::Centre), rim].into_iter().flatten().collect();
        origins.sort_by_key(|origin| *origin != plan.origin);
        origins.into_iter().map(|one| design(&edge.perimeter, one, self.off(one), edge.rise, &self.figures)).collect()
    }

    /// Every wall with its marks, a foot or 300 mm apart.
    pub(super) fn walls(&self, edge: &Edge) -> Vec<FallWall> {
        let spacing = if self.file.room.units == Units::In { 12.0 * INCH_MM } else { 300.0 };
        let rise = Length::mm(edge.rise);
        let shape = match edge.shape {
            EdgeShape::Level => perimeter_marks::Edge::Level(rise),
            EdgeShape::Even => perimeter_marks::Edge::Even(rise.over(edge.perimeter.farthest)),
        };
        let marks = perimeter_marks(&self.corners, &self.outlet, shape, self.rule(), Length::mm(spacing));
        let outline = &self.file.plan.outline;
        (0..outline.len()).map(|wall| self.wall(wall, &marks)).collect()
    }

    /// A point drain has no line to be square to.
    fn rule(&self) -> FallRule {
        if self.drain.to.is_some() { self.limits.rule } else { FallRule::Path }
    }

    fn wall(&self, wall: usize, marks: &[WallMark]) -> FallWall {
        let outline = &self.file.plan.outline;
        let (from, to) = (outline[wall], outline[(wall + 1) % outline.len()]);
        let told = |mark: &WallMark| FallMark {
            along: mark.along.to_mm(),
            height: mark.height.to_mm(),
            way: mark.way.to_mm(),
        };
        FallWall {
            from,
            to,
            length: (to.0 - from.0).hypot(to.1 - from.1),
            entry: self.file.plan.entry.is_some_and(|(a, b)| lies_on((from, to), a) && lies_on((from, to), b)),
            marks: marks.iter().filter(|mark| mark.wall == wall).map(told).collect(),
        }
    }
}

/// The same seen from the rim of the drain.
fn less(perimeter: LevelPerimeter, off: f64, floor: &Floor<'_>) -> LevelPerimeter {
    let (near, far) = (perimeter.nearest - Length::mm(off), perimeter.farthest - Length::mm(off));
    LevelPerimeter {
        nearest: near,
        farthest: far,
        needs: floor.limits.minimum.times(far),
        allows: floor.limits.maximum.times(near),
    }
}

/// A place this near to a wall lies on it.
pub(super) const ON_WALL: f64 = 5.0;

/// Whether a place lies on a wall or an entry line.
pub(super) fn lies_on((from, to): ((f64, f64), (f64, f64)), at: (f64, f64)) -> bool {
    let line = survey::drainage::Drain::Line(position(&from), position(&to));
    way_to(&line, position(&at), FallRule::Path).is_some_and(|away| away.to_mm() <= ON_WALL)
}
