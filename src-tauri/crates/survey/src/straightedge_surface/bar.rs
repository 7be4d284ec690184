//! A bar as it lies, and what each reading weighs in the gap under it.

use super::ray::Crossing;
use crate::mesh::{Mesh, distance};

/// A bar on the floor: its supports, the low place under it, and what each reading weighs in the gap.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Bar {
    pub(crate) score: f64,
    pub(crate) gap: f64,
    pub(crate) from: [f64; 2],
    pub(crate) to: [f64; 2],
    pub(crate) low: [f64; 2],
    pub(crate) weights: Vec<(usize, f64)>,
}

impl Bar {
    /// A bar on a floor without a gap: along an edge of its first facet.
    pub(crate) fn flat(mesh: &Mesh, length: f64) -> Self {
        let [from, end, _] = if mesh.triangles.is_empty() { [[0.0; 2]; 3] } else { mesh.plan(0) };
        let share = (length.max(0.0) / distance(from, end).max(f64::MIN_POSITIVE)).min(1.0);
        let to = [0, 1].map(|axis| from[axis] + share * (end[axis] - from[axis]));
        Self { score: 0.0, gap: 0.0, from, to, low: from, weights: Vec::new() }
    }
}

impl Bar {
    /// Whether two bars lie so near one another, either way round, that settling them comes to the same.
    pub(super) fn is_near(&self, other: &Self) -> bool {
        const NEAR: f64 = 30.0;
        let ends = |from, to| distance(self.from, from) < NEAR && distance(self.to, to) < NEAR;
        distance(self.low, other.low) < NEAR && (ends(other.from, other.to) || ends(other.to, other.from))
    }
}

/// What each reading weighs in a gap.
#[derive(Default)]
pub(super) struct Weights(pub(super) Vec<(usize, f64)>);

impl Weights {
    pub(super) fn add(&mut self, crossing: &Crossing, times: f64) {
        for (vertex, weight) in [(crossing.edge[0], 1.0 - crossing.share), (crossing.edge[1], crossing.share)] {
            match self.0.iter_mut().find(|(known, _)| *known == vertex) {
                Some((_, sum)) => *sum += weight * times,
                None if weight * times != 0.0 => self.0.push((vertex, weight * times)),
                None => {}
            }
        }
    }

    /// The weights of the floor some way along a profile.
    pub(super) fn add_at(&mut self, profile: &[Crossing], along: f64, times: f64) {
        let after = profile.partition_point(|crossing| crossing.along < along);
        let (Some(before), Some(beyond)) = (profile.get(after.saturating_sub(1)), profile.get(after)) else {
            return profile.last().map_or((), |last| self.add(last, times));
        };
        let apart = beyond.along - before.along;
        let share = if apart > 0.0 { (along - before.along) / apart } else { 1.0 };
        self.add(before, times * (1.0 - share));
        self.add(beyond, times * share);
    }
}
