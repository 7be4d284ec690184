//! What a perfect floor would show when read the same way, kept by layout since it takes ten thousand draws.

use crate::wire::NoiseAlone;
use std::collections::HashMap;
use std::sync::{Mutex, PoisonError};
use survey::straightedge::Definition;
use survey::straightedge::line::{LinePoint, noise_alone};
use survey::units::Length;

/// Where the readings lie, the reach of the bar, the uncertainty of a reading.
type Layout = (Vec<u64>, u64, u64);

static KNOWN: Mutex<Option<HashMap<Layout, NoiseAlone>>> = Mutex::new(None);

/// More layouts than a day's rooms have.
const MOST: usize = 512;

/// The seed that every record names, so that the figure can be made again.
const SEED: u64 = 1;

/// The gap that noise alone shows along a line.
pub(super) fn alone(points: &[LinePoint], reach: Length, sd: Length) -> Option<NoiseAlone> {
    let bits = |length: Length| length.to_mm().to_bits();
    let layout: Layout = (points.iter().map(|point| bits(point.s)).collect(), bits(reach), bits(sd));
    let mut known = KNOWN.lock().unwrap_or_else(PoisonError::into_inner);
    let known = known.get_or_insert_default();
    if let Some(noise) = known.get(&layout) {
        return Some(noise.clone());
    }
    let noise = noise_alone(points, reach, Definition::Supported, sd, SEED).ok()?;
    let noise = NoiseAlone { mean: noise.mean.to_mm(), p95: noise.p95.to_mm() };
    if known.len() >= MOST {
        known.clear();
    }
    known.insert(layout, noise.clone());
    Some(noise)
}
