//! How high water must stand at a vertex before it finds a way out.

use std::cmp::Reverse;
use std::collections::BinaryHeap;

use crate::mesh::{Mesh, NONE};

/// The vertices each vertex is joined to.
#[derive(Debug, Clone)]
pub(crate) struct Network {
    first: Vec<u32>,
    ends: Vec<u32>,
}

impl Network {
    pub(crate) fn new(mesh: &Mesh) -> Self {
        let mut first = vec![0; mesh.xy.len() + 1];
        joins(mesh, |from, _| first[from + 1] += 1);
        for vertex in 0..mesh.xy.len() {
            first[vertex + 1] += first[vertex];
        }
        let mut next = first.clone();
        let mut ends = vec![0; first[mesh.xy.len()] as usize];
        joins(mesh, |from, to| {
            ends[next[from] as usize] = to as u32;
            next[from] += 1;
        });
        Self { first, ends }
    }

    pub(crate) fn joined_to(&self, vertex: usize) -> &[u32] {
        &self.ends[self.first[vertex] as usize..self.first[vertex + 1] as usize]
    }

    pub(crate) fn len(&self) -> usize {
        self.first.len() - 1
    }
}

/// Every two vertices that are joined, both ways.
fn joins(mesh: &Mesh, mut joined: impl FnMut(usize, usize)) {
    for (&[a, b, c], twins) in mesh.triangles.iter().zip(mesh.twin.chunks_exact(3)) {
        for ((from, to), twin) in [(a, b), (b, c), (c, a)].into_iter().zip(twins) {
            joined(from, to);
            if *twin == NONE {
                joined(to, from);
            }
        }
    }
}

/// The spill level of every vertex, and the vertex its water goes to next on its way out.
#[derive(Debug, Clone, Default)]
pub(crate) struct Flood {
    /// The smallest, over the ways out along edges, of the highest vertex passed; infinite without a way out.
    pub(crate) level: Vec<f64>,
    /// The next vertex on that way; an outlet leads to itself, a vertex without a way out to [`NONE`].
    pub(crate) toward: Vec<usize>,
    waiting: BinaryHeap<Reverse<(u64, u32)>>,
    drowned: Vec<u32>,
}

impl Flood {
    /// Floods anew from the outlets over these heights, keeping what memory there is.
    ///
    /// # Source
    /// Priority flood with a stack for drowned vertices (Barnes, Lehman and Mulla 2014; recalled, not read).
    pub(crate) fn run(&mut self, network: &Network, z: &[f64], outlets: &[usize]) {
        self.level.clear();
        self.level.resize(network.len(), f64::INFINITY);
        self.toward.clear();
        self.toward.resize(network.len(), NONE);
        for &outlet in outlets {
            self.level[outlet] = z[outlet];
            self.toward[outlet] = outlet;
            self.waiting.push(Reverse((in_order(z[outlet]), outlet as u32)));
        }
        while let Some(Reverse((_, vertex))) = self.waiting.pop() {
            self.spread(network, z, vertex as usize);
            while let Some(vertex) = self.drowned.pop() {
                self.spread(network, z, vertex as usize);
            }
        }
    }

    fn spread(&mut self, network: &Network, z: &[f64], vertex: usize) {
        let level = self.level[vertex];
        for &end in network.joined_to(vertex) {
            let next = end as usize;
            if self.toward[next] != NONE {
                continue;
            }
            self.toward[next] = vertex;
            if z[next] <= level {
                self.level[next] = level;
                self.drowned.push(end);
            } else {
                self.level[next] = z[next];
                self.waiting.push(Reverse((in_order(z[next]), end)));
            }
        }
    }
}

/// A whole number in the order of the height.
fn in_order(z: f64) -> u64 {
    let bits = z.to_bits();
    if bits >> 63 == 1 { !bits } else { bits | 1 << 63 }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// A strip of squares cut into triangles.
    fn strip(z: Vec<f64>) -> Mesh {
        let xy = (0..z.len()).map(|i| [(i / 2) as f64, (i % 2) as f64]).collect();
        let triangles =
            (0..z.len().saturating_sub(2)).map(|i| if i % 2 == 0 { [i, i + 2, i + 1] } else { [i, i + 1, i + 2] });
        Mesh::new(xy, z, triangles.collect())
    }

    /// The spill levels by relaxing every edge until nothing changes.
    fn slowly(mesh: &Mesh, network: &Network, outlets: &[usize]) -> Vec<f64> {
        let mut level = vec![f64::INFINITY; mesh.z.len()];
        outlets.iter().for_each(|&outlet| level[outlet] = mesh.z[outlet]);
        for _ in 0..mesh.z.len() {
            for vertex in 0..mesh.z.len() {
                for &end in network.joined_to(vertex) {
                    level[vertex] = level[vertex].min(level[end as usize].max(mesh.z[vertex]));
                }
            }
        }
        level
    }

    proptest! {
        #[test]
        fn the_flood_is_the_lowest_pass(z in prop::collection::vec(-5i32..5, 6..40), outlet in 0usize..6) {
            let mesh = strip(z.into_iter().map(f64::from).collect());
            let network = Network::new(&mesh);
            let mut flood = Flood::default();
            flood.run(&network, &mesh.z, &[outlet]);
            prop_assert_eq!(&flood.level, &slowly(&mesh, &network, &[outlet]));
        }
    }
}
