//! How the tiles of a room come out: rows, cuts, quantities, mortar, the niche among them, lippage after setting.

mod lippage;
mod niche;

use crate::forms::bounds::{WASTE, within};
use crate::forms::refusal::{Kind, Refusal};
use crate::forms::*;
use survey::mortar_bed::mortar_bed;
use survey::tile_run::{self, Row, SetOutRow, set_out};
use survey::units::Length;

/// Against the last digits of a share of waste.
const SLACK: f64 = 1e-9;

/// How the tiles of a room come out, or those that are tried out.
///
/// # Errors
/// As [`tiling()`].
pub fn asked(mut file: RoomFile, ask: &TilingAsk) -> Result<TilingView, Refusal> {
    let new = ask.tiling.as_ref().filter(|new| file.works.tiling.as_ref() != Some(new));
    new.map_or(Ok(()), check_new)?;
    file.works.tiling = ask.tiling.clone().or(file.works.tiling);
    tiling(&file)
}

/// How the tiles of a room come out, from its file.
///
/// # Errors
/// `not-ready` where no tile was put in, `out-of-range` naming what is no size.
pub fn tiling(file: &RoomFile) -> Result<TilingView, Refusal> {
    let Some(tiling) = &file.works.tiling else {
        let message = "Put in the tile, its joint and what is tiled, then ask again.";
        return Err(Refusal::new(Kind::NotReady, message).field("tiling"));
    };
    check(tiling)?;
    let surfaces: Vec<SurfaceLayout> =
        tiling.surfaces.iter().map(|surface| layout(tiling, surface)).collect::<Result<_, _>>()?;
    let tiles: u32 = surfaces.iter().map(|surface| surface.tiles).sum();
    let area: f64 = tiling.surfaces.iter().map(|surface| surface.wide * surface.high).sum();
    let bed = mortar_bed(Length::mm(tiling.wide.max(tiling.high)));
    Ok(TilingView {
        tiles,
        order: (f64::from(tiles) * (1.0 + tiling.waste) - SLACK).ceil() as u32,
        area,
        mortar: area * bed.bed.to_mm() * 1e-6 * (1.0 + tiling.waste),
        bed: bed_view(bed),
        niche: niche::niche(tiling, surfaces.first()),
        build_out: tiling.build_out.as_ref().map(niche::build_out),
        lippage: lippage::views(file, tiling),
        lippage_rules: lippage::rules(file),
        lippage_rule: lippage::rule(file, tiling),
        surfaces,
    })
}

/// Whether tiles and surfaces are some size.
///
/// # Errors
/// `out-of-range`, naming what is not.
pub fn check(tiling: &Tiling) -> Result<(), Refusal> {
    let more = [("tile: width", tiling.wide), ("tile: height", tiling.high)];
    let sides = tiling.surfaces.iter().flat_map(|surface| {
        let field = |side: &str| format!("{}: {side}", surface.name);
        [(field("width"), surface.wide), (field("height"), surface.high)]
    });
    let niche = tiling.niche.iter().flat_map(|niche| [("niche: width", niche.wide), ("niche: height", niche.high)]);
    let above: Vec<(String, f64)> =
        more.into_iter().chain(niche).map(|(field, value)| (field.to_string(), value)).chain(sides).collect();
    let rest = [
        ("tile: joint", tiling.joint),
        ("tile: joint at the walls", tiling.edge),
        ("tile: narrowest cut", tiling.least_cut),
        ("tile: waste", tiling.waste),
        ("tile: warpage", tiling.warpage),
        ("niche: clearance", tiling.niche.as_ref().map_or(0.0, |niche| niche.clearance)),
    ];
    let lippage = tiling.lippage.iter().flat_map(|read| [("lippage: step", read.step), ("lippage: joint", read.joint)]);
    let parts = tiling.build_out.iter().flat_map(|out| {
        [
            ("build-out: tile", out.tile),
            ("build-out: its bed", out.bed),
            ("build-out: thinner tile", out.thin_tile),
            ("build-out: bed of the thinner tile", out.thin_bed),
        ]
    });
    for (field, value) in above {
        if value.is_nan() || value <= 0.0 {
            return Err(Refusal::out_of_range(field, "more than zero"));
        }
    }
    for (field, value) in rest.into_iter().chain(lippage).chain(parts) {
        if value.is_nan() || value < 0.0 {
            return Err(Refusal::out_of_range(field, "zero or more"));
        }
    }
    Ok(())
}

/// Whether tiles can be put in so: what was kept before there were bounds is still looked at.
///
/// # Errors
/// As [`check`], and `out-of-range` with both bounds for waste beyond them.
pub fn check_new(tiling: &Tiling) -> Result<(), Refusal> {
    check(tiling)?;
    within("tile: waste", Some(tiling.waste), WASTE)
}

fn layout(tiling: &Tiling, surface: &TiledSurface) -> Result<SurfaceLayout, Refusal> {
    let row = |length: f64, tile: f64, by: SetOut| {
        let mm = Length::mm;
        let row = Row { length: mm(length), tile: mm(tile), joint: mm(tiling.joint), edge: mm(tiling.edge) };
        let narrow = || Refusal::out_of_range(surface.name.clone(), "wider than its two joints at the walls");
        set_out(row, way(by)).ok_or_else(narrow)
    };
    let across = row(surface.wide, tiling.wide, surface.across)?;
    let up = row(surface.high, tiling.high, surface.up)?;
    let tiles = across.pieces() * up.pieces();
    Ok(SurfaceLayout {
        name: surface.name.clone(),
        wide: surface.wide,
        high: surface.high,
        tiles: tiles as u32,
        cut: (tiles - whole(&across) * whole(&up)) as u32,
        columns: pieces(&across, tiling.wide, tiling, surface.across),
        rows: pieces(&up, tiling.high, tiling, surface.up),
        across: row_view(&across, tiling),
        up: row_view(&up, tiling),
    })
}

fn way(by: SetOut) -> tile_run::SetOut {
    match by {
        SetOut::Balanced => tile_run::SetOut::Balanced,
        SetOut::WholeFirst => tile_run::SetOut::WholeFirst,
        SetOut::WholeLast => tile_run::SetOut::WholeLast,
    }
}

fn whole(row: &SetOutRow) -> usize {
    row.whole
}

fn row_view(row: &SetOutRow, tiling: &Tiling) -> RowView {
    RowView {
        first: row.first.to_mm(),
        last: row.last.to_mm(),
        whole: row.whole as u32,
        cuts: row.cuts as u32,
        sliver: row.has_sliver(Length::mm(tiling.least_cut)),
    }
}

/// Where each piece of a row begins and how long it is.
fn pieces(row: &SetOutRow, tile: f64, tiling: &Tiling, by: SetOut) -> Vec<(f64, f64)> {
    let whole = std::iter::repeat_n(tile, row.whole);
    let (first, last) = (row.first.to_mm(), row.last.to_mm());
    let sizes: Vec<f64> = match (row.cuts, by) {
        (0, _) => whole.collect(),
        (1, _) if row.whole == 0 => vec![first],
        (1, SetOut::WholeLast) => [first].into_iter().chain(whole).collect(),
        (1, _) => whole.chain([last]).collect(),
        _ => [first].into_iter().chain(whole).chain([last]).collect(),
    };
    let mut from = tiling.edge;
    let stand = |size: f64| {
        let piece = (from, size);
        from += size + tiling.joint;
        piece
    };
    sizes.into_iter().map(stand).collect()
}

fn bed_view(bed: survey::mortar_bed::MortarBed) -> BedView {
    BedView {
        notch_wide: bed.notch.0.to_mm(),
        notch_deep: bed.notch.1.to_mm(),
        bed: bed.bed.to_mm(),
        contact_dry: bed.contact_dry.to_f64(),
        contact_wet: bed.contact_wet.to_f64(),
        back_buttered: bed.back_buttered,
    }
}

#[cfg(test)]
mod tests;
