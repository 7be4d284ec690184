//! Bands of height on a surface of flat facets, exact: what the maps draw.

use std::collections::BTreeMap;

use crate::mesh::Mesh;
use crate::point::{PlanPosition, Point};
use crate::units::Length;

/// The part of a surface between two heights.
#[derive(Debug, Clone, PartialEq)]
pub struct Band {
    /// The lower height, itself part of the band; `None` for the band below every level.
    pub from: Option<Length>,
    /// The upper height, no longer part of the band; `None` for the band above every level.
    pub to: Option<Length>,
    /// The rings around the band: counter-clockwise around it, clockwise around its holes. Drawn as one path.
    pub polygons: Vec<Vec<PlanPosition>>,
}

/// The bands of a surface between `levels`, lowest first: one below the first level, one above the last.
///
/// The surface is linear on each facet, so the bands are exact. Facets of one band are joined, so nothing shows
/// between them when a band is drawn as one path. A triangle that names no point is left out.
///
/// # Units
/// Heights and plan positions are lengths; heights are positive upward.
///
/// # Source
/// Marching triangles (common practice), a height at a level taken as above it.
///
/// ```
/// use survey::{Point, contours::bands, units::Length};
/// let slope = [Point::mm(0.0, 0.0, 0.0), Point::mm(900.0, 0.0, 9.0), Point::mm(0.0, 900.0, 0.0)];
/// let bands = bands(&slope, &[[0, 1, 2]], &[Length::mm(3.0)]);
/// let lengths: Vec<_> = bands.iter().map(|band| band.polygons[0].len()).collect();
/// assert_eq!(lengths, [4, 3], "a strip below 3 mm and the corner above it");
/// ```
pub fn bands(points: &[Point], triangles: &[[usize; 3]], levels: &[Length]) -> Vec<Band> {
    let (mesh, levels) = (mesh(points, triangles), in_order(levels));
    let mut rims: Vec<Rim> = vec![Rim::default(); levels.len() + 1];
    for triangle in 0..mesh.triangles.len() {
        let bands = mesh.triangles[triangle].map(|corner| band_of(mesh.z[corner], &levels));
        let (lowest, highest) =
            bands.iter().fold((usize::MAX, 0), |(low, high), &band| (low.min(band), high.max(band)));
        for (band, rim) in rims.iter_mut().enumerate().take(highest + 1).skip(lowest) {
            rim.add(&piece(&mesh, triangle, band, bands));
        }
    }
    let place = |corner: Corner| corner.place(&mesh, &levels);
    let ring = |ring: Vec<Corner>| without_repeats(ring.into_iter().map(place).collect());
    let level = |index: usize| levels.get(index).map(|&level| Length::mm(level));
    let band = |(index, rim): (usize, Rim)| {
        let rings = rim.rings().into_iter().map(ring).filter(|ring| ring.len() > 2);
        Band { from: index.checked_sub(1).and_then(level), to: level(index), polygons: rings.collect() }
    };
    rims.into_iter().enumerate().map(band).collect()
}

/// A corner of a piece: a vertex of the surface, or where an edge crosses a level.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Corner {
    Vertex(usize),
    /// Between the lower and the higher index of an edge, at the index of a level.
    Crossing(usize, usize, usize),
}

impl Corner {
    fn crossing(from: usize, to: usize, level: usize) -> Self {
        Self::Crossing(from.min(to), from.max(to), level)
    }

    fn place(self, mesh: &Mesh, levels: &[f64]) -> PlanPosition {
        let [x, y] = match self {
            Self::Vertex(vertex) => mesh.xy[vertex],
            Self::Crossing(from, to, level) => {
                let along = ((levels[level] - mesh.z[from]) / (mesh.z[to] - mesh.z[from])).clamp(0.0, 1.0);
                [0, 1].map(|axis| mesh.xy[from][axis] + along * (mesh.xy[to][axis] - mesh.xy[from][axis]))
            }
        };
        PlanPosition { x: Length::mm(x), y: Length::mm(y) }
    }
}

/// The part of a triangle inside one band, counter-clockwise.
fn piece(mesh: &Mesh, triangle: usize, band: usize, bands: [usize; 3]) -> Vec<Corner> {
    let corners = mesh.triangles[triangle];
    let mut piece = Vec::with_capacity(5);
    for k in 0..3 {
        let (from, to) = (corners[k], corners[(k + 1) % 3]);
        let (here, there) = (bands[k], bands[(k + 1) % 3]);
        if here == band {
            piece.push(Corner::Vertex(from));
        }
        let enters_or_leaves = |level: usize| (here <= level) != (there <= level);
        let (floor, ceiling) = (band.checked_sub(1).filter(|&level| enters_or_leaves(level)), band);
        let ceiling = Some(ceiling).filter(|&level| enters_or_leaves(level));
        let crossed = if here < there { [floor, ceiling] } else { [ceiling, floor] };
        piece.extend(crossed.into_iter().flatten().map(|level| Corner::crossing(from, to, level)));
    }
    piece
}

/// Steps around pieces; a step met by its opposite is inside and gone.
#[derive(Debug, Clone, Default)]
struct Rim {
    steps: BTreeMap<Corner, Vec<Corner>>,
}

impl Rim {
    fn add(&mut self, piece: &[Corner]) {
        for k in 0..piece.len() {
            self.step(piece[k], piece[(k + 1) % piece.len()]);
        }
    }

    fn step(&mut self, from: Corner, to: Corner) {
        if let Some(back) = self.steps.get_mut(&to)
            && let Some(at) = back.iter().position(|&end| end == from)
        {
            back.swap_remove(at);
        } else {
            self.steps.entry(from).or_default().push(to);
        }
    }

    fn take(&mut self, from: Corner) -> Option<Corner> {
        self.steps.get_mut(&from)?.pop()
    }

    /// The closed rings.
    fn rings(mut self) -> Vec<Vec<Corner>> {
        let starts: Vec<Corner> = self.steps.keys().copied().collect();
        let mut rings = Vec::new();
        for start in starts {
            while let Some(mut next) = self.take(start) {
                let mut ring = vec![start];
                while next != start {
                    ring.push(next);
                    let Some(after) = self.take(next) else { break };
                    next = after;
                }
                rings.push(ring);
            }
        }
        rings
    }
}

fn mesh(points: &[Point], triangles: &[[usize; 3]]) -> Mesh {
    let known = |triangle: &&[usize; 3]| triangle.iter().all(|&corner| corner < points.len());
    let xy = points.iter().map(|point| [point.x.to_mm(), point.y.to_mm()]).collect();
    let z = points.iter().map(|point| point.z.to_mm()).collect();
    Mesh::new(xy, z, triangles.iter().filter(known).copied().collect())
}

fn in_order(levels: &[Length]) -> Vec<f64> {
    let mut levels: Vec<f64> = levels.iter().map(|level| level.to_mm()).collect();
    levels.sort_by(f64::total_cmp);
    levels.dedup();
    levels
}

/// How many levels a height has reached.
fn band_of(z: f64, levels: &[f64]) -> usize {
    levels.partition_point(|&level| level <= z)
}

fn without_repeats(mut places: Vec<PlanPosition>) -> Vec<PlanPosition> {
    places.dedup();
    while places.len() > 1 && places.first() == places.last() {
        places.pop();
    }
    places
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::triangulation::triangulate;

    fn ring_area(ring: &[PlanPosition]) -> f64 {
        let at = |k: usize| (ring[k % ring.len()].x.to_mm(), ring[k % ring.len()].y.to_mm());
        (0..ring.len()).map(|k| 0.5 * (at(k).0 * at(k + 1).1 - at(k + 1).0 * at(k).1)).sum()
    }

    fn area(band: &Band) -> f64 {
        band.polygons.iter().map(|ring| ring_area(ring)).sum()
    }

    /// A 3 × 3 grid of 100 mm squares, level but for its middle.
    fn hump(height: f64) -> Vec<Point> {
        let at = |i: usize| ((i % 3) as f64 * 100.0, (i / 3) as f64 * 100.0);
        (0..9).map(|i| Point::mm(at(i).0, at(i).1, if i == 4 { height } else { 0.0 })).collect()
    }

    #[test]
    fn a_hump_is_rings_within_rings() {
        let points = hump(4.0);
        let surface = triangulate(&points, &[]).expect("a grid").value;
        let levels = [1.0, 2.0, 3.0].map(Length::mm);
        let bands = bands(&points, surface.triangles(), &levels);
        let rings: Vec<usize> = bands.iter().map(|band| band.polygons.len()).collect();
        assert_eq!(rings, [2, 2, 2, 1], "each band but the top has a hole");
        let whole: f64 = bands.iter().map(area).sum();
        assert!((whole - 40_000.0).abs() < 1e-9, "{whole}");
        // The pyramid over six facets: the part above a share h of its height is (1 − h)² of its 30,000 mm².
        assert!((area(&bands[3]) - 30_000.0 / 16.0).abs() < 1e-9, "{}", area(&bands[3]));
    }

    #[test]
    fn a_level_floor_at_a_level_is_the_band_above_it() {
        let points = hump(0.0);
        let surface = triangulate(&points, &[]).expect("a grid").value;
        let bands = bands(&points, surface.triangles(), &[Length::ZERO]);
        assert_eq!(bands.iter().map(area).collect::<Vec<_>>(), [0.0, 40_000.0]);
    }

    #[test]
    fn nothing_in_gives_nothing_out() {
        assert_eq!(bands(&[], &[[0, 1, 2]], &[]).len(), 1);
    }
}
