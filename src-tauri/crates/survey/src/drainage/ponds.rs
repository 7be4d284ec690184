//! Where water stands: the ponds of a flooded surface, clipped facet by facet.

use crate::drainage::flood::{Flood, Network};
use crate::mesh::{Mesh, NONE};
use crate::prism::prism;
use crate::units::{Area, Estimate, Length, Volume};

/// Water that stands at one level with no way out.
#[derive(Debug, Clone, PartialEq)]
pub struct Pond {
    /// The height at which it spills.
    pub level: Length,
    /// From the level down to its lowest vertex.
    pub depth: Length,
    pub area: Area,
    pub volume: Volume,
    /// The readings under water, in order.
    pub vertices: Vec<usize>,
}

impl Pond {
    /// The depth with its standard uncertainty: a difference of two readings, that where it spills and its lowest.
    pub fn depth_read_with(&self, reading_sd: Length) -> Estimate<Length> {
        Estimate::new(self.depth, reading_sd * 2.0_f64.sqrt())
    }
}

/// A vertex under water by no more than this, in mm, is at the level and counts as dry.
const AT_THE_LEVEL: f64 = 1e-6;

/// The depth of the deepest pond, in mm; zero where nothing stands.
pub(crate) fn deepest(flood: &Flood, z: &[f64]) -> f64 {
    let depth = |(level, z): (&f64, &f64)| if level.is_finite() { level - z } else { 0.0 };
    flood.level.iter().zip(z).map(depth).fold(0.0, f64::max)
}

/// The ponds, largest volume first.
pub(crate) fn ponds(mesh: &Mesh, network: &Network, flood: &Flood) -> Vec<Pond> {
    let (pond_of, members) = connected(mesh, network, flood);
    let mut water = vec![(0.0, 0.0); members.len()];
    for triangle in 0..mesh.triangles.len() {
        let Some(pond) = mesh.triangles[triangle].into_iter().map(|v| pond_of[v]).find(|&pond| pond != NONE) else {
            continue;
        };
        let level = members[pond].first().map_or(0.0, |&vertex| flood.level[vertex]);
        let (area, volume) = prism(mesh.area(triangle), mesh.heights(triangle).map(|z| level - z));
        water[pond].0 += area;
        water[pond].1 += volume;
    }
    let mut ponds: Vec<Pond> =
        members.into_iter().zip(water).map(|(vertices, water)| pond(mesh, flood, vertices, water)).collect();
    ponds.sort_by(|p, q| q.volume.to_litres().total_cmp(&p.volume.to_litres()).then(p.vertices.cmp(&q.vertices)));
    ponds
}

fn pond(mesh: &Mesh, flood: &Flood, mut vertices: Vec<usize>, (area, volume): (f64, f64)) -> Pond {
    vertices.sort_unstable();
    let level = vertices.first().map_or(0.0, |&vertex| flood.level[vertex]);
    let lowest = vertices.iter().map(|&vertex| mesh.z[vertex]).fold(level, f64::min);
    Pond {
        level: Length::mm(level),
        depth: Length::mm(level - lowest),
        area: Area::mm2(area),
        volume: Volume::litres(volume * 1e-6),
        vertices,
    }
}

/// The pond of every vertex, [`NONE`] on dry ones, and the vertices of every pond.
fn connected(mesh: &Mesh, network: &Network, flood: &Flood) -> (Vec<usize>, Vec<Vec<usize>>) {
    let wet = |v: usize| flood.level[v].is_finite() && flood.level[v] - mesh.z[v] > AT_THE_LEVEL;
    let mut pond_of = vec![NONE; network.len()];
    let mut members: Vec<Vec<usize>> = Vec::new();
    for start in 0..network.len() {
        if pond_of[start] != NONE || !wet(start) {
            continue;
        }
        let (pond, mut found, mut next) = (members.len(), vec![start], 0);
        pond_of[start] = pond;
        while let Some(&vertex) = found.get(next) {
            next += 1;
            for end in network.joined_to(vertex).iter().map(|&end| end as usize) {
                if pond_of[end] == NONE && wet(end) {
                    pond_of[end] = pond;
                    found.push(end);
                }
            }
        }
        members.push(found);
    }
    (pond_of, members)
}
