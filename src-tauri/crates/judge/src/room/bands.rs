//! A surface as bands of height over a reference.

use crate::forms::{MapBand, Units};
use survey::contours::bands;
use survey::triangulation::Triangulation;
use survey::units::{INCH_MM, Length};

/// At most so many bands on either side of the reference.
const BANDS: i32 = 6;

/// Bands over a reference in steps that a reading can tell apart.
pub fn map_bands(surface: &Triangulation, units: Units, reference: f64) -> Vec<MapBand> {
    let points = surface.points();
    let most = points.iter().map(|point| (point.z.to_mm() - reference).abs()).fold(0.0, f64::max);
    let step = step(units, most);
    let levels: Vec<Length> = (-BANDS..BANDS).map(|k| Length::mm(reference + (f64::from(k) + 0.5) * step)).collect();
    let bands = bands(&points, surface.triangles(), &levels);
    let edge = |level: Option<Length>, open: f64| level.map_or(open, |level| level.to_mm() - reference);
    let band = |band: survey::contours::Band| MapBand {
        from: edge(band.from, -most.max(step)),
        to: edge(band.to, most.max(step)),
        polygons: band
            .polygons
            .iter()
            .map(|ring| ring.iter().map(|place| (place.x.to_mm(), place.y.to_mm())).collect())
            .collect(),
    };
    bands.into_iter().filter(|band| !band.polygons.is_empty()).map(band).collect()
}

/// The finest even step that covers the heights in the bands there are.
fn step(units: Units, most: f64) -> f64 {
    let least = most / f64::from(BANDS);
    let steps: &[f64] = match units {
        Units::In => &[INCH_MM / 16.0, INCH_MM / 8.0, INCH_MM / 4.0, INCH_MM / 2.0, INCH_MM],
        Units::Mm => &[1.0, 2.0, 5.0, 10.0, 20.0],
    };
    steps.iter().copied().find(|step| *step >= least).unwrap_or(least)
}
