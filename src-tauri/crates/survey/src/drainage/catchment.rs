//! Whose water leaves where: every facet split along the steepest descent and followed to its outlet, exactly.

use crate::drainage::flood::Flood;
use crate::drainage::outlets::{Drained, Outlet};
use crate::mesh::NONE;

/// A facet this level, in mm per mm, sheds no water of its own.
const LEVEL: f64 = 1e-12;
/// Two places along an edge this near, as a share of it, are one.
const NEAR: f64 = 1e-12;

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

/// What becomes of water at an edge.
enum Next {
    /// It runs on over the neighbouring facet, entering through this half-edge.
    Over(usize),
    /// It leaves over an open edge, or not.
    Leaves(bool),
    /// It runs along the edge to its lower end.
    Down(usize),
}

struct Paths<'a> {
    floor: &'a Drained,
    flood: &'a Flood,
    /// The direction of steepest descent of each facet, scaled by its slope.
    descent: Vec<[f64; 2]>,
    /// Whether the water at each vertex leaves over an open edge, once it is known.
    known: Vec<Option<bool>>,
    /// How many crossings may still be followed: beyond any real floor, so that odd numbers cannot hold it up.
    crossings: usize,
}

impl<'a> Paths<'a> {
    fn new(floor: &'a Drained, flood: &'a Flood) -> Self {
        let count = floor.mesh.triangles.len();
        let descent = (0..count).map(|facet| floor.mesh.gradient(facet).map(|rise| -rise)).collect();
        let crossings = (count + 16).saturating_mul(count.min(4096) + 16);
        Self { floor, flood, descent, known: vec![None; floor.outlets.len()], crossings }
    }

    fn escaping_from(&mut self, facet: usize) -> f64 {
        if self.is_level(facet) {
            let escapes = self.spills(self.floor.mesh.triangles[facet][0]);
            return if escapes { self.floor.mesh.area(facet) } else { 0.0 };
        }
        let mut streams = self.sources(facet);
        let mut escaping = 0.0;
        while let Some(stream) = streams.pop() {
            let leaves = match self.next(stream.half_edge) {
                Next::Over(_) if self.crossings == 0 => self.spills(self.floor.mesh.from(stream.half_edge)),
                Next::Over(entry) => {
                    self.crossings -= 1;
                    streams.extend(self.across(stream, entry));
                    continue;
                }
                Next::Leaves(leaves) => leaves,
                Next::Down(vertex) => self.leaves_from(vertex),
            };
            escaping += if leaves { stream.area() } else { 0.0 };
        }
        escaping
    }

    fn is_level(&self, facet: usize) -> bool {
        self.descent[facet][0].hypot(self.descent[facet][1]) <= LEVEL
    }

    /// How far to the left of the flow over a facet a vertex lies.
    fn aside(&self, facet: usize, vertex: usize) -> f64 {
        let ([dx, dy], [x, y]) = (self.descent[facet], self.floor.mesh.xy[vertex]);
        let [x0, y0] = self.floor.mesh.xy[self.floor.mesh.triangles[facet][0]];
        dx * (y - y0) - dy * (x - x0)
    }

    /// Whether water on a facet leaves it through one of its half-edges.
    fn flows_out(&self, half_edge: usize) -> bool {
        let facet = half_edge / 3;
        let (from, to) = (self.floor.mesh.from(half_edge), self.floor.mesh.to(half_edge));
        let across = self.aside(facet, to) - self.aside(facet, from);
        across > NEAR * self.descent[facet][0].hypot(self.descent[facet][1]) * self.length(half_edge)
    }

    fn flows_in(&self, half_edge: usize) -> bool {
        let facet = half_edge / 3;
        let (from, to) = (self.floor.mesh.from(half_edge), self.floor.mesh.to(half_edge));
        let across = self.aside(facet, from) - self.aside(facet, to);
        across > NEAR * self.descent[facet][0].hypot(self.descent[facet][1]) * self.length(half_edge)
    }

    fn length(&self, half_edge: usize) -> f64 {
        let mesh = &self.floor.mesh;
        crate::mesh::distance(mesh.xy[mesh.from(half_edge)], mesh.xy[mesh.to(half_edge)])
    }

    /// The rain on a facet, where it leaves the facet.
    fn sources(&self, facet: usize) -> Vec<Stream> {
        let mut across = self.floor.mesh.triangles[facet].map(|vertex| self.aside(facet, vertex));
        across.sort_by(f64::total_cmp);
        let [right, middle, left] = across;
        let peak = 2.0 * self.floor.mesh.area(facet) / (left - right);
        let depth = |at: f64| {
            let share = if at < middle { (at - right) / (middle - right) } else { (left - at) / (left - middle) };
            if share.is_finite() { peak * share } else { peak }
        };
        let mut sources = Vec::with_capacity(2);
        for half_edge in (3 * facet..3 * facet + 3).filter(|&half_edge| self.flows_out(half_edge)) {
            let from = self.aside(facet, self.floor.mesh.from(half_edge));
            let width = self.aside(facet, self.floor.mesh.to(half_edge)) - from;
            let turn = ((middle - from) / width).clamp(0.0, 1.0);
            for (start, end) in [(0.0, turn), (turn, 1.0)].into_iter().filter(|(start, end)| end - start > NEAR) {
                let at = |share: f64| depth((from + share * width).clamp(right, left)) * width;
                sources.push(Stream { half_edge, from: start, to: end, first: at(start), last: at(end) });
            }
        }
        sources
    }

    fn next(&self, half_edge: usize) -> Next {
        let mesh = &self.floor.mesh;
        if self.floor.is_drain(half_edge) || self.floor.open[half_edge] {
            return Next::Leaves(self.floor.open[half_edge] && !self.floor.is_drain(half_edge));
        }
        let twin = mesh.twin[half_edge];
        if twin != NONE && !self.is_level(twin / 3) && self.flows_in(twin) {
            return Next::Over(twin);
        }
        let (from, to) = (mesh.from(half_edge), mesh.to(half_edge));
        Next::Down(if mesh.z[from] < mesh.z[to] { from } else { to })
    }

    /// A stream entering a facet, where it leaves it: parted at the corner across where it runs to both sides of it.
    fn across(&self, stream: Stream, entry: usize) -> Vec<Stream> {
        let split = self.split(entry);
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

    /// Where along an entry, or beyond it, the flow through the corner across enters: the flow parts there.
    fn split(&self, entry: usize) -> f64 {
        let facet = entry / 3;
        let mesh = &self.floor.mesh;
        let from = self.aside(facet, mesh.from(entry));
        let width = self.aside(facet, mesh.to(entry)) - from;
        (self.aside(facet, mesh.opposite(entry)) - from) / width
    }

    /// The same water at the edge through which it leaves the facet it entered.
    fn leaving(&self, entering: Stream, split: f64) -> Stream {
        let facet = entering.half_edge / 3;
        let before = 0.5 * (entering.from + entering.to) < split;
        // Before the split it leaves through the side that ends where the entry starts, after it through the other.
        let side = 3 * facet + (entering.half_edge % 3 + if before { 2 } else { 1 }) % 3;
        let (near, far) = if before { (split, 0.0) } else { (1.0, split) };
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
            match self.step(at) {
                Next::Down(lower) if trail.len() <= self.known.len() => at = lower,
                Next::Leaves(leaves) => break leaves,
                _ => break self.spills(at),
            }
        };
        trail.into_iter().for_each(|passed| self.known[passed] = Some(leaves));
        leaves
    }

    /// From a vertex down the steepest way to the next vertex.
    fn step(&self, vertex: usize) -> Next {
        let mesh = &self.floor.mesh;
        if let Some(outlet) = self.floor.outlets[vertex] {
            return Next::Leaves(outlet == Outlet::Open);
        }
        let (mut steepest, mut next) = (0.0, Next::Leaves(self.spills(vertex)));
        for &edge in mesh.leaving(vertex) {
            let slope = self.descent[edge / 3][0].hypot(self.descent[edge / 3][1]);
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
        match next {
            Next::Over(edge) => self.follow(edge),
            other => other,
        }
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

    /// From the start of a half-edge over its facet and on, until the water leaves or reaches a vertex.
    fn follow(&self, start: usize) -> Next {
        let facet = start / 3;
        let mesh = &self.floor.mesh;
        let mut edge = 3 * facet + (start % 3 + 1) % 3;
        let (right, left) = (self.aside(facet, mesh.from(edge)), self.aside(facet, mesh.to(edge)));
        let mut share = ((self.aside(facet, mesh.from(start)) - right) / (left - right)).clamp(0.0, 1.0);
        for _ in 0..4 * mesh.triangles.len() + 16 {
            match self.next(edge) {
                Next::Over(entry) => {
                    let drop = Stream { half_edge: entry, from: 1.0 - share, to: 1.0 - share, first: 0.0, last: 0.0 };
                    let leaving = self.leaving(drop, self.split(entry));
                    (edge, share) = (leaving.half_edge, leaving.from);
                }
                other => return other,
            }
        }
        Next::Leaves(self.spills(mesh.from(edge)))
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
        self.floor.outlets[at] == Some(Outlet::Open)
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
        let floor = paths.floor;
        let ([mut x, mut y], mut triangle) = (start, 0);
        for _ in 0..3_000 {
            let Some((facet, _)) = floor.mesh.locate([x, y], 1e-6) else { break };
            triangle = facet;
            let [dx, dy] = paths.descent[facet];
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
