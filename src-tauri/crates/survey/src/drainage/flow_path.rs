//! The way of a drop over a floor.

use super::NoDrainage;
use super::descent::{Descent, Next};
use super::outlets::{self, Drain, Outlet};
use crate::same_place::ONE_PLACE;
use crate::triangulation::Triangulation;
use crate::units::{Length, Slope};
use crate::{PlanPosition, Point};

/// A corner of a facet this near, as a share of the facet, is where a drop stands.
const AT_CORNER: f64 = 1.0 - 1e-9;

/// Where a drop runs.
#[derive(Debug, Clone, PartialEq)]
pub struct FlowPath {
    /// From where it was let go, every place where it meets an edge or a vertex, to where it ends; no height rises.
    pub places: Vec<Point>,
    pub end: FlowEnd,
}

/// Where a drop ends.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FlowEnd {
    Drain,
    /// It leaves over an open edge.
    OpenEdge,
    /// It stands: nothing beside it is lower. What gathers there is a pond, and spills where the pond spills.
    Stands,
}

impl FlowEnd {
    /// The name used on every wire: `open-edge`.
    pub fn name(self) -> &'static str {
        match self {
            Self::Drain => "drain",
            Self::OpenEdge => "open-edge",
            Self::Stands => "stands",
        }
    }
}

impl FlowPath {
    /// The length of the way on the plan.
    pub fn run(&self) -> Length {
        self.places.windows(2).filter_map(apart).fold(Length::ZERO, |sum, part| sum + part)
    }

    /// The mean fall along the way, down positive; `None` for a drop that does not move.
    pub fn fall(&self) -> Option<Slope> {
        let (first, last) = (self.places.first()?, self.places.last()?);
        let run = self.run();
        (run > Length::ZERO).then(|| Slope::ratio((first.z - last.z).to_mm() / run.to_mm()))
    }
}

fn apart(pair: &[Point]) -> Option<Length> {
    let [from, to] = pair else { return None };
    Some(Length::mm((to.x - from.x).to_mm().hypot((to.y - from.y).to_mm())))
}

/// The ways of drops let go at some places, heights up positive; `None` for a place off the surface.
///
/// Water runs straight down each facet, along a valley or a wall to its lower end, and on from a vertex by the steepest
/// way. It ends where it meets the drain or an open edge, or where it stands.
///
/// # Units
/// Places and heights in millimetres.
///
/// # Uncertainty
/// None: the ways over the readings as they stand.
///
/// # Errors
/// As [`super::drainage()`] for the drain and the open edges.
///
/// # Source
/// Steepest descent on a surface that is linear on each facet (definition our own).
///
/// ```
/// use survey::drainage::{Drain, FlowEnd, flow_paths};
/// use survey::triangulation::triangulate;
/// use survey::units::Length;
/// use survey::{PlanPosition, Point};
/// // A floor that falls 1 in 50 toward a drain along its left edge.
/// let corners = [(0.0, 0.0), (1000.0, 0.0), (0.0, 800.0), (1000.0, 800.0)];
/// let floor = triangulate(&corners.map(|(x, y)| Point::mm(x, y, x / 50.0)), &[]).unwrap().value;
/// let at = PlanPosition { x: Length::mm(700.0), y: Length::mm(300.0) };
/// let ways = flow_paths(&floor, &Drain::Vertices(vec![0, 2]), &[], &[at]).unwrap();
/// let way = ways[0].as_ref().unwrap();
/// assert_eq!(way.end, FlowEnd::Drain);
/// assert!((way.run().to_mm() - 700.0).abs() < 1e-9 && (way.fall().unwrap().to_ratio() - 0.02).abs() < 1e-12);
/// ```
pub fn flow_paths(
    surface: &Triangulation,
    drain: &Drain,
    open_edges: &[[usize; 2]],
    from: &[PlanPosition],
) -> Result<Vec<Option<FlowPath>>, NoDrainage> {
    let floor = outlets::drained(surface, drain, open_edges)?;
    let way = Descent::new(&floor);
    Ok(from.iter().map(|at| trace(&way, [at.x.to_mm(), at.y.to_mm()])).collect())
}

fn trace(way: &Descent, at: [f64; 2]) -> Option<FlowPath> {
    let (facet, weights) = way.mesh().locate(at, ONE_PLACE)?;
    let corners = way.mesh().triangles[facet];
    let z = corners.iter().zip(weights).map(|(&corner, weight)| weight * way.mesh().z[corner]).sum();
    let mut places = vec![Point::mm(at[0], at[1], z)];
    let standing = corners.into_iter().zip(weights).find(|&(_, weight)| weight >= AT_CORNER);
    let mut next = match standing {
        Some((vertex, _)) => Next::Down(vertex),
        None => off_the_facet(way, facet, at, &mut places),
    };
    // No way passes a vertex twice.
    for _ in 0..=way.mesh().xy.len() {
        next = match next {
            Next::Down(vertex) => {
                visit(&mut places, at_vertex(way, vertex));
                way.step(vertex)
            }
            Next::Over(edge) => way.run(way.across_from(edge), |edge, share| visit(&mut places, on(way, edge, share))),
            Next::Leaves(Outlet::Drain) => return Some(FlowPath { places, end: FlowEnd::Drain }),
            Next::Leaves(Outlet::Open) => return Some(FlowPath { places, end: FlowEnd::OpenEdge }),
            Next::Stands(_) => break,
        };
    }
    Some(FlowPath { places, end: FlowEnd::Stands })
}

/// From a place inside a facet to its edge and on.
fn off_the_facet(way: &Descent, facet: usize, at: [f64; 2], places: &mut Vec<Point>) -> Next {
    let aside = way.aside_at(facet, at);
    let comes_to = |&edge: &usize| {
        let ends = [way.mesh().from(edge), way.mesh().to(edge)].map(|vertex| way.aside(facet, vertex));
        way.flows_out(edge) && ends[0] <= aside && aside <= ends[1]
    };
    match (3 * facet..3 * facet + 3).find(comes_to) {
        Some(edge) if !way.is_level(facet) => {
            way.run((edge, way.share_at(edge, at)), |edge, share| visit(places, on(way, edge, share)))
        }
        _ => Next::Stands(way.mesh().triangles[facet][0]),
    }
}

fn visit(places: &mut Vec<Point>, place: Point) {
    if places.last().is_none_or(|last| apart(&[*last, place]).is_some_and(|run| run > Length::mm(ONE_PLACE))) {
        places.push(place);
    }
}

fn at_vertex(way: &Descent, vertex: usize) -> Point {
    let [x, y] = way.mesh().xy[vertex];
    Point::mm(x, y, way.mesh().z[vertex])
}

fn on(way: &Descent, edge: usize, share: f64) -> Point {
    let (from, to) = (at_vertex(way, way.mesh().from(edge)), at_vertex(way, way.mesh().to(edge)));
    let between = |from: Length, to: Length| from * (1.0 - share) + to * share;
    Point { x: between(from.x, to.x), y: between(from.y, to.y), z: between(from.z, to.z) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::triangulation::triangulate;
    use proptest::prelude::*;

    fn floor(height: impl Fn(f64, f64) -> f64) -> Triangulation {
        let place = |i: u32| (f64::from(i % 5) * 300.0, f64::from(i / 5) * 300.0);
        let points: Vec<Point> = (0..20).map(place).map(|(x, y)| Point::mm(x, y, height(x, y))).collect();
        triangulate(&points, &[]).expect("a grid").value
    }

    fn way(surface: &Triangulation, drain: usize, open: &[[usize; 2]], x: f64, y: f64) -> Option<FlowPath> {
        let at = PlanPosition { x: Length::mm(x), y: Length::mm(y) };
        flow_paths(surface, &Drain::Vertices(vec![drain]), open, &[at]).expect("a drain").remove(0)
    }

    #[test]
    fn a_drop_on_a_plane_runs_straight_down_and_then_along_the_wall() {
        let check = |open: &[[usize; 2]], end: FlowEnd, run: f64| {
            let found = way(&floor(|x, y| 0.02 * x + 0.01 * y), 0, open, 500.0, 200.0).expect("on the floor");
            assert_eq!(found.end, end);
            assert!((found.run().to_mm() - run).abs() < 1e-6, "{found:?}");
        };
        // Down by (2, 1): meets the wall y = 0 at x = 100, then along it to the drain in the corner.
        check(&[], FlowEnd::Drain, 400.0f64.hypot(200.0) + 100.0);
        check(&[[0, 1]], FlowEnd::OpenEdge, 400.0f64.hypot(200.0));
    }

    #[test]
    fn a_drop_in_a_hollow_stands_at_its_lowest_reading() {
        let surface = floor(|x, y| if x == 600.0 && y == 300.0 { -4.0 } else { 0.001 * x });
        let found = way(&surface, 0, &[], 700.0, 350.0).expect("on the floor");
        assert_eq!(found.end, FlowEnd::Stands);
        assert_eq!(found.places.last().map(|p| (p.x.to_mm(), p.y.to_mm(), p.z.to_mm())), Some((600.0, 300.0, -4.0)));
    }

    #[test]
    fn a_drop_on_a_level_floor_does_not_move_and_off_it_is_none() {
        let found = way(&floor(|_, _| 0.0), 0, &[], 700.0, 350.0).expect("on the floor");
        assert_eq!((found.end, found.places.len(), found.fall()), (FlowEnd::Stands, 1, None));
        assert_eq!(way(&floor(|_, _| 0.0), 0, &[], 7000.0, 350.0), None);
        let at_drain = way(&floor(|_, _| 0.0), 0, &[], 0.0, 0.0).expect("on the floor");
        assert_eq!((at_drain.end, at_drain.places.len()), (FlowEnd::Drain, 1));
    }

    proptest! {
        #[test]
        fn no_way_climbs_or_leaves_the_floor(
            z in prop::collection::vec(-3i32..4, 20), drain in 0usize..20, x in 0.0..1200.0f64, y in 0.0..900.0f64,
        ) {
            let surface = floor(|x, y| f64::from(z[(x / 300.0) as usize + 5 * (y / 300.0) as usize]));
            let found = way(&surface, drain, &[[4, 9]], x, y).expect("on the floor");
            for pair in found.places.windows(2) {
                prop_assert!(pair[1].z.at_most(pair[0].z + Length::mm(1e-9)), "{found:?}");
                let middle = PlanPosition { x: (pair[0].x + pair[1].x) * 0.5, y: (pair[0].y + pair[1].y) * 0.5 };
                let height = surface.height_at(middle).expect("on the floor");
                prop_assert!((height - (pair[0].z + pair[1].z) * 0.5).abs().to_mm() < 1e-6, "{found:?}");
            }
        }
    }
}
