//! Where water may leave: the drain set into the surface, and the edges left open.

use crate::boundary::{along_segment, from_segment};
use crate::drainage::NoDrainage;
use crate::mesh::{Mesh, cross, distance, outside_by};
use crate::point::PlanPosition;
use crate::same_place::ONE_PLACE;
use crate::triangulation::Triangulation;

/// The drain of a floor.
#[derive(Debug, Clone, PartialEq)]
pub enum Drain {
    /// Readings that stand on the drain.
    Vertices(Vec<usize>),
    /// A point drain at its centre.
    Point(PlanPosition),
    /// A linear drain from end to end.
    Line(PlanPosition, PlanPosition),
    /// Several, each of which takes water.
    Several(Vec<Drain>),
}

impl Drain {
    /// Its two ends in the plan in mm, the same place twice for a point; none where it is readings or is several.
    pub(crate) fn ends(&self) -> Option<[[f64; 2]; 2]> {
        match self {
            Drain::Point(at) => Some([plan(at), plan(at)]),
            Drain::Line(from, to) => Some([plan(from), plan(to)]),
            Drain::Vertices(_) | Drain::Several(_) => None,
        }
    }
}

/// Where water leaves a vertex or an edge.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Outlet {
    Drain,
    Open,
}

/// A vertex set into the surface: the readings and their weights that give its height.
#[derive(Debug, Clone, Copy)]
pub(crate) struct SetIn {
    corners: [usize; 3],
    weights: [f64; 3],
}

impl SetIn {
    /// The height of the surface there, given the heights of its readings.
    pub(crate) fn height(&self, z: &[f64]) -> f64 {
        self.corners.into_iter().zip(self.weights).map(|(corner, weight)| weight * z[corner]).sum()
    }
}

/// A surface with its drain set in: the vertices beyond the readings are the drain's own.
#[derive(Debug, Clone)]
pub(crate) struct Drained {
    pub(crate) mesh: Mesh,
    pub(crate) outlets: Vec<Option<Outlet>>,
    /// The half-edges at the outer edge that are open.
    pub(crate) open: Vec<bool>,
    pub(crate) set_in: Vec<SetIn>,
    /// The drain line, where the drain is one.
    pub(crate) line: Option<[[f64; 2]; 2]>,
}

/// Sets the drain into the surface and marks every outlet.
pub(crate) fn drained(
    surface: &Triangulation,
    drain: &Drain,
    open_edges: &[[usize; 2]],
) -> Result<Drained, NoDrainage> {
    let place = |vertex: usize| corner(surface, vertex);
    let mut knife = Knife::new(&surface.mesh);
    let (vertices, line) = set_in(surface, &mut knife, drain)?;
    if vertices.is_empty() {
        return Err(NoDrainage::NoDrain);
    }
    let (mesh, set_in) = knife.done();
    let mut outlets = vec![None; mesh.xy.len()];
    let mut open = vec![false; mesh.twin.len()];
    for (index, &[from, to]) in open_edges.iter().enumerate() {
        let edge = [place(from)?, place(to)?];
        for half_edge in along_outer_edge(&mesh, edge).ok_or(NoDrainage::NotAnOuterEdge { open_edge: index })? {
            open[half_edge] = true;
            outlets[mesh.from(half_edge)] = Some(Outlet::Open);
            outlets[mesh.to(half_edge)] = Some(Outlet::Open);
        }
    }
    vertices.into_iter().for_each(|vertex| outlets[vertex] = Some(Outlet::Drain));
    Ok(Drained { mesh, outlets, open, set_in, line })
}

/// Two ends of a line in the plan in mm.
type Line = [[f64; 2]; 2];

/// Where a reading stands in the mesh.
fn corner(surface: &Triangulation, vertex: usize) -> Result<usize, NoDrainage> {
    let place = surface.place_of(vertex).filter(|&place| surface.mesh.is_corner(place));
    place.ok_or(NoDrainage::NotOnSurface { vertex })
}

/// The vertices that a drain stands on, set into the mesh where there are none, and the line that it is.
fn set_in(
    surface: &Triangulation,
    knife: &mut Knife<'_>,
    drain: &Drain,
) -> Result<(Vec<usize>, Option<Line>), NoDrainage> {
    match drain {
        Drain::Vertices(vertices) => {
            let places = vertices.iter().map(|&vertex| corner(surface, vertex)).collect::<Result<Vec<usize>, _>>()?;
            let line = straight_through(&surface.mesh, &places);
            Ok((places, line))
        }
        Drain::Point(at) => Ok((vec![knife.set_in(plan(at)).ok_or(NoDrainage::DrainOutside)?], None)),
        Drain::Line(from, to) => {
            let line = [plan(from), plan(to)];
            Ok((knife.set_in_line(line)?, Some(line)))
        }
        Drain::Several(drains) => {
            let mut all = Vec::new();
            for drain in drains {
                all.extend(set_in(surface, knife, drain)?.0);
            }
            Ok((all, None))
        }
    }
}

fn plan(at: &PlanPosition) -> [f64; 2] {
    [at.x.to_mm(), at.y.to_mm()]
}

/// The line through drain vertices that stand on one.
fn straight_through(mesh: &Mesh, vertices: &[usize]) -> Option<[[f64; 2]; 2]> {
    let farthest = |from: usize| {
        let gap = |&vertex: &usize| distance(mesh.xy[from], mesh.xy[vertex]);
        vertices.iter().copied().max_by(|p, q| gap(p).total_cmp(&gap(q)))
    };
    let end = farthest(*vertices.first()?)?;
    let line = [mesh.xy[end], mesh.xy[farthest(end)?]];
    let on_line = |&vertex: &usize| from_segment(line, mesh.xy[vertex]) <= ONE_PLACE;
    (distance(line[0], line[1]) > ONE_PLACE && vertices.iter().all(on_line)).then_some(line)
}

/// The half-edges of the outer edge on the straight way between two of its vertices; `None` if there is no such way.
fn along_outer_edge(mesh: &Mesh, [from, to]: [usize; 2]) -> Option<Vec<usize>> {
    let line = [mesh.xy[from], mesh.xy[to]];
    let on_line = |vertex: usize| from_segment(line, mesh.xy[vertex]) <= ONE_PLACE;
    let mut found: Vec<usize> =
        mesh.outer_edges().filter(|&edge| on_line(mesh.from(edge)) && on_line(mesh.to(edge))).collect();
    let length: f64 = found.iter().map(|&edge| distance(mesh.xy[mesh.from(edge)], mesh.xy[mesh.to(edge)])).sum();
    found.sort_unstable();
    (from != to && (length - distance(line[0], line[1])).abs() <= ONE_PLACE * found.len() as f64).then_some(found)
}

/// Cuts a surface so that places on it become vertices; the surface itself stays as it is.
struct Knife<'a> {
    original: &'a Mesh,
    xy: Vec<[f64; 2]>,
    triangles: Vec<[usize; 3]>,
    set_in: Vec<SetIn>,
}

impl<'a> Knife<'a> {
    fn new(original: &'a Mesh) -> Self {
        let (xy, triangles) = (original.xy.clone(), original.triangles.clone());
        Self { original, xy, triangles, set_in: Vec::new() }
    }

    fn done(self) -> (Mesh, Vec<SetIn>) {
        if self.set_in.is_empty() {
            return (self.original.clone(), self.set_in);
        }
        let mut z = self.original.z.clone();
        z.extend(self.set_in.iter().map(|vertex| vertex.height(&self.original.z)));
        (Mesh::new(self.xy, z, self.triangles), self.set_in)
    }

    /// The vertex at a place on the surface, cut in where there is none; `None` off the surface.
    fn set_in(&mut self, at: [f64; 2]) -> Option<usize> {
        let (triangle, weights) = self.original.locate(at, ONE_PLACE)?;
        let corners = self.original.triangles[triangle];
        if let Some(vertex) = self.vertex_at(at) {
            return Some(vertex);
        }
        let inside = |triangle: &[usize; 3]| outside_by(triangle.map(|v| self.xy[v]), at);
        let outside = self.triangles.iter().map(inside).enumerate();
        let (holder, _) = outside.min_by(|p, q| p.1.total_cmp(&q.1))?;
        let side = |k: usize| {
            let corners = self.triangles[holder];
            [corners[k], corners[(k + 1) % 3]]
        };
        let on_side = (0..3).map(side).find(|edge| from_segment(edge.map(|v| self.xy[v]), at) <= ONE_PLACE);
        let vertex = self.add(at, corners, weights);
        match on_side {
            Some(edge) => self.cut_edge(edge, vertex, &(0..self.triangles.len()).collect::<Vec<_>>()),
            None => self.cut_inside(holder, vertex),
        }
        Some(vertex)
    }

    /// The vertices along a line on the surface, cut in at its ends and wherever it crosses an edge.
    fn set_in_line(&mut self, line: [[f64; 2]; 2]) -> Result<Vec<usize>, NoDrainage> {
        if distance(line[0], line[1]) <= ONE_PLACE {
            return Err(NoDrainage::DrainTooShort);
        }
        let ends = line.map(|end| self.set_in(end));
        let [Some(_), Some(_)] = ends else { return Err(NoDrainage::DrainOutside) };
        let mut touched = Vec::new();
        let mut crossings: Vec<([usize; 2], f64)> = Vec::new();
        for (index, &corners) in self.triangles.iter().enumerate() {
            let before = crossings.len();
            let edges = (0..3).map(|k| [corners[k], corners[(k + 1) % 3]]);
            crossings.extend(edges.filter_map(|edge| Some((edge, crossing(edge.map(|v| self.xy[v]), line)?))));
            touched.extend((crossings.len() > before).then_some(index));
        }
        for (edge, along) in crossings {
            let at = [0, 1].map(|axis| self.xy[edge[0]][axis] * (1.0 - along) + self.xy[edge[1]][axis] * along);
            if self.vertex_among(&touched, at).is_none() {
                let vertex = self.add(at, [edge[0], edge[1], edge[1]], [1.0 - along, along, 0.0]);
                let before = self.triangles.len();
                self.cut_edge(edge, vertex, &touched);
                touched.extend(before..self.triangles.len());
            }
        }
        let on_line = |&vertex: &usize| from_segment(line, self.xy[vertex]) <= ONE_PLACE;
        let mut vertices: Vec<usize> = self.triangles.iter().flatten().copied().filter(on_line).collect();
        vertices.sort_unstable();
        vertices.dedup();
        Ok(vertices)
    }

    fn vertex_at(&self, at: [f64; 2]) -> Option<usize> {
        self.triangles.iter().flatten().copied().find(|&vertex| distance(self.xy[vertex], at) <= ONE_PLACE)
    }

    fn vertex_among(&self, triangles: &[usize], at: [f64; 2]) -> Option<usize> {
        let corners = triangles.iter().flat_map(|&triangle| self.triangles[triangle]);
        corners.into_iter().find(|&vertex| distance(self.xy[vertex], at) <= ONE_PLACE)
    }

    fn add(&mut self, at: [f64; 2], corners: [usize; 3], weights: [f64; 3]) -> usize {
        self.xy.push(at);
        self.set_in.push(SetIn { corners, weights });
        self.xy.len() - 1
    }

    fn cut_inside(&mut self, triangle: usize, vertex: usize) {
        let [a, b, c] = self.triangles[triangle];
        self.triangles[triangle] = [a, b, vertex];
        self.triangles.extend([[b, c, vertex], [c, a, vertex]]);
    }

    /// Cuts the triangles on both sides of an edge at a vertex on it.
    fn cut_edge(&mut self, [from, to]: [usize; 2], vertex: usize, among: &[usize]) {
        for &triangle in among {
            let corners = self.triangles[triangle];
            let ends = |&k: &usize| [[from, to], [to, from]].contains(&[corners[k], corners[(k + 1) % 3]]);
            if let Some(k) = (0..3).find(ends) {
                let (mut near, mut far) = (corners, corners);
                near[(k + 1) % 3] = vertex;
                far[k] = vertex;
                self.triangles[triangle] = near;
                self.triangles.push(far);
            }
        }
    }
}

/// Where an edge is crossed by a line between, not at, its ends; counted once from the edge's lower index.
fn crossing(edge: [[f64; 2]; 2], line: [[f64; 2]; 2]) -> Option<f64> {
    let (p, q) = (cross(line[0], line[1], edge[0]), cross(line[0], line[1], edge[1]));
    if (p > 0.0) == (q > 0.0) || p == 0.0 || q == 0.0 {
        return None;
    }
    let along = p / (p - q);
    let at = [0, 1].map(|axis| edge[0][axis] * (1.0 - along) + edge[1][axis] * along);
    let clear = distance(at, edge[0]) > ONE_PLACE && distance(at, edge[1]) > ONE_PLACE;
    (clear && (0.0..=1.0).contains(&along_segment(line, at))).then_some(along)
}

impl Drained {
    /// The vertices where water leaves.
    pub(crate) fn outlet_vertices(&self) -> Vec<usize> {
        (0..self.outlets.len()).filter(|&vertex| self.outlets[vertex].is_some()).collect()
    }

    /// Whether an edge is part of the drain: both its ends are.
    pub(crate) fn is_drain(&self, half_edge: usize) -> bool {
        let drains = |vertex: usize| self.outlets[vertex] == Some(Outlet::Drain);
        drains(self.mesh.from(half_edge)) && drains(self.mesh.to(half_edge))
    }
}
