//! The six ways to choose the height, each the lowest its rule permits.

use super::site::{Site, Studied};
use super::target::Target;
use super::{governing, tilted};
use crate::units::{Length, Slope};

/// Which rule an alternative follows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Name {
    /// Level, nothing cut.
    LevelNothingCut,
    /// Level, cut only as allowed without a new approval.
    LevelDressed,
    /// Level, sawn joists dressed anywhere.
    LevelByApproval,
    /// Level, the joist that governs sistered too and its old top cut.
    LevelSisterHigh,
    /// A tilted plane, nothing cut.
    FlatNotLevel,
    /// Level at the height that was asked for.
    Held,
}

impl Name {
    /// The name used on every wire: `level-nothing-cut`.
    pub fn name(self) -> &'static str {
        match self {
            Self::LevelNothingCut => "level-nothing-cut",
            Self::LevelDressed => "level-dressed",
            Self::LevelByApproval => "level-by-approval",
            Self::LevelSisterHigh => "level-sister-high",
            Self::FlatNotLevel => "flat-not-level",
            Self::Held => "held",
        }
    }

    /// Whether its rule cuts where nobody may without an approval.
    pub(super) fn cuts_by_new_approval(self) -> bool {
        matches!(self, Self::LevelByApproval | Self::LevelSisterHigh)
    }
}

/// A target and the rule it comes from.
#[derive(Debug, Clone, Copy)]
pub(super) struct Proposal {
    pub(super) name: Name,
    pub(super) target: Target,
    /// A joist that is sistered although it is sound, by its place in the grid.
    pub(super) also_sistered: Option<usize>,
}

/// Every alternative there is, in the order of [`Name`].
pub(super) fn proposals(site: &Site) -> Vec<Proposal> {
    let settings = site.settings;
    let nothing_cut = lowest(site, |studied| governing::highest(&studied.profile));
    let dressed = lowest(site, |studied| studied.ways.lowest());
    let anywhere = |studied: &Studied| studied.ways.anywhere(&studied.profile, &studied.joist.member, site.dressing());
    let lower = |height: &f64| nothing_cut.is_some_and(|first| !Length::mm(first).at_most(Length::mm(*height)));
    let level = |name, height: Option<f64>, also_sistered| {
        height.map(|height| Proposal { name, target: Target::level(site.grid, height), also_sistered })
    };
    let governing = site.governing();
    let flat = (settings.max_tilt > Slope::ZERO).then(|| tilted::lowest(site)).flatten();
    [
        level(Name::LevelNothingCut, nothing_cut, None),
        level(Name::LevelDressed, dressed.filter(lower), None),
        level(Name::LevelByApproval, lowest(site, |studied| anywhere(studied).lowest()), None),
        level(Name::LevelSisterHigh, without(site, governing), governing),
        flat.map(|target| Proposal { name: Name::FlatNotLevel, target, also_sistered: None }),
        level(Name::Held, settings.height.map(Length::to_mm), None),
    ]
    .into_iter()
    .flatten()
    .collect()
}

/// The lowest height that every joist which sets it permits.
fn lowest(site: &Site, permits: impl Fn(&Studied) -> f64) -> Option<f64> {
    site.setting().map(|(_, studied)| permits(studied)).reduce(f64::max)
}

/// The highest reading of the joists that set the height, but for one.
fn without(site: &Site, governing: Option<usize>) -> Option<f64> {
    let others = site.setting().filter(|(j, _)| Some(*j) != governing);
    others.map(|(_, studied)| governing::highest(&studied.profile)).reduce(f64::max)
}
