//! A deck, bed or finished floor judged for the tile that is to lie on it.

use super::lines::Line;
use super::{Judging, straightedges};
use crate::compute::fields::WireProblem;
use crate::wire::Finding;

/// The straightedge at both reaches of the tile's rule.
pub(super) fn findings(judging: &Judging<'_>, lines: &[Line<'_>]) -> (Vec<Finding>, Vec<WireProblem>) {
    let rules = judging.figures.tile_rules(judging.file.rules.tile.as_ref());
    let findings = rules.into_iter().flat_map(|rule| straightedges::findings(judging, lines, rule)).collect();
    (findings, Vec::new())
}
