//! The way of water over a surface: straight down each facet, across edges, along valleys and walls, from vertex to
//! vertex.

use super::outlets::{Drained, Outlet};
use crate::mesh::{Mesh, NONE, distance};

/// A facet this level, in mm per mm, sheds no water of its own.
const LEVEL: f64 = 1e-12;
/// Two places along an edge this near, as a share of it, are one.
pub(super) const NEAR: f64 = 1e-12;

/// What becomes of water at an edge or a vertex.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Next {
    /// It runs on over a facet, entering through this half-edge, or from the corner where the half-edge starts.
    Over(usize),
    /// It leaves the floor.
    Leaves(Outlet),
    /// It runs along the edge to its lower end.
    Down(usize),
    /// Nothing beside this vertex is lower.
    Stands(usize),
}

/// A surface with its drain, and the direction of steepest descent of each facet.
pub(super) struct Descent<'a> {
    pub(super) floor: &'a Drained,
    /// Scaled by the slope.
    descent: Vec<[f64; 2]>,
}

impl<'a> Descent<'a> {
    pub(super) fn new(floor: &'a Drained) -> Self {
        let descent = (0..floor.mesh.triangles.len()).map(|facet| floor.mesh.gradient(facet).map(|rise| -rise));
        Self { floor, descent: descent.collect() }
    }

    pub(super) fn mesh(&self) -> &'a Mesh {
        &self.floor.mesh
    }

    pub(super) fn is_level(&self, facet: usize) -> bool {
        self.slope(facet) <= LEVEL
    }

    fn slope(&self, facet: usize) -> f64 {
        self.descent[facet][0].hypot(self.descent[facet][1])
    }

    /// How far to the left of the flow over a facet a vertex lies.
    pub(super) fn aside(&self, facet: usize, vertex: usize) -> f64 {
        self.aside_at(facet, self.floor.mesh.xy[vertex])
    }

    /// How far to the left of the flow over a facet a place lies.
    pub(super) fn aside_at(&self, facet: usize, [x, y]: [f64; 2]) -> f64 {
        let [dx, dy] = self.descent[facet];
        let [x0, y0] = self.floor.mesh.xy[self.floor.mesh.triangles[facet][0]];
        dx * (y - y0) - dy * (x - x0)
    }

    /// Whether water on a facet leaves it through one of its half-edges.
    pub(super) fn flows_out(&self, half_edge: usize) -> bool {
        self.leftward(half_edge) > NEAR * self.slope(half_edge / 3) * self.length(half_edge)
    }

    fn flows_in(&self, half_edge: usize) -> bool {
        -self.leftward(half_edge) > NEAR * self.slope(half_edge / 3) * self.length(half_edge)
    }

    /// How far a half-edge runs to the left of the flow over its own facet.
    fn leftward(&self, half_edge: usize) -> f64 {
        let (facet, mesh) = (half_edge / 3, self.mesh());
        self.aside(facet, mesh.to(half_edge)) - self.aside(facet, mesh.from(half_edge))
    }

    fn length(&self, half_edge: usize) -> f64 {
        let mesh = self.mesh();
        distance(mesh.xy[mesh.from(half_edge)], mesh.xy[mesh.to(half_edge)])
    }

    /// What becomes of water that comes to an edge from its own facet.
    pub(super) fn next(&self, half_edge: usize) -> Next {
        let mesh = self.mesh();
        if self.floor.is_drain(half_edge) {
            return Next::Leaves(Outlet::Drain);
        }
        if self.floor.open[half_edge] {
            return Next::Leaves(Outlet::Open);
        }
        let twin = mesh.twin[half_edge];
        if twin != NONE && !self.is_level(twin / 3) && self.flows_in(twin) {
            return Next::Over(twin);
        }
        let (from, to) = (mesh.from(half_edge), mesh.to(half_edge));
        Next::Down(if mesh.z[from] < mesh.z[to] { from } else { to })
    }

    /// Where along an entry, or beyond it, the flow through the corner across enters: the flow parts there.
    pub(super) fn split(&self, entry: usize) -> f64 {
        let facet = entry / 3;
        let mesh = &self.floor.mesh;
        let from = self.aside(facet, mesh.from(entry));
        let width = self.aside(facet, mesh.to(entry)) - from;
        (self.aside(facet, mesh.opposite(entry)) - from) / width
    }

    /// Where water that enters a facet through a half-edge, at a share of it, leaves the facet.
    pub(super) fn beyond(&self, entry: usize, share: f64) -> (usize, f64) {
        let split = self.split(entry);
        let (side, near, far) = self.side(entry, share, split);
        (side, ((near - share) / (near - far)).clamp(0.0, 1.0))
    }

    /// The half-edge through which water leaves that entered at a share, and the shares of the entry whose water leaves
    /// at its start and at its end.
    pub(super) fn side(&self, entry: usize, share: f64, split: f64) -> (usize, f64, f64) {
        let before = share < split;
        // Before the split it leaves through the side that ends where the entry starts, after it through the other.
        let side = 3 * (entry / 3) + (entry % 3 + if before { 2 } else { 1 }) % 3;
        if before { (side, split, 0.0) } else { (side, 1.0, split) }
    }

    /// From a vertex: down the steepest way.
    pub(super) fn step(&self, vertex: usize) -> Next {
        let mesh = self.mesh();
        if let Some(outlet) = self.floor.outlets[vertex] {
            return Next::Leaves(outlet);
        }
        let (mut steepest, mut next) = (0.0, Next::Stands(vertex));
        for &edge in mesh.leaving(vertex) {
            let slope = self.slope(edge / 3);
            if slope > steepest && self.flows_in_from_corner(edge) {
                (steepest, next) = (slope, Next::Over(edge));
            }
            let before = 3 * (edge / 3) + (edge % 3 + 2) % 3;
            for (end, along) in [(mesh.to(edge), edge), (mesh.from(before), before)] {
                let slope = (mesh.z[vertex] - mesh.z[end]) / self.length(along);
                if slope > steepest {
                    (steepest, next) = (slope, Next::Down(end));
                }
            }
        }
        next
    }

    /// Whether the flow over a facet runs from the start of this half-edge into the facet.
    fn flows_in_from_corner(&self, half_edge: usize) -> bool {
        let facet = half_edge / 3;
        let corner = self.aside(facet, self.floor.mesh.from(half_edge));
        let (right, left) =
            (self.aside(facet, self.floor.mesh.to(half_edge)), self.aside(facet, self.floor.mesh.opposite(half_edge)));
        let opposite = 3 * facet + (half_edge % 3 + 1) % 3;
        !self.is_level(facet) && right < corner && corner < left && self.flows_out(opposite)
    }

    /// Where the flow from the corner at the start of a half-edge leaves its facet.
    pub(super) fn across_from(&self, start: usize) -> (usize, f64) {
        let facet = start / 3;
        let edge = 3 * facet + (start % 3 + 1) % 3;
        (edge, self.share_at(edge, self.mesh().xy[self.mesh().from(start)]))
    }

    /// Where along a half-edge the flow from a place on its facet comes to it, as a share from 0 to 1.
    pub(super) fn share_at(&self, half_edge: usize, place: [f64; 2]) -> f64 {
        let from = self.aside(half_edge / 3, self.mesh().from(half_edge));
        ((self.aside_at(half_edge / 3, place) - from) / self.leftward(half_edge)).clamp(0.0, 1.0)
    }

    /// On from where water leaves a facet, over as many as it crosses; `visit` is told each edge and the share of it.
    pub(super) fn run(&self, leaving: (usize, f64), mut visit: impl FnMut(usize, f64)) -> Next {
        let (mut edge, mut share) = leaving;
        for _ in 0..4 * self.mesh().triangles.len() + 16 {
            visit(edge, share);
            match self.next(edge) {
                Next::Over(entry) => (edge, share) = self.beyond(entry, 1.0 - share),
                other => return other,
            }
        }
        Next::Stands(self.mesh().from(edge))
    }
}
