//! A floor as a surface of flat facets between its readings.

use std::fmt;

use crate::analysis::{Analysis, Problem, ProblemKind};
use crate::boundary::{Boundary, along_segment, from_segment};
use crate::delaunay::delaunay;
use crate::mesh::{Mesh, cross, distance};
use crate::point::{PlanPosition, Point};
use crate::same_place::{ONE_PLACE, Places, same_place};
use crate::units::{Area, Length};

/// The triangulated surface through readings: linear between them, exact at each.
#[derive(Debug, Clone)]
pub struct Triangulation {
    pub(crate) mesh: Mesh,
    pub(crate) stands_for: Vec<usize>,
    /// How many readings were averaged at each place, at the reading that stands for it.
    pub(crate) readings_at: Vec<usize>,
}

/// Why there is no surface.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NoSurface {
    /// Fewer than three readings.
    TooFewPoints,
    /// All readings stand at one place.
    CoincidentPoints,
    /// All readings stand in one line.
    CollinearPoints,
    /// The boundary crosses itself or encloses nothing.
    NotSimple,
    /// No triangle of readings lies inside the boundary.
    OutsideBoundary,
    /// A given triangle names a reading that is not there, has no area, or lies over another.
    BadTriangle { triangle: usize },
}

impl NoSurface {
    /// The name used on every wire: `too-few-points`.
    pub fn name(self) -> &'static str {
        match self {
            Self::TooFewPoints => "too-few-points",
            Self::CoincidentPoints => "coincident-points",
            Self::CollinearPoints => "collinear-points",
            Self::NotSimple => "not-simple",
            Self::OutsideBoundary => "outside-boundary",
            Self::BadTriangle { .. } => "bad-triangle",
        }
    }
}

impl fmt::Display for NoSurface {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::TooFewPoints => f.write_str("a surface needs at least three readings"),
            Self::CoincidentPoints => f.write_str("all readings stand at one place"),
            Self::CollinearPoints => f.write_str("all readings stand in one line: read a second row"),
            Self::NotSimple => f.write_str("the boundary crosses itself or encloses nothing"),
            Self::OutsideBoundary => f.write_str("no three readings lie inside the boundary"),
            Self::BadTriangle { triangle } => {
                write!(f, "triangle {triangle} names a missing reading, has no area or lies over another triangle")
            }
        }
    }
}

impl std::error::Error for NoSurface {}

/// The Delaunay surface through readings, with the edges of the boundary as edges of the surface.
///
/// An empty boundary is the hull of the readings. Triangles outside the boundary are left out. Readings on one circle
/// are joined as a fan from the one of smallest x, then smallest y, so the surface does not hang on their order.
///
/// # Units
/// Plan positions and heights are lengths; heights are positive upward.
///
/// # Problems reported
/// `duplicate-point` where readings within 0.001 mm differ (their mean is used); `corner-not-read` for a boundary
/// corner without a reading (it adds no vertex); `outside-boundary` for a reading beyond it.
///
/// # Errors
/// [`NoSurface`] when there are fewer than three readings, they are in one place or one line, or the boundary is not
/// a simple polygon.
///
/// # Source
/// Delaunay's empty circle, constrained at the boundary; the ways with ties and corners are our own.
///
/// ```
/// use survey::Point;
/// use survey::triangulation::triangulate;
/// let floor = [(0.0, 0.0), (900.0, 0.0), (0.0, 900.0), (900.0, 900.0)].map(|(x, y)| Point::mm(x, y, 0.0));
/// let surface = triangulate(&floor, &[]).unwrap().value;
/// assert_eq!(surface.triangles(), [[0, 1, 3], [0, 3, 2]]);
/// assert_eq!(surface.area().to_mm2(), 810_000.0);
/// ```
pub fn triangulate(points: &[Point], boundary: &[PlanPosition]) -> Result<Analysis<Triangulation>, NoSurface> {
    let (xy, places) = read(points)?;
    let sites = sites(&places);
    let outline = outline(boundary)?;
    let walls = outline.iter().flat_map(|outline| walls(outline, &xy, &sites)).collect();
    let mut triangles = delaunay(&xy, &sites, walls);
    if let Some(outline) = &outline {
        triangles.retain(|triangle| outline.holds(centroid(triangle.map(|corner| xy[corner]))));
    }
    if triangles.is_empty() {
        return Err(NoSurface::OutsideBoundary);
    }
    let problems = outline.iter().flat_map(|outline| outline_problems(outline, &xy, &sites)).collect();
    Ok(surface(xy, places, triangles, problems))
}

/// The surface of the triangles given, each three indices of readings.
///
/// The triangles stay as they are, whatever the boundary; it may be empty.
///
/// # Problems reported
/// As [`triangulate`].
///
/// # Errors
/// [`NoSurface::BadTriangle`] for a triangle that names a reading that is not there, has no area, or shares a side
/// with a triangle on the same side of it; otherwise as [`triangulate`].
///
/// ```
/// use survey::Point;
/// use survey::triangulation::{NoSurface, with_triangles};
/// let floor = [(0.0, 0.0), (900.0, 0.0), (0.0, 900.0)].map(|(x, y)| Point::mm(x, y, 0.0));
/// assert_eq!(with_triangles(&floor, &[[0, 2, 1]], &[]).unwrap().value.triangles(), [[0, 1, 2]]);
/// assert_eq!(with_triangles(&floor, &[[0, 1, 3]], &[]).unwrap_err(), NoSurface::BadTriangle { triangle: 0 });
/// ```
pub fn with_triangles(
    points: &[Point],
    triangles: &[[usize; 3]],
    boundary: &[PlanPosition],
) -> Result<Analysis<Triangulation>, NoSurface> {
    let (xy, places) = read(points)?;
    let outline = outline(boundary)?;
    if triangles.is_empty() {
        return Err(NoSurface::TooFewPoints);
    }
    let turned: Result<Vec<_>, _> = triangles
        .iter()
        .enumerate()
        .map(|(index, triangle)| turned(triangle, &xy, &places).ok_or(NoSurface::BadTriangle { triangle: index }))
        .collect();
    let turned = turned?;
    let sites = sites(&places);
    let problems = outline.iter().flat_map(|outline| outline_problems(outline, &xy, &sites)).collect();
    let surface = surface(xy, places, turned, problems);
    match crate::overlap::overlapping(&surface.value.mesh) {
        Some(triangle) => Err(NoSurface::BadTriangle { triangle }),
        None => Ok(surface),
    }
}

impl Triangulation {
    /// Every reading as given, but with the mean height where several stand at one place.
    pub fn points(&self) -> Vec<Point> {
        self.mesh.xy.iter().zip(&self.mesh.z).map(|(&[x, y], &z)| Point::mm(x, y, z)).collect()
    }

    /// The facets, each three indices of readings, counter-clockwise seen from above.
    pub fn triangles(&self) -> &[[usize; 3]] {
        &self.mesh.triangles
    }

    /// The reading that stands for the place of this one; `None` beyond the readings.
    pub fn place_of(&self, reading: usize) -> Option<usize> {
        self.stands_for.get(reading).copied()
    }

    /// The plan area of all facets.
    pub fn area(&self) -> Area {
        Area::mm2((0..self.mesh.triangles.len()).map(|triangle| self.mesh.area(triangle)).sum())
    }

    /// The height of the surface at a plan position; `None` off the surface.
    pub fn height_at(&self, at: PlanPosition) -> Option<Length> {
        let (triangle, weights) = self.mesh.locate([at.x.to_mm(), at.y.to_mm()], ONE_PLACE)?;
        let heights = self.mesh.heights(triangle);
        Some(Length::mm(weights.iter().zip(heights).map(|(weight, height)| weight * height).sum()))
    }
}

fn surface(
    xy: Vec<[f64; 2]>,
    places: Places,
    triangles: Vec<[usize; 3]>,
    more: Vec<Problem>,
) -> Analysis<Triangulation> {
    let Places { stands_for, z, count, mut problems } = places;
    problems.extend(more);
    let value = Triangulation { mesh: Mesh::new(xy, z, triangles), stands_for, readings_at: count };
    Analysis { value, problems }
}

fn read(points: &[Point]) -> Result<(Vec<[f64; 2]>, Places), NoSurface> {
    let xy: Vec<[f64; 2]> = points.iter().map(|point| [point.x.to_mm(), point.y.to_mm()]).collect();
    let z: Vec<f64> = points.iter().map(|point| point.z.to_mm()).collect();
    let places = same_place(&xy, &z);
    let sites: Vec<[f64; 2]> = sites(&places).into_iter().map(|site| xy[site]).collect();
    refuse_degenerate(points.len(), &sites)?;
    Ok((xy, places))
}

/// The outline of a boundary that is given.
fn outline(boundary: &[PlanPosition]) -> Result<Option<Boundary>, NoSurface> {
    if boundary.is_empty() {
        return Ok(None);
    }
    let corners: Vec<[f64; 2]> = boundary.iter().map(|corner| [corner.x.to_mm(), corner.y.to_mm()]).collect();
    Boundary::new(&corners).map(Some).ok_or(NoSurface::NotSimple)
}

fn sites(places: &Places) -> Vec<usize> {
    (0..places.stands_for.len()).filter(|&reading| places.stands_for[reading] == reading).collect()
}

/// Refuses too few readings, one place, and one line: a smaller extent below a millionth of the larger.
pub(crate) fn refuse_degenerate(readings: usize, sites: &[[f64; 2]]) -> Result<(), NoSurface> {
    if readings < 3 {
        return Err(NoSurface::TooFewPoints);
    }
    if sites.len() < 2 {
        return Err(NoSurface::CoincidentPoints);
    }
    let n = sites.len() as f64;
    let mean = [0, 1].map(|axis| sites.iter().map(|site| site[axis] / n).sum::<f64>());
    let product = |i: usize, j: usize| sites.iter().map(|s| (s[i] - mean[i]) * (s[j] - mean[j])).sum::<f64>();
    let (xx, xy, yy) = (product(0, 0), product(0, 1), product(1, 1));
    let largest = 0.5 * (xx + yy + (xx - yy).hypot(2.0 * xy));
    let smallest = (xx * yy - xy * xy) / largest;
    if sites.len() < 3 || smallest < 1e-12 * largest { Err(NoSurface::CollinearPoints) } else { Ok(()) }
}

/// The edges of the outline, cut at every reading on them; a part that ends at an unread corner is left out.
fn walls(outline: &Boundary, xy: &[[f64; 2]], sites: &[usize]) -> Vec<[usize; 2]> {
    let mut by_x: Vec<usize> = (0..sites.len()).collect();
    by_x.sort_by(|&i, &j| xy[sites[i]][0].total_cmp(&xy[sites[j]][0]));
    let mut walls = Vec::new();
    for corner in 0..outline.corners().len() {
        let edge = outline.edge(corner);
        let (left, right) = (edge[0][0].min(edge[1][0]) - ONE_PLACE, edge[0][0].max(edge[1][0]) + ONE_PLACE);
        let from = by_x.partition_point(|&i| xy[sites[i]][0] < left);
        let in_reach = by_x[from..].iter().copied().take_while(|&i| xy[sites[i]][0] <= right);
        let mut on: Vec<usize> = in_reach.filter(|&i| from_segment(edge, xy[sites[i]]) <= ONE_PLACE).collect();
        on.sort_by(|&i, &j| along_segment(edge, xy[sites[i]]).total_cmp(&along_segment(edge, xy[sites[j]])));
        walls.extend(on.windows(2).map(|pair| [pair[0], pair[1]]));
    }
    walls
}

fn outline_problems(outline: &Boundary, xy: &[[f64; 2]], sites: &[usize]) -> Vec<Problem> {
    let read = |corner: [f64; 2]| sites.iter().any(|&site| distance(xy[site], corner) <= ONE_PLACE);
    let unread = outline.corners().iter().zip(&outline.given).filter(|&(&corner, _)| !read(corner));
    let not_read = |(_, given): (_, &usize)| {
        let message = "This corner of the boundary has no reading: the floor there is not known.";
        Problem::at(ProblemKind::CornerNotRead, given, message)
    };
    let beyond = sites.iter().filter(|&&site| !outline.holds_or_touches(xy[site]));
    let outside =
        |site: &usize| Problem::at(ProblemKind::OutsideBoundary, site, "This reading lies outside the boundary.");
    unread.map(not_read).chain(beyond.map(outside)).collect()
}

/// A given triangle over the readings that stand for its places, counter-clockwise; `None` if it has no area.
fn turned(triangle: &[usize; 3], xy: &[[f64; 2]], places: &Places) -> Option<[usize; 3]> {
    let [a, b, c] = triangle.map(|corner| places.stands_for.get(corner).copied());
    let (a, b, c) = (a?, b?, c?);
    let twice = cross(xy[a], xy[b], xy[c]);
    let longest = distance(xy[a], xy[b]).max(distance(xy[b], xy[c])).max(distance(xy[c], xy[a]));
    if twice.abs() <= 1e-9 * longest * longest {
        return None;
    }
    Some(if twice > 0.0 { [a, b, c] } else { [a, c, b] })
}

fn centroid([a, b, c]: [[f64; 2]; 3]) -> [f64; 2] {
    [(a[0] + b[0] + c[0]) / 3.0, (a[1] + b[1] + c[1]) / 3.0]
}

#[cfg(test)]
mod tests {
    use super::*;

    fn grid(columns: usize, rows: usize, at: impl Fn(f64, f64) -> (f64, f64)) -> Vec<Point> {
        let place = |i: usize| at((i % columns) as f64 * 300.0, (i / columns) as f64 * 300.0);
        (0..columns * rows).map(place).map(|(x, y)| Point::mm(x, y, 0.01 * x)).collect()
    }

    fn outline(corners: &[(f64, f64)]) -> Vec<PlanPosition> {
        corners.iter().map(|&(x, y)| PlanPosition { x: Length::mm(x), y: Length::mm(y) }).collect()
    }

    fn kinds(problems: &[Problem]) -> Vec<(&str, Option<&str>)> {
        problems.iter().map(|problem| (problem.kind.name(), problem.at.as_deref())).collect()
    }

    #[test]
    fn squares_are_cut_from_their_lower_left_corner() {
        let surface = triangulate(&grid(3, 2, |x, y| (x, y)), &[]).expect("a grid").value;
        let mut triangles = surface.triangles().to_vec();
        triangles.sort_unstable();
        assert_eq!(triangles, [[0, 1, 4], [0, 4, 3], [1, 2, 5], [1, 5, 4]]);
    }

    #[test]
    fn a_turned_grid_has_no_slivers_at_its_edge() {
        for degrees in [0.0_f64, 10.0, 33.3, 45.0, 77.7, 120.0] {
            let (sin, cos) = degrees.to_radians().sin_cos();
            let points = grid(7, 5, |x, y| (4.5e6 + cos * x - sin * y, -3e6 + sin * x + cos * y));
            let surface = triangulate(&points, &[]).expect("a grid").value;
            assert_eq!(surface.triangles().len(), 48, "{degrees}");
            assert!((surface.area().to_mm2() - 1800.0 * 1200.0).abs() < 1e-2, "{degrees}");
        }
    }

    #[test]
    fn an_l_shape_keeps_to_its_walls() {
        let mut points = grid(5, 5, |x, y| (x, y));
        points.retain(|point| point.x.to_mm() <= 600.0 || point.y.to_mm() <= 600.0);
        let corners = [(0.0, 0.0), (1200.0, 0.0), (1200.0, 600.0), (600.0, 600.0), (600.0, 1200.0), (0.0, 1200.0)];
        let l_shape = triangulate(&points, &outline(&corners)).expect("an L");
        assert_eq!(l_shape.problems, []);
        assert_eq!(l_shape.value.area().to_mm2(), 1200.0 * 1200.0 - 600.0 * 600.0);
        let hull = triangulate(&points, &[]).expect("a hull").value;
        assert_eq!(hull.area().to_mm2(), 1200.0 * 1200.0 - 600.0 * 600.0 / 2.0);
    }

    #[test]
    fn an_unread_corner_and_a_reading_outside_are_reported() {
        let mut points = grid(3, 3, |x, y| (x, y));
        points.remove(8);
        points.push(Point::mm(900.0, 300.0, 0.0));
        let room = outline(&[(0.0, 0.0), (600.0, 0.0), (600.0, 600.0), (0.0, 600.0)]);
        let surface = triangulate(&points, &room).expect("a room");
        assert_eq!(kinds(&surface.problems), [("corner-not-read", Some("2")), ("outside-boundary", Some("8"))]);
        assert_eq!(surface.value.area().to_mm2(), 600.0 * 600.0 - 300.0 * 300.0 / 2.0);
    }

    #[test]
    fn readings_at_one_place_are_averaged_and_reported() {
        let mut points = grid(2, 2, |x, y| (x, y));
        points.push(Point::mm(0.0, 0.0005, 2.0));
        let surface = triangulate(&points, &[]).expect("a square");
        assert_eq!(kinds(&surface.problems), [("duplicate-point", Some("4"))]);
        assert_eq!(surface.value.place_of(4), Some(0));
        let corner = PlanPosition { x: Length::ZERO, y: Length::ZERO };
        assert_eq!(surface.value.height_at(corner), Some(Length::mm(1.0)));
    }

    #[test]
    fn what_has_no_surface_is_refused() {
        let check = |points: &[(f64, f64)], boundary: &[(f64, f64)], expected: NoSurface| {
            let points: Vec<Point> = points.iter().map(|&(x, y)| Point::mm(x, y, 0.0)).collect();
            assert_eq!(triangulate(&points, &outline(boundary)).unwrap_err(), expected, "{points:?}");
        };
        let square = [(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)];
        check(&[], &[], NoSurface::TooFewPoints);
        check(&[(0.0, 0.0), (1.0, 0.0)], &[], NoSurface::TooFewPoints);
        check(&[(5.0, 5.0); 4], &[], NoSurface::CoincidentPoints);
        check(&[(0.0, 0.0), (1000.0, 1000.0), (2000.0, 2000.0001)], &[], NoSurface::CollinearPoints);
        check(&[(0.0, 0.0), (0.0, 0.0), (9.0, 0.0)], &[], NoSurface::CollinearPoints);
        check(&square, &[(0.0, 0.0), (1.0, 1.0), (1.0, 0.0), (0.0, 1.0)], NoSurface::NotSimple);
        check(&square, &[(10.0, 0.0), (11.0, 0.0), (11.0, 1.0)], NoSurface::OutsideBoundary);
    }

    #[test]
    fn given_triangles_are_turned_or_refused() {
        let points = grid(2, 2, |x, y| (x, y));
        let check = |triangles: &[[usize; 3]], expected: Result<usize, NoSurface>| {
            let found = with_triangles(&points, triangles, &[]).map(|surface| surface.value.triangles().len());
            assert_eq!(found, expected, "{triangles:?}");
        };
        check(&[[0, 3, 1], [0, 3, 2]], Ok(2));
        check(&[], Err(NoSurface::TooFewPoints));
        check(&[[0, 1, 3], [0, 1, 2]], Err(NoSurface::BadTriangle { triangle: 1 }));
        check(&[[0, 1, 3], [0, 0, 2]], Err(NoSurface::BadTriangle { triangle: 1 }));
        check(&[[0, 1, 4]], Err(NoSurface::BadTriangle { triangle: 0 }));
    }
}
