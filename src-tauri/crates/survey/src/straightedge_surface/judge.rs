//! Whether a floor keeps to a straightedge limit, given what its readings do not know.

use super::bar::Bar;
use super::chord::Aim;
use super::ray::{Crossing, Lean, Start, Surface};
use super::search::Search;
use super::{SurfaceGap, shown};
use crate::mesh::distance;
use crate::normal;
use crate::triangulation::Triangulation;
use crate::units::{Estimate, Length};
use crate::verdict::{Decision, Maximum, Verdict};

/// Two places along a line nearer than this, in mm, are one.
const ONE: f64 = 1e-6;

/// How well a gap is known.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GapNoise {
    /// The standard deviation of one reading.
    pub reading_sd: Length,
    /// That of the bar itself.
    pub bar_sd: Length,
}

/// The verdict on a floor under a straightedge.
#[derive(Debug, Clone, PartialEq)]
pub struct Judged {
    pub verdict: Verdict,
    /// The readings of the chord nearest to deciding.
    pub deciding: Vec<usize>,
    pub largest: SurfaceGap,
    /// How many chords between two readings were judged.
    pub chords: usize,
}

/// The verdict on the largest gap under a bar anywhere on a floor.
///
/// *Within* where every candidate of the exact search keeps to the limit with 1.645 of its standard uncertainties on
/// top; *out* where some chord between two readings, taken where it crosses an edge or a reading, exceeds it by more
/// than noise brings the largest of so many. *Not tested* where no two readings lie within the bar's length with
/// anything between them.
///
/// # Source
/// See [`Maximum`].
///
/// ```
/// use survey::{Point, straightedge_surface::{GapNoise, judge}, triangulation::triangulate, units::Length};
/// use survey::verdict::{Decision, Verdict};
/// let dip = |i: u32| Point::mm(f64::from(i % 5) * 500.0, f64::from(i / 5) * 500.0, if i == 12 { -9.0 } else { 0.0 });
/// let floor = triangulate(&(0..25).map(dip).collect::<Vec<_>>(), &[]).unwrap().value;
/// let noise = GapNoise { reading_sd: Length::mm(0.5), bar_sd: Length::ZERO };
/// let judged = |bar: f64| judge(&floor, Length::mm(bar), Length::mm(3.0), noise, Decision::Guarded);
/// assert_eq!(judged(2000.0).verdict, Verdict::Out);
/// assert_eq!(judged(400.0).verdict, Verdict::NotTested);
/// ```
pub fn judge(surface: &Triangulation, length: Length, limit: Length, noise: GapNoise, decision: Decision) -> Judged {
    let largest = Search::best(&surface.mesh, length.to_mm(), Aim::GAP, 0.0)
        .unwrap_or_else(|| Bar::flat(&surface.mesh, length.to_mm()));
    let u = |weights: &[(usize, f64)]| gap_u(surface, noise, weights);
    let mut maximum: Maximum<Length, Vec<usize>> = Maximum::against(limit);
    let mut chords = 0;
    each_chord(surface, length.to_mm(), |gap, weights| {
        chords += 1;
        maximum.judged_with(Estimate::new(Length::mm(gap), u(weights)), || readings(weights));
    });
    let guard = -normal::quantile(0.05);
    let aim = Aim { guard, reading_sd: noise.reading_sd.to_mm(), bar_sd: noise.bar_sd.to_mm() };
    for bar in Search::best(&surface.mesh, length.to_mm(), aim, f64::NEG_INFINITY).iter().chain([&largest]) {
        maximum.candidate(Estimate::new(Length::mm(bar.gap), u(&bar.weights)), readings(&bar.weights));
    }
    let verdict = if chords == 0 { Verdict::NotTested } else { maximum.verdict_by(decision) };
    let deciding = maximum.deciding().cloned().unwrap_or_default();
    Judged { verdict, deciding, largest: shown(largest), chords }
}

/// The standard uncertainty of a gap; a mean of several readings at one place carries that of a mean.
fn gap_u(surface: &Triangulation, noise: GapNoise, weights: &[(usize, f64)]) -> Length {
    let readings = |&(vertex, weight): &(usize, f64)| {
        weight * weight / surface.readings_at.get(vertex).map_or(1.0, |&count| count.max(1) as f64)
    };
    let squares: f64 = weights.iter().map(readings).sum();
    Length::mm((noise.reading_sd.to_mm() * squares.sqrt()).hypot(noise.bar_sd.to_mm()))
}

fn readings(weights: &[(usize, f64)]) -> Vec<usize> {
    let mut readings: Vec<usize> = weights.iter().filter(|(_, w)| w.abs() > 1e-12).map(|&(vertex, _)| vertex).collect();
    readings.sort_unstable();
    readings
}

/// Every chord between two readings at most `length` apart that lies on the surface, at every edge and reading it
/// crosses: its gap there, and what each reading weighs in it.
fn each_chord(surface: &Triangulation, length: f64, mut see: impl FnMut(f64, &[(usize, f64)])) {
    let mesh = &surface.mesh;
    let floor = Surface::new(mesh);
    let mut by_x: Vec<usize> = (0..mesh.xy.len()).filter(|&vertex| mesh.is_corner(vertex)).collect();
    by_x.sort_by(|&p, &q| mesh.xy[p][0].total_cmp(&mesh.xy[q][0]));
    let mut profile = Vec::new();
    for (place, &from) in by_x.iter().enumerate() {
        let near = by_x[place + 1..].iter().take_while(|&&to| mesh.xy[to][0] - mesh.xy[from][0] <= length);
        for &to in near.filter(|&&to| distance(mesh.xy[from], mesh.xy[to]) <= length + ONE) {
            if !between(&floor, from, to, &mut profile) {
                continue;
            }
            let bar = distance(mesh.xy[from], mesh.xy[to]);
            let mut last = 0.0;
            for crossing in profile.iter().filter(|crossing| crossing.along < bar - ONE) {
                if crossing.along > last + ONE {
                    last = crossing.along;
                    let share = crossing.along / bar;
                    let gap = floor.z[from] + share * (floor.z[to] - floor.z[from]) - crossing.z;
                    see(gap, &weights(from, to, share, crossing));
                }
            }
        }
    }
}

/// The profile from one reading to another; whether the line between them stays on the surface.
fn between(floor: &Surface, from: usize, to: usize, profile: &mut Vec<Crossing>) -> bool {
    let ([x, y], [to_x, to_y]) = (floor.mesh.xy[from], floor.mesh.xy[to]);
    let bar = (to_x - x).hypot(to_y - y);
    let direction = [(to_x - x) / bar, (to_y - y) / bar];
    [Lean::Left, Lean::Right].into_iter().any(|lean| {
        floor.follow(Start::Vertex(from), direction, lean, bar - ONE, profile);
        profile.last().is_some_and(|last| last.along >= bar - ONE)
    })
}

fn weights(from: usize, to: usize, share: f64, crossing: &Crossing) -> [(usize, f64); 4] {
    let [right, left] = crossing.edge;
    [(from, 1.0 - share), (to, share), (right, crossing.share - 1.0), (left, -crossing.share)]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::point::Point;
    use crate::triangulation::triangulate;
    use rand::SeedableRng;
    use rand_chacha::ChaCha8Rng;
    use rand_distr::{Distribution, StandardNormal};

    const NOISE: GapNoise = GapNoise { reading_sd: Length::ZERO, bar_sd: Length::ZERO };

    /// A 4 × 4 grid of 500 mm squares with a dip at one of its inner readings.
    fn floor(dip: f64, noise: impl FnMut() -> f64) -> Triangulation {
        let heights = (0..16).map(|i| if i == 5 { -dip } else { 0.0 });
        let place = |i: usize| ((i % 4) as f64 * 500.0, (i / 4) as f64 * 500.0);
        let noisy = heights.zip(std::iter::repeat_with(noise)).map(|(z, noise)| z + noise);
        let points: Vec<Point> = noisy.enumerate().map(|(i, z)| Point::mm(place(i).0, place(i).1, z)).collect();
        triangulate(&points, &[]).expect("a grid").value
    }

    fn verdict(surface: &Triangulation, noise: GapNoise, limit: f64) -> Judged {
        judge(surface, Length::mm(1000.0), Length::mm(limit), noise, Decision::Guarded)
    }

    #[test]
    fn verdicts_on_a_dip_of_3_mm() {
        let floor = floor(3.0, || 0.0);
        let sd = |sd: f64| GapNoise { reading_sd: Length::mm(sd), bar_sd: Length::ZERO };
        let check = |noise: GapNoise, limit: f64, expected: Verdict| {
            let found = verdict(&floor, noise, limit);
            assert_eq!(found.verdict, expected, "{noise:?} {limit}: {found:?}");
            assert!((found.largest.gap.to_mm() - 3.0).abs() < 1e-9);
            assert!(found.deciding.contains(&5), "{found:?}");
        };
        check(NOISE, 3.0, Verdict::Within);
        check(NOISE, 2.999, Verdict::Out);
        // A chord on two readings over a third: u = 1.2247 sd.
        check(sd(0.1), 3.0 + 1.65 * 0.122_48, Verdict::Within);
        check(sd(0.1), 3.0 + 1.60 * 0.122_48, Verdict::TooCloseToCall);
        check(sd(0.1), 2.0, Verdict::Out);
        // By hand: 16 chords of 1000 over the reading in their middle, 9 across the diagonal of a square.
        assert_eq!(verdict(&floor, sd(0.1), 2.0).chords, 25);
        let simple = judge(&floor, Length::mm(1000.0), Length::mm(3.0), sd(1.0), Decision::Simple);
        assert_eq!(simple.verdict, Verdict::Within);
    }

    #[test]
    fn a_mean_of_readings_is_known_better() {
        let doubled: Vec<Point> = floor(3.0, || 0.0).points().into_iter().flat_map(|point| [point, point]).collect();
        let doubled = triangulate(&doubled, &[]).expect("a grid").value;
        let noise = GapNoise { reading_sd: Length::mm(0.1), bar_sd: Length::ZERO };
        let limit = 3.0 + 1.3 * 0.122_48;
        assert_eq!(verdict(&floor(3.0, || 0.0), noise, limit).verdict, Verdict::TooCloseToCall);
        assert_eq!(verdict(&doubled, noise, limit).verdict, Verdict::Within);
    }

    #[test]
    fn wrong_verdicts_are_as_rare_as_promised() {
        const DRAWS: u32 = 150;
        let mut random = ChaCha8Rng::seed_from_u64(11);
        let noise = GapNoise { reading_sd: Length::mm(0.5), bar_sd: Length::ZERO };
        let mut share = |dip: f64, limit: f64, wrong: Verdict| {
            let one = |_| {
                let mut normal = || -> f64 { StandardNormal.sample(&mut random) };
                let noisy = floor(dip, || 0.5 * normal());
                verdict(&noisy, noise, limit).verdict
            };
            (0..DRAWS).map(one).filter(|&found| found == wrong).count() as f64 / f64::from(DRAWS)
        };
        // 5 % and three standard errors of the draws.
        let most = 0.05 + 3.0 * (0.05_f64 * 0.95 / f64::from(DRAWS)).sqrt();
        let (within, out) = (share(3.0, 3.0, Verdict::Within), share(0.0, 0.0, Verdict::Out));
        assert!(within <= most, "a dip at the limit passed {within}");
        assert!(out <= most, "a perfect floor at the limit failed {out}");
    }
}
