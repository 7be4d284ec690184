//! The joists as the plan sees them: which must be sistered whatever the height, and how low the others let it be.

use super::governing::{Ways, highest};
use super::{Reason, Settings};
use crate::guard::dressing_most;
use crate::joists::{Grid, Joist, Profile, is_sagging};
use crate::units::Length;

/// The grid, the settings, and each joist studied.
pub(super) struct Site<'a> {
    pub(super) grid: &'a Grid,
    pub(super) settings: &'a Settings,
    pub(super) joists: Vec<Studied<'a>>,
}

/// One joist with what follows from it alone.
pub(super) struct Studied<'a> {
    pub(super) joist: &'a Joist,
    pub(super) profile: Profile,
    /// Why it is sistered at any height; empty if it is not.
    pub(super) sister: Vec<Reason>,
    pub(super) ways: Ways,
}

impl<'a> Site<'a> {
    pub(super) fn of(grid: &'a Grid, settings: &'a Settings) -> Self {
        let studied = |joist: &'a Joist| {
            let profile = grid.profile(joist);
            let ways = Ways::of(&profile, &joist.member, settings.dress.most, joist.approval.as_ref());
            Studied { joist, sister: sister(grid, joist, &profile, settings), ways, profile }
        };
        Self { grid, settings, joists: grid.joists.iter().map(studied).collect() }
    }

    /// The joists that set the height, by their place in the grid: read somewhere, and not sistered.
    pub(super) fn setting(&self) -> impl Iterator<Item = (usize, &Studied<'a>)> {
        let sets = |(_, studied): &(usize, &Studied)| studied.sister.is_empty() && !studied.profile.points().is_empty();
        self.joists.iter().enumerate().filter(sets)
    }

    /// The joist that governs the height where nothing is cut: the one with the highest reading, the first on a tie.
    pub(super) fn governing(&self) -> Option<usize> {
        let higher = |most: (usize, f64), next: (usize, f64)| if next.1 > most.1 { next } else { most };
        self.setting().map(|(j, studied)| (j, highest(&studied.profile))).reduce(higher).map(|(j, _)| j)
    }

    /// How deep dressing goes here.
    pub(super) fn dressing(&self) -> Length {
        self.settings.dress.most.min(dressing_most())
    }
}

fn sister(grid: &Grid, joist: &Joist, profile: &Profile, settings: &Settings) -> Vec<Reason> {
    let unsound = (joist.sound == Some(false)).then_some(Reason::Unsound);
    let sags = is_sagging(profile, grid.u, settings.sag_ratio).then_some(Reason::Sags);
    unsound.into_iter().chain(sags).collect()
}
