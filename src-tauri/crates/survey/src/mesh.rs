//! A triangulated surface as plain arrays in mm, with the neighbour of every edge: what the bulk kernels walk on.

/// No half-edge: the edge is an outer edge.
pub(crate) const NONE: usize = usize::MAX;

/// Triangles over vertices, counter-clockwise seen from above.
///
/// Half-edge `3·t + k` runs from corner `k` of triangle `t` to its next corner.
#[derive(Debug, Clone)]
pub(crate) struct Mesh {
    pub(crate) xy: Vec<[f64; 2]>,
    pub(crate) z: Vec<f64>,
    pub(crate) triangles: Vec<[usize; 3]>,
    /// The half-edge on the other side, or [`NONE`].
    pub(crate) twin: Vec<usize>,
    /// Where the half-edges leaving each vertex begin in `leaving`.
    first: Vec<usize>,
    leaving: Vec<usize>,
}

impl Mesh {
    /// The mesh of triangles whose corners are all vertices.
    pub(crate) fn new(xy: Vec<[f64; 2]>, z: Vec<f64>, triangles: Vec<[usize; 3]>) -> Self {
        let (first, leaving) = half_edges_by_vertex(xy.len(), &triangles);
        let twin = twins(&triangles, &first, &leaving);
        Self { xy, z, triangles, twin, first, leaving }
    }

    /// The half-edges that start at a vertex; none for a vertex that is no corner.
    pub(crate) fn leaving(&self, vertex: usize) -> &[usize] {
        &self.leaving[self.first[vertex]..self.first[vertex + 1]]
    }

    pub(crate) fn from(&self, half_edge: usize) -> usize {
        self.triangles[half_edge / 3][half_edge % 3]
    }

    pub(crate) fn to(&self, half_edge: usize) -> usize {
        self.triangles[half_edge / 3][(half_edge % 3 + 1) % 3]
    }

    /// The corner across from a half-edge in its own triangle.
    pub(crate) fn opposite(&self, half_edge: usize) -> usize {
        self.triangles[half_edge / 3][(half_edge % 3 + 2) % 3]
    }

    pub(crate) fn is_corner(&self, vertex: usize) -> bool {
        self.first[vertex] < self.first[vertex + 1]
    }

    /// The plan corners of a triangle.
    pub(crate) fn plan(&self, triangle: usize) -> [[f64; 2]; 3] {
        self.triangles[triangle].map(|v| self.xy[v])
    }

    pub(crate) fn heights(&self, triangle: usize) -> [f64; 3] {
        self.triangles[triangle].map(|v| self.z[v])
    }

    /// The plan area of a triangle in mm².
    pub(crate) fn area(&self, triangle: usize) -> f64 {
        let [a, b, c] = self.plan(triangle);
        0.5 * cross(a, b, c)
    }

    /// The rise per mm toward x and y over a triangle.
    pub(crate) fn gradient(&self, triangle: usize) -> [f64; 2] {
        gradient(self.plan(triangle), self.heights(triangle))
    }

    /// Every half-edge with nothing on its other side.
    pub(crate) fn outer_edges(&self) -> impl Iterator<Item = usize> + '_ {
        (0..self.twin.len()).filter(|&edge| self.twin[edge] == NONE)
    }

    /// A triangle that holds a plan position within `slack` mm, and the weights of its corners there.
    pub(crate) fn locate(&self, at: [f64; 2], slack: f64) -> Option<(usize, [f64; 3])> {
        let mut nearest: Option<(f64, usize)> = None;
        for triangle in 0..self.triangles.len() {
            let outside = outside_by(self.plan(triangle), at);
            if outside <= 0.0 {
                return Some((triangle, weights(self.plan(triangle), at)));
            }
            if outside <= slack && nearest.is_none_or(|(least, _)| outside < least) {
                nearest = Some((outside, triangle));
            }
        }
        nearest.map(|(_, triangle)| (triangle, weights(self.plan(triangle), at)))
    }
}

/// Twice the signed area of the triangle a b c, positive counter-clockwise.
pub(crate) fn cross(a: [f64; 2], b: [f64; 2], c: [f64; 2]) -> f64 {
    (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
}

pub(crate) fn distance(a: [f64; 2], b: [f64; 2]) -> f64 {
    let (dx, dy) = (b[0] - a[0], b[1] - a[1]);
    // Lengths of a floor neither overflow nor vanish when squared.
    (dx * dx + dy * dy).sqrt()
}

/// The gradient of the plane through three corners.
pub(crate) fn gradient([a, b, c]: [[f64; 2]; 3], [za, zb, zc]: [f64; 3]) -> [f64; 2] {
    let twice = cross(a, b, c);
    let (rise_b, rise_c) = (zb - za, zc - za);
    let gx = rise_b * (c[1] - a[1]) - rise_c * (b[1] - a[1]);
    let gy = rise_c * (b[0] - a[0]) - rise_b * (c[0] - a[0]);
    [gx / twice, gy / twice]
}

/// The weights of three corners at a plan position; they sum to one.
pub(crate) fn weights([a, b, c]: [[f64; 2]; 3], at: [f64; 2]) -> [f64; 3] {
    let twice = cross(a, b, c);
    let (wb, wc) = (cross(a, at, c) / twice, cross(a, b, at) / twice);
    [1.0 - wb - wc, wb, wc]
}

/// How far a position lies beyond the farthest of a triangle's three sides; not above zero inside.
pub(crate) fn outside_by([a, b, c]: [[f64; 2]; 3], at: [f64; 2]) -> f64 {
    let beyond = |from, to| -cross(from, to, at) / distance(from, to);
    beyond(a, b).max(beyond(b, c)).max(beyond(c, a))
}

/// The half-edges sorted by the vertex they leave.
fn half_edges_by_vertex(vertices: usize, triangles: &[[usize; 3]]) -> (Vec<usize>, Vec<usize>) {
    let mut first = vec![0; vertices + 1];
    for &corner in triangles.iter().flatten() {
        first[corner + 1] += 1;
    }
    for vertex in 0..vertices {
        first[vertex + 1] += first[vertex];
    }
    let mut next = first.clone();
    let mut leaving = vec![0; triangles.len() * 3];
    for (half_edge, &corner) in triangles.iter().flatten().enumerate() {
        leaving[next[corner]] = half_edge;
        next[corner] += 1;
    }
    (first, leaving)
}

fn twins(triangles: &[[usize; 3]], first: &[usize], leaving: &[usize]) -> Vec<usize> {
    let end = |half_edge: usize| triangles[half_edge / 3][(half_edge % 3 + 1) % 3];
    let twin_of = |half_edge: usize| {
        let (from, to) = (triangles[half_edge / 3][half_edge % 3], end(half_edge));
        leaving[first[to]..first[to + 1]].iter().copied().find(|&other| end(other) == from)
    };
    (0..triangles.len() * 3).map(|half_edge| twin_of(half_edge).unwrap_or(NONE)).collect()
}
