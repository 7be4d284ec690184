//! The opening of a niche among the tiles, and what brings a thinner tile flush.

use crate::forms::*;
use survey::ledge::{self, on_the_module};
use survey::units::Length;

/// The rough opening of the niche in the first surface; none where there is no niche or nothing is tiled.
pub(super) fn niche(tiling: &Tiling, surface: Option<&SurfaceLayout>) -> Option<NicheView> {
    let (niche, surface) = (tiling.niche.as_ref()?, surface?);
    let across = centre(niche.on_module, niche.across, niche.wide, &surface.columns, (tiling.wide, tiling.joint));
    let up = centre(niche.on_module, niche.up, niche.high, &surface.rows, (tiling.high, tiling.joint));
    let opening =
        |unit: f64, centre: f64| ledge::niche(Length::mm(unit), Length::mm(niche.clearance), Length::mm(centre));
    let (wide, high) = (opening(niche.wide, across), opening(niche.high, up));
    let over = |from: Length, to: Length, side: f64| !from.at_least(Length::ZERO) || !to.at_most(Length::mm(side));
    Some(NicheView {
        outside: over(wide.from, wide.to, surface.wide) || over(high.from, high.to, surface.high),
        from: wide.from.to_mm(),
        to: wide.to.to_mm(),
        foot: high.from.to_mm(),
        head: high.to.to_mm(),
        moved_across: across - niche.across,
        moved_up: up - niche.up,
    })
}

/// The middle of a niche: as wanted, or moved to begin at a joint.
fn centre(moved: bool, wanted: f64, unit: f64, pieces: &[(f64, f64)], (tile, joint): (f64, f64)) -> f64 {
    let first = pieces.first().map_or(0.0, |(from, size)| from + size);
    if !moved {
        return wanted;
    }
    let mm = Length::mm;
    on_the_module(mm(wanted), mm(unit), mm(first), mm(tile), mm(joint)).to_mm()
}

pub(super) fn build_out(out: &BuildOut) -> f64 {
    let mm = Length::mm;
    ledge::build_out((mm(out.tile), mm(out.bed)), (mm(out.thin_tile), mm(out.thin_bed))).to_mm()
}
