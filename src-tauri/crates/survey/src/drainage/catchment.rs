//! Whose water leaves where: every facet split along the steepest descent and followed to its outlet, exactly.

use super::descent::{Descent, NEAR, Next};
use super::flood::Flood;
use super::outlets::{Drained, Outlet};
use crate::mesh::NONE;

/// The plan area in mm² whose water leaves over an open edge.
///
/// Water runs straight down each facet, along a valley or a wall to its lower end, and on from there by the steepest
/// way; what reaches a pond goes where the pond spills.
pub(crate) fn escaping_area(floor: &Drained, flood: &Flood) -> f64 {
    if !floor.open.contains(&true) {
        return 0.0;
    }
    let mut paths = Paths::new(floor, flood);
    (0..floor.mesh.triangles.len()).map(|facet| paths.escaping_from(facet)).sum()
}

/// Water on its way out of a facet through a stretch of one of its edges.
#[derive(Debug, Clone, Copy)]
struct Stream {
    half_edge: usize,
    /// The stretch, as shares of the half-edge.
    from: f64,
    to: f64,
    /// The area per share of the edge, at both ends of the stretch.
    first: f64,
    last: f64,
}

impl Stream {
    fn area(&self) -> f64 {
        0.5 * (self.first + self.last) * (self.to - self.from)
    }

    fn part(&self, from: f64, to: f64) -> Self {
        let at = |share: f64| self.first + (self.last - self.first) * (share - self.from) / (self.to - self.from);
        Self { from, to, first: at(from), last: at(to), ..*self }
    }
}

struct Paths<'a> {
    way: Descent<'a>,
    flood: &'a Flood,
    /// Whether the water at each vertex leaves over an open edge, once it is known.
    known: Vec<Option<bool>>,
    /// How many crossings may still be followed: beyond any real floor, so that odd numbers cannot hold it up.
    crossings: usize,
}

impl<'a> Paths<'a> {
    fn new(floor: &'a Drained, flood: &'a Flood) -> Self {
        let count = floor.mesh.triangles.len();
        let crossings = (count + 16).saturating_mul(count.min(4096) + 16);
        Self { way: Descent::new(floor), flood, known: vec![None; floor.outlets.len()], crossings }
    }

    fn escaping_from(&mut self, facet: usize) -> f64 {
        let mesh = self.way.mesh();
        if self.way.is_level(facet) {
            return if self.spills(mesh.triangles[facet][0]) { mesh.area(facet) } else { 0.0 };
        }
        let mut streams = self.sources(facet);
        let mut escaping = 0.0;
        while let Some(stream) = streams.pop() {
            let leaves = match self.way.next(stream.half_edge) {
                Next::Over(_) if self.crossings == 0 => self.spills(mesh.from(stream.half_edge)),
                Next::Over(entry) => {
                    self.crossings -= 1;
                    streams.extend(self.across(stream, entry));
                    continue;
                }
                Next::Leaves(outlet) => outlet == Outlet::Open,
                Next::Down(vertex) | Next::Stands(vertex) => self.leaves_from(vertex),
            };
            escaping += if leaves { stream.area() } else { 0.0 };
        }
        escaping
    }

    /// The rain on a facet, where it leaves the facet.
    fn sources(&self, facet: usize) -> Vec<Stream> {
        let mesh = self.way.mesh();
        let mut across = mesh.triangles[facet].map(|vertex| self.way.aside(facet, vertex));
        across.sort_by(f64::total_cmp);
        let [right, middle, left] = across;
        let peak = 2.0 * mesh.area(facet) / (left - right);
        let depth = |at: f64| {
            let share = if at < middle { (at - right) / (middle - right) } else { (left - at) / (left - middle) };
            if share.is_finite() { peak * share } else { peak }
        };
        let mut sources = Vec::with_capacity(2);
        for half_edge in (3 * facet..3 * facet + 3).filter(|&half_edge| self.way.flows_out(half_edge)) {
            let from = self.way.aside(facet, mesh.from(half_edge));
            let width = self.way.aside(facet, mesh.to(half_edge)) - from;
            let turn = ((middle - from) / width).clamp(0.0, 1.0);
            for (start, end) in [(0.0, turn), (turn, 1.0)].into_iter().filter(|(start, end)| end - start > NEAR) {
                let at = |share: f64| depth((from + share * width).clamp(right, left)) * width;
                sources.push(Stream { half_edge, from: start, to: end, first: at(start), last: at(end) });
            }
        }
        sources
    }

    /// A stream entering a facet, where it leaves it: parted at the corner across where it runs to both sides of it.
    fn across(&self, stream: Stream, entry: usize) -> Vec<Stream> {
        let split = self.way.split(entry);
        let entering = Stream {
            half_edge: entry,
            from: 1.0 - stream.to,
            to: 1.0 - stream.from,
            first: stream.last,
            last: stream.first,
        };
        let stretches = [(entering.from, entering.to.min(split)), (entering.from.max(split), entering.to)];
        let kept = stretches.into_iter().filter(|(from, to)| to - from > NEAR * NEAR);
        kept.map(|(from, to)| self.leaving(entering.part(from, to), split)).collect()
    }

    /// The same water at the edge through which it leaves the facet it entered.
    fn leaving(&self, entering: Stream, split: f64) -> Stream {
        let (side, near, far) = self.way.side(entering.half_edge, 0.5 * (entering.from + entering.to), split);
        let share = |at: f64| ((near - at) / (near - far)).clamp(0.0, 1.0);
        let (from, to) = (share(entering.to), share(entering.from));
        let stretch = (entering.to - entering.from) / (to - from).max(f64::MIN_POSITIVE);
        Stream { half_edge: side, from, to, first: entering.last * stretch, last: entering.first * stretch }
    }

    /// Whether the water at a vertex leaves over an open edge.
    fn leaves_from(&mut self, vertex: usize) -> bool {
        let (mut trail, mut at) = (Vec::new(), vertex);
        let leaves = loop {
            if let Some(known) = self.known[at] {
                break known;
            }
            trail.push(at);
            match self.after(at) {
                Next::Down(lower) if trail.len() <= self.known.len() => at = lower,
                Next::Leaves(outlet) => break outlet == Outlet::Open,
                Next::Stands(vertex) => break self.spills(vertex),
                _ => break self.spills(at),
            }
        };
        trail.into_iter().for_each(|passed| self.known[passed] = Some(leaves));
        leaves
    }

    /// From a vertex down the steepest way, over as many facets as it crosses.
    fn after(&self, vertex: usize) -> Next {
        match self.way.step(vertex) {
            Next::Over(edge) => self.way.run(self.way.across_from(edge), |_, _| ()),
            other => other,
        }
    }

    /// Whether the spill path from a vertex ends at an open edge.
    fn spills(&self, vertex: usize) -> bool {
        let mut at = vertex;
        for _ in 0..self.flood.toward.len() {
            match self.flood.toward[at] {
                NONE => return false,
                next if next == at => break,
                next => at = next,
            }
        }
        self.way.floor.outlets[at] == Some(Outlet::Open)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drainage::flood::Network;
    use crate::drainage::outlets::{Drain, drained};
    use crate::point::{PlanPosition, Point};
    use crate::triangulation::{Triangulation, triangulate};
    use crate::units::Length;
    use proptest::prelude::*;

    fn floor(columns: usize, rows: usize, height: impl Fn(f64, f64) -> f64) -> Triangulation {
        let place = |i: usize| ((i % columns) as f64 * 300.0, (i / columns) as f64 * 300.0);
        let points: Vec<Point> = (0..columns * rows).map(place).map(|(x, y)| Point::mm(x, y, height(x, y))).collect();
        triangulate(&points, &[]).expect("a grid").value
    }

    fn share(surface: &Triangulation, drain: &Drain, open: &[[usize; 2]]) -> f64 {
        let floor = drained(surface, drain, open).expect("a drain");
        let mut flood = Flood::default();
        flood.run(&Network::new(&floor.mesh), &floor.mesh.z, &floor.outlet_vertices());
        escaping_area(&floor, &flood) / surface.area().to_mm2()
    }

    fn line(x: f64) -> Drain {
        let end = |y: f64| PlanPosition { x: Length::mm(x), y: Length::mm(y) };
        Drain::Line(end(0.0), end(600.0))
    }

    #[test]
    fn a_ridge_parts_the_water() {
        let check = |drain: Drain, height: fn(f64, f64) -> f64, expected: f64| {
            let found = share(&floor(7, 3, height), &drain, &[[6, 20]]);
            assert!((found - expected).abs() < 1e-12, "{found} is not {expected}");
        };
        check(line(0.0), |x, _| 0.01 * x, 0.0);
        check(line(0.0), |x, _| -0.01 * x, 1.0);
        check(line(0.0), |x, _| -0.01 * (x - 600.0).abs(), 2.0 / 3.0);
        check(line(450.0), |x, _| -0.01 * x, 3.0 / 4.0);
        check(line(150.0), |x, y| -0.01 * (x - 600.0).abs() + 0.003 * y, 2.0 / 3.0);
        // Down toward the entry but held back by a 1 mm lip there: what ponds spills over it.
        check(line(0.0), |x, _| if x < 1800.0 { -0.002 * x } else { -2.0 }, 1.0);
    }

    #[test]
    fn water_aslant_runs_down_the_wall_it_meets() {
        // Falls toward (1, 1): what meets the far walls runs along them to the far corner, an end of the open edge.
        let surface = floor(3, 3, |x, y| -0.01 * (x + y));
        assert!((share(&surface, &Drain::Vertices(vec![0]), &[[5, 8]]) - 1.0).abs() < 1e-12);
        // A drain along the upper wall takes the half that meets it, and what the wall beyond the entry leads to it:
        // left is the corner whose water meets the entry itself, an eighth.
        let upper = Drain::Vertices(vec![6, 7, 8]);
        assert!((share(&surface, &upper, &[[2, 5]]) - 1.0 / 8.0).abs() < 1e-12);
    }

    /// Follows one drop by short steps, knowing nothing of edges, and says whether it leaves through x = 1200.
    ///
    /// A reading with two ways down parts the drops that come to it by how they happen to be stepped; there the rule of
    /// the steepest way holds, as it does in the exact answer.
    fn drop_escapes(paths: &mut Paths, start: [f64; 2]) -> bool {
        let floor = paths.way.floor;
        let ([mut x, mut y], mut triangle) = (start, 0);
        for _ in 0..3_000 {
            let Some((facet, _)) = floor.mesh.locate([x, y], 1e-6) else { break };
            triangle = facet;
            let [dx, dy] = floor.mesh.gradient(facet).map(|rise| -rise);
            let slope = dx.hypot(dy).max(1e-30);
            (x, y) = ((x + dx / slope).clamp(0.0, 1200.0), (y + dy / slope).clamp(0.0, 900.0));
            if x >= 1200.0 {
                return true;
            }
            if x < 1.0 {
                return false;
            }
            let is_here = |&vertex: &usize| crate::mesh::distance(floor.mesh.xy[vertex], [x, y]) < 2.0;
            if let Some(vertex) = floor.mesh.triangles[facet].into_iter().find(is_here) {
                return paths.leaves_from(vertex);
            }
        }
        let corners = floor.mesh.triangles[triangle];
        let lowest = corners.into_iter().min_by(|&p, &q| floor.mesh.z[p].total_cmp(&floor.mesh.z[q]));
        paths.leaves_from(lowest.unwrap_or(0))
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(12))]

        #[test]
        fn exact_shares_agree_with_drops_followed(bumps in prop::collection::vec(-3.0f64..3.0, 20)) {
            let surface = floor(5, 4, |x, y| bumps[(x / 300.0) as usize + 5 * (y / 300.0) as usize]);
            let drain = Drain::Vertices(vec![0, 5, 10, 15]);
            let found = share(&surface, &drain, &[[4, 19]]);
            let floor = drained(&surface, &drain, &[[4, 19]]).expect("a drain");
            let mut flood = Flood::default();
            flood.run(&Network::new(&floor.mesh), &floor.mesh.z, &floor.outlet_vertices());
            let mut paths = Paths::new(&floor, &flood);
            let drops = (0..400).map(|i| [30.0 + 60.0 * f64::from(i % 20), 22.5 + 45.0 * f64::from(i / 20)]);
            let escaped = drops.filter(|&drop| drop_escapes(&mut paths, drop)).count();
            prop_assert!((found - escaped as f64 / 400.0).abs() < 0.06, "{} {}", found, escaped as f64 / 400.0);
        }

        #[test]
        fn what_escapes_is_a_share_of_the_floor(z in prop::collection::vec(-3i32..3, 25), drain in 0usize..25) {
            let surface = floor(5, 5, |x, y| f64::from(z[(x / 300.0) as usize + 5 * (y / 300.0) as usize]));
            let found = share(&surface, &Drain::Vertices(vec![drain]), &[[20, 22]]);
            prop_assert!((0.0..=1.0 + 1e-9).contains(&found), "{}", found);
        }
    }
}
