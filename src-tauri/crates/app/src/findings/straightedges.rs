//! The straightedge laid along every line: the gap it shows, and what can be said of it.

use super::Judging;
use super::lines::Line;
use crate::wire::*;

/// One finding for each line that could be tested at a rule's reach; one for all that could not.
pub(super) fn findings(_judging: &Judging<'_>, _lines: &[Line<'_>], _rule: &str) -> Vec<Finding> {
    Vec::new()
}

impl Line<'_> {
    /// Where a straightedge of a length rests on the plan when it shows most.
    pub(super) fn bar_on_plan(&self, _judging: &Judging<'_>, _length: f64) -> Option<((f64, f64), (f64, f64))> {
        None
    }

    /// The line as the Findings screen draws it.
    pub(super) fn profile(&self, _judging: &Judging<'_>) -> Profile {
        let point = |point: &super::lines::LinePoint<'_>| ProfilePoint {
            point: point.point.id.clone(),
            s: point.s,
            z: point.z,
        };
        Profile {
            name: self.name.clone(),
            along: self.along,
            points: self.points.iter().map(point).collect(),
            bar: None,
        }
    }
}
