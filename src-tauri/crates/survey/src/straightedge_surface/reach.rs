//! How high the surface stands anywhere within reach of a place: what no bar there can rise above.

use crate::mesh::Mesh;

/// The highest vertex of each cell of a grid over the surface.
pub(super) struct Reach {
    origin: [f64; 2],
    cell: f64,
    columns: usize,
    highest: Vec<f64>,
    cells: usize,
}

impl Reach {
    pub(super) fn new(mesh: &Mesh, z: &[f64], length: f64) -> Self {
        let corners = || (0..mesh.xy.len()).filter(|&vertex| mesh.is_corner(vertex));
        let least = |axis: usize| corners().map(|v| mesh.xy[v][axis]).fold(f64::INFINITY, f64::min);
        let most = |axis: usize| corners().map(|v| mesh.xy[v][axis]).fold(f64::NEG_INFINITY, f64::max);
        let (origin, extent) = ([least(0), least(1)], (most(0) - least(0)).max(most(1) - least(1)).max(1.0));
        // A vertex beyond the length may hold up a facet within it, so cells count whole facets.
        let cell = (length / 4.0).max(extent / 64.0);
        let columns = (extent / cell) as usize + 1;
        let mut reach = Self {
            origin,
            cell,
            columns,
            highest: vec![f64::NEG_INFINITY; columns * columns],
            cells: (length / cell).ceil() as usize,
        };
        for triangle in 0..mesh.triangles.len() {
            let top = mesh.triangles[triangle].iter().map(|&v| z[v]).fold(f64::NEG_INFINITY, f64::max);
            reach.raise(mesh.plan(triangle), top);
        }
        reach
    }

    /// Raises every cell that a facet may touch.
    fn raise(&mut self, corners: [[f64; 2]; 3], top: f64) {
        let cells = corners.map(|corner| self.cell_of(corner));
        let span = |axis: usize| {
            let of = cells.map(|cell| cell[axis]);
            of.into_iter().min().unwrap_or(0)..=of.into_iter().max().unwrap_or(0)
        };
        for row in span(1) {
            for column in span(0) {
                let cell = &mut self.highest[row * self.columns + column];
                *cell = cell.max(top);
            }
        }
    }

    fn cell_of(&self, at: [f64; 2]) -> [usize; 2] {
        [0, 1].map(|axis| (((at[axis] - self.origin[axis]) / self.cell) as usize).min(self.columns - 1))
    }

    /// The highest the surface may stand within the length of a place.
    pub(super) fn highest(&self, at: [f64; 2]) -> f64 {
        let [column, row] = self.cell_of(at);
        let span = |middle: usize| middle.saturating_sub(self.cells)..(middle + self.cells + 1).min(self.columns);
        let cells = span(row).flat_map(|row| span(column).map(move |column| (row, column)));
        cells.map(|(row, column)| self.highest[row * self.columns + column]).fold(f64::NEG_INFINITY, f64::max)
    }
}
