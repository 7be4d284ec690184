//! What a perfect floor would show when read the same way.

use crate::forms::NoiseAlone;
use survey::straightedge::Definition;
use survey::straightedge::line::{LinePoint, noise_alone};
use survey::units::Length;

/// The seed that every record names, so that the figure can be made again.
const SEED: u64 = 1;

/// Whether to draw what noise alone would show, which takes ten thousand draws.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Noise {
    LeftOut,
    Drawn,
}

/// The gap that noise alone shows along a line.
pub(super) fn alone(points: &[LinePoint], reach: Length, sd: Length) -> Option<NoiseAlone> {
    let noise = noise_alone(points, reach, Definition::Supported, sd, SEED).ok()?;
    Some(NoiseAlone { mean: noise.mean.to_mm(), p95: noise.p95.to_mm() })
}
