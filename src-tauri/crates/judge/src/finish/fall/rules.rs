//! Every rule for falls beside the others, for this floor, and which hardly go together.

use super::edge::Edge;
use super::floor::Floor;
use crate::forms::*;
use crate::room::rules::falls;
use survey::drainage::{FallLimits, FallRule as Measured};
use survey::level_perimeter::level_perimeter;
use survey::units::Slope;

impl Floor<'_> {
    /// Each rule with what a level edge asks under it here.
    pub(super) fn rules(&self, edge: &Edge) -> Vec<FallChoice> {
        let views = falls::views(&self.file.rules);
        views.into_iter().map(|rule| self.choice(rule, edge.shape)).collect()
    }

    fn choice(&self, rule: FallsView, shape: EdgeShape) -> FallChoice {
        // A rule that sets a most alone leaves the least to the rule that is chosen.
        let least = rule.least.map_or(self.limits.minimum, Slope::ratio);
        let most = rule.most.map_or(Slope::ratio(1.0), Slope::ratio);
        let square = if rule.square_to_drain { Measured::SquareToDrain } else { Measured::Path };
        let limits = FallLimits { minimum: least, maximum: most, rule: square };
        let level = level_perimeter(&self.corners, &self.outlet, limits).filter(|_| shape == EdgeShape::Level);
        FallChoice {
            needs: level.map(|level| level.needs.to_mm()),
            allows: level.filter(|_| rule.most.is_some()).map(|level| level.allows.to_mm()),
            possible: level.map_or(least.at_most(most), |level| level.is_possible()),
            steepest: level.map(|level| level.steepest().to_ratio()),
            name: rule.name,
            clause: rule.clause,
            edition: rule.edition,
            least: rule.least,
            most: rule.most,
            square_to_drain: rule.square_to_drain,
            chosen: rule.chosen,
        }
    }

    /// The rules of access, which set a most alone, that meet the least of the chosen one in one value or nowhere.
    pub(super) fn conflicts(&self) -> Vec<FallConflict> {
        let least = self.limits.minimum;
        let of_access = falls::views(&self.file.rules).into_iter().filter(|rule| rule.least.is_none() && !rule.chosen);
        let meets = |rule: FallsView| {
            let most = Slope::ratio(rule.most?);
            let together = match () {
                () if least.at_most(most) && most.at_most(least) => Together::AtOneValue,
                () if !least.at_most(most) => Together::Never,
                () => return None,
            };
            Some(FallConflict { with: rule.name, together, least: least.to_ratio(), most: most.to_ratio() })
        };
        of_access.filter_map(meets).collect()
    }
}
