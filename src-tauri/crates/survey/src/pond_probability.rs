//! How likely water stands, and how deep, given what the readings do not know.

use rand::SeedableRng;
use rand_chacha::ChaCha8Rng;
use rand_distr::{Distribution, StandardNormal};

use crate::drainage::flood::{Flood, Network};
use crate::drainage::outlets::{Drained, Outlet, drained};
use crate::drainage::ponds::deepest;
use crate::drainage::{Drain, NoDrainage};
use crate::triangulation::Triangulation;
use crate::units::{Length, Probability};

/// How the readings are drawn anew.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Draws {
    /// The standard deviation of one reading.
    pub reading_sd: Length,
    pub count: u32,
    /// The same seed gives the same answer.
    pub seed: u64,
    /// Whether the drain's own height is known exactly.
    pub drain_exact: bool,
}

/// The deepest pond over all draws.
#[derive(Debug, Clone, PartialEq)]
pub struct PondProbability {
    /// For each depth asked for, the share of draws whose deepest pond exceeds it.
    pub deeper_than: Vec<Probability>,
    pub mean_max_depth: Length,
    pub sd_max_depth: Length,
}

/// The probability that the deepest pond exceeds each depth, from draws of the readings' noise.
///
/// Every draw adds independent normal noise to every reading and floods the surface anew. A mean of several readings
/// at one place carries the noise of a mean.
///
/// # Units
/// Depths are lengths, zero or more.
///
/// # Uncertainty
/// A share p of n draws has a standard error of √(p(1 − p)/n): 0.005 at worst for 10,000 draws. The floor between
/// the readings is taken as the facets have it.
///
/// # Errors
/// As [`crate::drainage::drainage`].
///
/// # Source
/// Propagation of distributions by a Monte Carlo method (JCGM 101; recalled, not read).
///
/// ```
/// use survey::Point;
/// use survey::drainage::Drain;
/// use survey::pond_probability::{Draws, pond_probability};
/// use survey::triangulation::triangulate;
/// use survey::units::Length;
/// let steep = |i: u32| Point::mm(f64::from(i % 3) * 300.0, f64::from(i / 3) * 300.0, f64::from(i % 3) * 6.0);
/// let floor = triangulate(&(0..9).map(steep).collect::<Vec<_>>(), &[]).unwrap().value;
/// let draws = Draws { reading_sd: Length::mm(0.5), count: 1000, seed: 1, drain_exact: false };
/// let drain = Drain::Vertices(vec![0, 3, 6]);
/// let ponds = pond_probability(&floor, &drain, &[], draws, &[Length::mm(1.0)]).unwrap();
/// assert_eq!(ponds.deeper_than[0].to_f64(), 0.0, "1:50 and half a millimetre of noise");
/// ```
pub fn pond_probability(
    surface: &Triangulation,
    drain: &Drain,
    open_edges: &[[usize; 2]],
    draws: Draws,
    depths: &[Length],
) -> Result<PondProbability, NoDrainage> {
    let floor = drained(surface, drain, open_edges)?;
    let deepest = deepest_of_each(surface, &floor, draws);
    let count = deepest.len().max(1) as f64;
    let mean = deepest.iter().sum::<f64>() / count;
    let scatter: f64 = deepest.iter().map(|depth| (depth - mean).powi(2)).sum();
    let exceeding = |limit: &Length| deepest.iter().filter(|&&depth| !Length::mm(depth).at_most(*limit)).count();
    Ok(PondProbability {
        deeper_than: depths.iter().map(|depth| Probability::of(exceeding(depth) as f64 / count)).collect(),
        mean_max_depth: Length::mm(mean),
        sd_max_depth: Length::mm((scatter / (count - 1.0).max(1.0)).sqrt()),
    })
}

/// The deepest pond of every draw, in mm.
fn deepest_of_each(surface: &Triangulation, floor: &Drained, draws: Draws) -> Vec<f64> {
    let network = Network::new(&floor.mesh);
    let outlets = floor.outlet_vertices();
    let noise = noise_of_each(surface, floor, draws);
    let mut random = ChaCha8Rng::seed_from_u64(draws.seed);
    let mut flood = Flood::default();
    let mut z = floor.mesh.z.clone();
    let mut one = || {
        for (vertex, &sd) in noise.iter().enumerate() {
            let normal: f64 = if sd > 0.0 { StandardNormal.sample(&mut random) } else { 0.0 };
            z[vertex] = floor.mesh.z[vertex] + sd * normal;
        }
        if !draws.drain_exact {
            for (place, vertex) in floor.set_in.iter().enumerate() {
                z[noise.len() + place] = vertex.height(&z);
            }
        }
        flood.run(&network, &z, &outlets);
        deepest(&flood, &z)
    };
    (0..draws.count).map(|_| one()).collect()
}

/// The standard deviation of the height of every reading; zero where it is exact or not on the surface.
fn noise_of_each(surface: &Triangulation, floor: &Drained, draws: Draws) -> Vec<f64> {
    let sd = draws.reading_sd.to_mm().abs();
    let exact = |vertex: usize| draws.drain_exact && floor.outlets[vertex] == Some(Outlet::Drain);
    let noise = |vertex: usize| {
        let drawn = floor.mesh.is_corner(vertex) && !exact(vertex);
        if drawn { sd / (surface.readings_at[vertex].max(1) as f64).sqrt() } else { 0.0 }
    };
    (0..surface.readings_at.len()).map(noise).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::normal;
    use crate::point::{PlanPosition, Point};
    use crate::triangulation::triangulate;

    /// One hollow of depth `depth` in the middle of a hexagon whose rim drains over one low outlet.
    fn hollow(depth: f64, rim: f64) -> Triangulation {
        let turn = |i: u32| (f64::from(i) * 60.0).to_radians();
        let mut points: Vec<Point> =
            (0..6).map(|i| Point::mm(300.0 * turn(i).cos(), 300.0 * turn(i).sin(), rim)).collect();
        points[0].z = Length::ZERO;
        points.push(Point::mm(0.0, 0.0, -depth));
        triangulate(&points, &[]).expect("a hexagon").value
    }

    fn ponds(depth: f64, drain_exact: bool) -> PondProbability {
        let draws = Draws { reading_sd: Length::mm(0.5), count: 20_000, seed: 7, drain_exact };
        let depths = [0.0, 1.0].map(Length::mm);
        pond_probability(&hollow(depth, 1000.0), &Drain::Vertices(vec![0]), &[], draws, &depths).expect("a drain")
    }

    #[test]
    fn one_hollow_beside_its_outlet_has_a_closed_form() {
        // The pond is as deep as the outlet stands above the hollow: N(depth, u²) cut off at zero.
        let check = |depth: f64, drain_exact: bool| {
            let found = ponds(depth, drain_exact);
            let u = if drain_exact { 0.5 } else { 0.5 * 2.0_f64.sqrt() };
            for (limit, share) in [0.0, 1.0].into_iter().zip(&found.deeper_than) {
                let expected = normal::below((depth - limit) / u);
                let error = (expected * (1.0 - expected) / 20_000.0).sqrt();
                assert!((share.to_f64() - expected).abs() < 4.0 * error, "{depth} {drain_exact}: {share:?} {expected}");
            }
            let density = (-0.5 * (depth / u).powi(2)).exp() / (2.0 * std::f64::consts::PI).sqrt();
            let mean = depth * normal::below(depth / u) + u * density;
            assert!((found.mean_max_depth.to_mm() - mean).abs() < 4.0 * u / 20_000.0_f64.sqrt(), "{found:?} {mean}");
        };
        for depth in [0.0, 0.8, 1.8] {
            check(depth, false);
            check(depth, true);
        }
    }

    #[test]
    fn a_drain_set_in_moves_with_the_surface_unless_it_is_exact() {
        // Three readings around the drain: it stands above the lowest by E max(N₁ N₂ N₃) = 3/(2√π) if it moves along,
        // and by E max(0, N₁, N₂, N₃) = 0.888 if it stays (by numerical integration).
        let corners = [(0.0, 0.0), (300.0, 0.0), (0.0, 300.0)].map(|(x, y)| Point::mm(x, y, 0.0));
        let surface = triangulate(&corners, &[]).expect("a triangle").value;
        let drain = Drain::Point(PlanPosition { x: Length::mm(100.0), y: Length::mm(100.0) });
        let check = |drain_exact, expected: f64| {
            let draws = Draws { reading_sd: Length::mm(1.0), count: 20_000, seed: 3, drain_exact };
            let found = pond_probability(&surface, &drain, &[], draws, &[]).expect("a drain");
            let error = found.sd_max_depth.to_mm() / 20_000.0_f64.sqrt();
            assert!((found.mean_max_depth.to_mm() - expected).abs() < 4.0 * error, "{found:?} {expected}");
        };
        check(false, 1.5 / std::f64::consts::PI.sqrt());
        check(true, 0.888_147);
    }

    #[test]
    fn the_same_seed_gives_the_same_answer() {
        assert_eq!(ponds(1.0, false), ponds(1.0, false));
    }

    #[test]
    fn no_draws_and_no_noise_say_so_plainly() {
        let draws = |count, sd| Draws { reading_sd: Length::mm(sd), count, seed: 1, drain_exact: false };
        let of = |draws| pond_probability(&hollow(2.0, 9.0), &Drain::Vertices(vec![0]), &[], draws, &[Length::mm(2.0)]);
        assert_eq!(of(draws(0, 1.0)).expect("a drain").deeper_than[0], Probability::of(0.0));
        let still = of(draws(10, 0.0)).expect("a drain");
        assert_eq!((still.mean_max_depth, still.sd_max_depth), (Length::mm(2.0), Length::ZERO));
        assert_eq!(still.deeper_than[0], Probability::of(0.0), "2 mm is not deeper than 2 mm");
    }
}
