//! The profile of a surface along a straight line on the plan, edge by edge.

use crate::mesh::{Mesh, NONE};

/// A vertex nearer to a line than this, in mm, is on it.
const ON_LINE: f64 = 1e-7;

/// Where a line crosses an edge of the surface, or stands on a vertex.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Crossing {
    /// How far along the line, in mm.
    pub(crate) along: f64,
    pub(crate) z: f64,
    /// The ends of the edge, and the share of the way from the first to the second.
    pub(crate) edge: [usize; 2],
    pub(crate) share: f64,
}

impl Crossing {
    /// The sum of the squares of the weights of the readings.
    pub(crate) fn squares(&self) -> f64 {
        self.share * self.share + (1.0 - self.share) * (1.0 - self.share)
    }
}

/// Where a line starts.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Start {
    Vertex(usize),
    /// On a half-edge, at a share of the way along it.
    OnEdge(usize, f64),
}

/// To which side of a line the vertices on it are counted: the line passes just beside them on the other.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Lean {
    Left,
    Right,
}

/// A surface that lines are followed over; its heights may differ from the mesh's by a plane.
pub(crate) struct Surface<'a> {
    pub(crate) mesh: &'a Mesh,
    pub(crate) z: Vec<f64>,
}

impl<'a> Surface<'a> {
    /// The surface less its best plane, which no gap depends on: small numbers lose fewer digits.
    pub(crate) fn new(mesh: &'a Mesh) -> Self {
        Self { mesh, z: without_plane(mesh) }
    }

    pub(crate) fn at(&self, start: Start) -> Crossing {
        let (edge, share) = match start {
            Start::Vertex(vertex) => ([vertex, vertex], 0.0),
            Start::OnEdge(half_edge, share) => ([self.mesh.from(half_edge), self.mesh.to(half_edge)], share),
        };
        Crossing { along: 0.0, z: self.z[edge[0]] * (1.0 - share) + self.z[edge[1]] * share, edge, share }
    }

    pub(crate) fn place(&self, crossing: &Crossing) -> [f64; 2] {
        let [from, to] = crossing.edge.map(|vertex| self.mesh.xy[vertex]);
        [0, 1].map(|axis| from[axis] * (1.0 - crossing.share) + to[axis] * crossing.share)
    }

    /// The crossings from a start in a direction of length one, the start first, until the surface ends or the first
    /// crossing beyond `reach`.
    pub(crate) fn follow(&self, start: Start, direction: [f64; 2], lean: Lean, reach: f64, out: &mut Vec<Crossing>) {
        out.clear();
        let first = self.at(start);
        out.push(first);
        let line = Line { from: self.place(&first), direction, lean };
        let Some(mut exit) = self.first_exit(start, &line) else { return };
        for _ in 0..3 * self.mesh.triangles.len() {
            let crossing = exit.crossing(self);
            out.push(crossing);
            if crossing.along > reach || self.mesh.twin[exit.half_edge] == NONE {
                return;
            }
            exit = self.next_exit(exit, &line);
        }
    }

    fn first_exit(&self, start: Start, line: &Line) -> Option<Exit> {
        match start {
            Start::Vertex(vertex) => self.mesh.leaving(vertex).iter().find_map(|&edge| {
                let across = edge / 3 * 3 + (edge % 3 + 1) % 3;
                let (right, left) = (line.side(self, self.mesh.to(edge)), line.side(self, self.mesh.opposite(edge)));
                (line.is_right(right) && !line.is_right(left)).then(|| Exit::new(self, across, right, left, line))
            }),
            Start::OnEdge(edge, _) => {
                let (from, to) = (line.side(self, self.mesh.from(edge)), line.side(self, self.mesh.to(edge)));
                match (line.is_right(from), line.is_right(to)) {
                    (false, true) => Some(self.cross_triangle(edge, to, from, line)),
                    (true, false) if self.mesh.twin[edge] != NONE => {
                        Some(self.cross_triangle(self.mesh.twin[edge], from, to, line))
                    }
                    _ => None,
                }
            }
        }
    }

    fn next_exit(&self, exit: Exit, line: &Line) -> Exit {
        self.cross_triangle(self.mesh.twin[exit.half_edge], exit.right, exit.left, line)
    }

    /// Through the triangle of the half-edge that is entered, its start on the left.
    fn cross_triangle(&self, entered: usize, right: f64, left: f64, line: &Line) -> Exit {
        let tip = line.side(self, self.mesh.opposite(entered));
        let (base, k) = (entered / 3 * 3, entered % 3);
        if line.is_right(tip) {
            Exit::new(self, base + (k + 2) % 3, tip, left, line)
        } else {
            Exit::new(self, base + (k + 1) % 3, right, tip, line)
        }
    }
}

struct Line {
    from: [f64; 2],
    direction: [f64; 2],
    lean: Lean,
}

impl Line {
    /// How far a vertex lies to the left of the line.
    fn side(&self, surface: &Surface, vertex: usize) -> f64 {
        let [x, y] = surface.mesh.xy[vertex];
        let side = self.direction[0] * (y - self.from[1]) - self.direction[1] * (x - self.from[0]);
        if side.abs() <= ON_LINE { 0.0 } else { side }
    }

    fn is_right(&self, side: f64) -> bool {
        side < 0.0 || (side == 0.0 && self.lean == Lean::Right)
    }

    fn along(&self, surface: &Surface, vertex: usize) -> f64 {
        let [x, y] = surface.mesh.xy[vertex];
        self.direction[0] * (x - self.from[0]) + self.direction[1] * (y - self.from[1])
    }
}

/// The edge through which a line leaves a triangle: it starts on the right of the line and ends on its left.
#[derive(Clone, Copy)]
struct Exit {
    half_edge: usize,
    right: f64,
    left: f64,
    along: [f64; 2],
}

impl Exit {
    fn new(surface: &Surface, half_edge: usize, right: f64, left: f64, line: &Line) -> Self {
        let along = [surface.mesh.from(half_edge), surface.mesh.to(half_edge)].map(|v| line.along(surface, v));
        Self { half_edge, right, left, along }
    }

    fn crossing(&self, surface: &Surface) -> Crossing {
        let apart = self.left - self.right;
        let share = if apart > 0.0 { -self.right / apart } else { 0.0 };
        let edge = [surface.mesh.from(self.half_edge), surface.mesh.to(self.half_edge)];
        let between = |from: f64, to: f64| from + share * (to - from);
        let along = between(self.along[0], self.along[1]);
        Crossing { along, z: between(surface.z[edge[0]], surface.z[edge[1]]), edge, share }
    }
}

fn without_plane(mesh: &Mesh) -> Vec<f64> {
    let corners: Vec<usize> = (0..mesh.xy.len()).filter(|&vertex| mesh.is_corner(vertex)).collect();
    let n = corners.len().max(1) as f64;
    let mean = |of: &dyn Fn(usize) -> f64| corners.iter().map(|&vertex| of(vertex) / n).sum::<f64>();
    let (x, y, z) = (mean(&|v| mesh.xy[v][0]), mean(&|v| mesh.xy[v][1]), mean(&|v| mesh.z[v]));
    let sum = |of: &dyn Fn(usize) -> f64| corners.iter().map(|&vertex| of(vertex)).sum::<f64>();
    let (dx, dy) = (|v: usize| mesh.xy[v][0] - x, |v: usize| mesh.xy[v][1] - y);
    let (xx, xy, yy) = (sum(&|v| dx(v) * dx(v)), sum(&|v| dx(v) * dy(v)), sum(&|v| dy(v) * dy(v)));
    let (xz, yz) = (sum(&|v| dx(v) * (mesh.z[v] - z)), sum(&|v| dy(v) * (mesh.z[v] - z)));
    let twice = xx * yy - xy * xy;
    let (a, b) = ((xz * yy - yz * xy) / twice, (yz * xx - xz * xy) / twice);
    let (a, b) = if a.is_finite() && b.is_finite() { (a, b) } else { (0.0, 0.0) };
    (0..mesh.xy.len()).map(|v| mesh.z[v] - z - a * dx(v) - b * dy(v)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A 3 × 3 grid of 100 mm squares with z = x² / 1000 at its vertices.
    fn grid() -> Mesh {
        let xy: Vec<[f64; 2]> = (0..9).map(|i| [f64::from(i % 3) * 100.0, f64::from(i / 3) * 100.0]).collect();
        let square = |i: usize| [[i, i + 1, i + 4], [i, i + 4, i + 3]];
        let z = xy.iter().map(|[x, _]| x * x / 1000.0).collect();
        Mesh::new(xy, z, [0, 1, 3, 4].into_iter().flat_map(square).collect())
    }

    fn profile(start: Start, direction: [f64; 2], lean: Lean) -> Vec<(f64, f64)> {
        let mesh = grid();
        let surface = Surface { mesh: &mesh, z: mesh.z.clone() };
        let mut out = Vec::new();
        surface.follow(start, direction, lean, 1e9, &mut out);
        let mut found: Vec<(f64, f64)> = out.iter().map(|crossing| (crossing.along, crossing.z)).collect();
        found.dedup_by(|p, q| (p.0 - q.0).abs() < 1e-9);
        found
    }

    #[test]
    fn a_line_along_a_wall_is_followed_to_its_end() {
        let check = |start: usize, direction: [f64; 2], lean: Lean, expected: &[(f64, f64)]| {
            assert_eq!(profile(Start::Vertex(start), direction, lean), expected, "{start} {direction:?} {lean:?}");
        };
        let rising = [(0.0, 0.0), (100.0, 10.0), (200.0, 40.0)];
        check(0, [1.0, 0.0], Lean::Right, &rising);
        check(6, [1.0, 0.0], Lean::Left, &rising);
        check(3, [1.0, 0.0], Lean::Left, &rising);
        check(3, [1.0, 0.0], Lean::Right, &rising);
        check(0, [1.0, 0.0], Lean::Left, &rising[..1]);
        check(8, [-1.0, 0.0], Lean::Right, &[(0.0, 40.0), (100.0, 10.0), (200.0, 0.0)]);
    }

    #[test]
    fn a_line_from_an_edge_runs_both_ways() {
        // Half-edge 1 runs from vertex 1 up to vertex 4.
        let forward = profile(Start::OnEdge(1, 0.5), [1.0, 0.0], Lean::Left);
        assert_eq!(forward, [(0.0, 10.0), (50.0, 25.0), (100.0, 40.0)]);
        let back = profile(Start::OnEdge(1, 0.5), [-1.0, 0.0], Lean::Left);
        assert_eq!(back, [(0.0, 10.0), (50.0, 5.0), (100.0, 0.0)]);
    }
}
