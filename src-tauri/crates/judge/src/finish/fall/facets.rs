//! How the facets of a floor as read fall.

use super::floor::Floor;
use crate::forms::FacetsView;
use crate::room::point_heights::{Height, heights};
use survey::Point;
use survey::drainage::{FallLimits, FallRule, drainage};
use survey::triangulation::triangulate;
use survey::units::Slope;

/// The shares of the area that fall less or more than the rule allows; none where the floor was not read.
pub(super) fn facets(floor: &Floor<'_>) -> Option<FacetsView> {
    let survey = floor.survey()?;
    let points: Vec<Point> = heights(floor.file, &survey.id).iter().map(Height::at).collect();
    let surface = triangulate(&points, &floor.corners).or_else(|_| triangulate(&points, &[])).ok()?;
    let square = floor.drain.to.is_some() && floor.limits.rule == FallRule::SquareToDrain;
    let rule = if square { FallRule::SquareToDrain } else { FallRule::Path };
    let found = drainage(&surface.value, &floor.outlet, &[], FallLimits { rule, ..floor.limits }).ok()?.value;
    let all = found.area_total.to_mm2().max(1.0);
    Some(FacetsView {
        flatter: found.area_below_minimum.to_mm2() / all,
        steeper: found.area_above_maximum.to_mm2() / all,
        gentlest: Slope::to_ratio(found.facet_slope_min),
        steepest: Slope::to_ratio(found.facet_slope_max),
    })
}
