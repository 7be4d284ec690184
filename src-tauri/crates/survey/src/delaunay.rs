//! Which readings are joined: the Delaunay triangles, the same ones in whatever order the readings come.

use spade::{ConstrainedDelaunayTriangulation, HasPosition, Point2, Triangulation as _};

use crate::mesh::{Mesh, NONE, cross, distance};
use crate::same_place::ONE_PLACE;

/// Four positions are on one circle when the fourth is off it by less than this share of their extent.
const ONE_CIRCLE: f64 = 1e-9;

struct Site {
    at: Point2<f64>,
    reading: usize,
}

impl HasPosition for Site {
    type Scalar = f64;
    fn position(&self) -> Point2<f64> {
        self.at
    }
}

/// The constrained Delaunay triangles over `sites`, counter-clockwise.
///
/// Positions on one circle are joined as a fan from the one of smallest x, then smallest y. Slivers along the outer
/// edge, thinner than 0.001 mm, are left out: their tip is on the edge.
pub(crate) fn delaunay(xy: &[[f64; 2]], sites: &[usize], walls: Vec<[usize; 2]>) -> Vec<[usize; 3]> {
    let Some((triangles, walls)) = constrained(xy, sites, walls) else { return Vec::new() };
    let mesh = Mesh::new(xy.to_vec(), Vec::new(), triangles);
    without_slivers(xy, fanned(&mesh, &walls))
}

/// The triangles, and for every half-edge whether it is part of a wall.
fn constrained(xy: &[[f64; 2]], sites: &[usize], walls: Vec<[usize; 2]>) -> Option<(Vec<[usize; 3]>, Vec<bool>)> {
    let origin = sites.first().map(|&first| xy[first])?;
    let site = |&reading: &usize| {
        let at = Point2::new(xy[reading][0] - origin[0], xy[reading][1] - origin[1]);
        Site { at: spade::mitigate_underflow(at), reading }
    };
    let sites: Vec<Site> = sites.iter().map(site).collect();
    let found: ConstrainedDelaunayTriangulation<Site> =
        ConstrainedDelaunayTriangulation::try_bulk_load_cdt(sites, walls, |_| {}).ok()?;
    let triangles = found.inner_faces().map(|face| face.vertices().map(|corner| corner.data().reading)).collect();
    let walls = found.inner_faces().flat_map(|face| face.adjacent_edges()).map(|edge| edge.is_constraint_edge());
    Some((triangles, walls.collect()))
}

/// The triangles with every set that shares one circle joined anew as a fan.
fn fanned(mesh: &Mesh, walls: &[bool]) -> Vec<[usize; 3]> {
    let joins = |&edge: &usize| mesh.twin[edge] != NONE && !walls[edge] && on_one_circle(mesh, edge);
    let joined: Vec<bool> = (0..walls.len()).map(|edge| joins(&edge)).collect();
    let mut done = vec![false; mesh.triangles.len()];
    let mut triangles = Vec::with_capacity(mesh.triangles.len());
    for start in 0..mesh.triangles.len() {
        if done[start] {
            continue;
        }
        let group = group_of(mesh, &joined, start, &mut done);
        match fan(mesh, &joined, &group) {
            Some(fan) => triangles.extend(fan),
            None => triangles.extend(group.iter().map(|&triangle| mesh.triangles[triangle])),
        }
    }
    triangles
}

/// Whether the triangles on both sides of an edge have one circumscribed circle.
fn on_one_circle(mesh: &Mesh, edge: usize) -> bool {
    let [a, b, c] = mesh.plan(edge / 3);
    let d = mesh.xy[mesh.opposite(mesh.twin[edge])];
    let lift = |p: [f64; 2]| (p[0] - d[0], p[1] - d[1], (p[0] - d[0]).powi(2) + (p[1] - d[1]).powi(2));
    let ((ax, ay, az), (bx, by, bz), (cx, cy, cz)) = (lift(a), lift(b), lift(c));
    let in_circle = az * (bx * cy - by * cx) - bz * (ax * cy - ay * cx) + cz * (ax * by - ay * bx);
    let (ab, bc, ca) = (distance(a, b), distance(b, c), distance(c, a));
    let extent = ab.max(bc).max(ca).max(az.max(bz).max(cz).sqrt());
    in_circle.abs() <= ONE_CIRCLE * extent * ab * bc * ca
}

/// The triangles reached from one across joined edges.
fn group_of(mesh: &Mesh, joined: &[bool], start: usize, done: &mut [bool]) -> Vec<usize> {
    done[start] = true;
    let mut group = vec![start];
    let mut next = 0;
    while let Some(&triangle) = group.get(next) {
        next += 1;
        for edge in 3 * triangle..3 * triangle + 3 {
            if joined[edge] && !done[mesh.twin[edge] / 3] {
                done[mesh.twin[edge] / 3] = true;
                group.push(mesh.twin[edge] / 3);
            }
        }
    }
    group
}

/// The fan of a group from its corner of smallest x, then y; `None` if the group is not convex after all.
fn fan(mesh: &Mesh, joined: &[bool], group: &[usize]) -> Option<Vec<[usize; 3]>> {
    if group.len() < 2 {
        return None;
    }
    let edges = group.iter().flat_map(|&triangle| 3 * triangle..3 * triangle + 3);
    let rim: Vec<[usize; 2]> =
        edges.filter(|&edge| !joined[edge]).map(|edge| [mesh.from(edge), mesh.to(edge)]).collect();
    let tip = rim.iter().map(|edge| edge[0]).min_by(|&p, &q| leftmost(mesh.xy[p], mesh.xy[q], p.cmp(&q)))?;
    let away = rim.iter().filter(|edge| !edge.contains(&tip));
    let fan: Vec<_> = away.map(|&[from, to]| [tip, from, to]).collect();
    let proper = |&[a, b, c]: &[usize; 3]| cross(mesh.xy[a], mesh.xy[b], mesh.xy[c]) > 0.0;
    (fan.len() == group.len() && fan.iter().all(proper)).then_some(fan)
}

/// Smaller x first, then smaller y; differences below the width of one place do not count.
fn leftmost(p: [f64; 2], q: [f64; 2], otherwise: std::cmp::Ordering) -> std::cmp::Ordering {
    let by = |axis: usize| {
        if (p[axis] - q[axis]).abs() <= ONE_PLACE { std::cmp::Ordering::Equal } else { p[axis].total_cmp(&q[axis]) }
    };
    by(0).then(by(1)).then(otherwise)
}

/// The triangles without those at the outer edge whose tip lies on that edge.
fn without_slivers(xy: &[[f64; 2]], triangles: Vec<[usize; 3]>) -> Vec<[usize; 3]> {
    let mesh = Mesh::new(xy.to_vec(), Vec::new(), triangles);
    let mut gone = vec![false; mesh.triangles.len()];
    let mut outer: Vec<usize> = mesh.outer_edges().collect();
    while let Some(edge) = outer.pop() {
        let triangle = edge / 3;
        if gone[triangle] || !is_sliver(&mesh, edge) {
            continue;
        }
        gone[triangle] = true;
        let sides = (3 * triangle..3 * triangle + 3).filter(|&side| side != edge).map(|side| mesh.twin[side]);
        outer.extend(sides.filter(|&twin| twin != NONE));
    }
    let mut gone = gone.into_iter();
    mesh.triangles.into_iter().filter(|_| !gone.next().unwrap_or(false)).collect()
}

fn is_sliver(mesh: &Mesh, edge: usize) -> bool {
    let (a, b, tip) = (mesh.xy[mesh.from(edge)], mesh.xy[mesh.to(edge)], mesh.xy[mesh.opposite(edge)]);
    let length = distance(a, b);
    let along = (tip[0] - a[0]) * (b[0] - a[0]) + (tip[1] - a[1]) * (b[1] - a[1]);
    cross(a, b, tip) <= ONE_PLACE * length && along > 0.0 && along < length * length
}
