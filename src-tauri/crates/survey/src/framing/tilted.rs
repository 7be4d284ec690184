//! The plane that is flat but not level: nothing cut, the least lift in all.

use super::site::Site;
use super::target::{Target, centre};
use crate::units::{Length, Slope};
use microlp::{ComparisonOp, OptimizationDirection, Problem, Variable};

/// What a mm of tilt counts beside a mm of mean lift, so that of equal planes the one tilted least away from the door
/// wall is taken, then the one tilted least across.
const TIE: [f64; 2] = [1e-7, 1e-5];
/// Mean lifts this close, in mm, are equal.
const SAME: f64 = 1e-6;
/// A reading this little above a plane, in mm, is carried by it.
const CARRIED: f64 = 1e-9;

/// The plane of least total lift over the joists that set the height, tilted within the setting each way.
pub(super) fn lowest(site: &Site) -> Option<Target> {
    let lift = Lift::of(site)?;
    let level = lift.at([0.0, 0.0]);
    let found = [lift.least(TIE), lift.least([0.0, 0.0])].into_iter().flatten().map(|tilt| lift.at(tilt));
    // The first that is no worse than any other.
    let best = found.chain([level]).reduce(|best, next| if next.mean < best.mean - SAME { next } else { best })?;
    let slope = |axis: usize| Slope::ratio(lift.slope(best.tilt, axis));
    Some(Target {
        height: Length::mm(lift.base + best.height),
        tilt_x: slope(0),
        tilt_y: slope(1),
        centre: centre(site.grid),
    })
}

/// The readings about the centre of the target: across and along in halves of the extent, heights in mm over `base`.
struct Lift {
    readings: Vec<[f64; 3]>,
    base: f64,
    /// Half the extent each way, in mm; a tilt is the rise in mm over it.
    half: [f64; 2],
    /// The most a tilt may be, in mm over half the extent.
    most: [f64; 2],
}

/// A tilt, the lowest height it permits at the centre, and the mean lift over the readings.
#[derive(Clone, Copy)]
struct Plane {
    tilt: [f64; 2],
    height: f64,
    mean: f64,
}

impl Lift {
    fn of(site: &Site) -> Option<Self> {
        let centre = centre(site.grid);
        let of_joist = |x: f64, points: &[(f64, f64)]| points.iter().map(|&(y, z)| [x, y, z]).collect::<Vec<_>>();
        let mut readings: Vec<[f64; 3]> = site
            .setting()
            .flat_map(|(_, studied)| of_joist(studied.joist.x.to_mm(), studied.profile.points()))
            .collect();
        let base = readings.iter().map(|reading| reading[2]).reduce(f64::max)?;
        for [x, y, z] in &mut readings {
            (*x, *y, *z) = (*x - centre.x.to_mm(), *y - centre.y.to_mm(), *z - base);
        }
        let extent = |axis: fn(&[f64; 3]) -> f64| readings.iter().map(|r| axis(r).abs()).fold(0.0, f64::max);
        let half = [extent(|r| r[0]), extent(|r| r[1])];
        for [x, y, _] in &mut readings {
            (*x, *y) = (part(*x, half[0]), part(*y, half[1]));
        }
        let max_tilt = site.settings.max_tilt.to_ratio().abs();
        Some(Self { readings, base, half, most: half.map(|half| half * max_tilt) })
    }

    fn slope(&self, tilt: [f64; 2], axis: usize) -> f64 {
        let of = |pair: [f64; 2]| pair.get(axis).copied().unwrap_or(0.0);
        part(of(tilt), of(self.half))
    }

    fn at(&self, tilt: [f64; 2]) -> Plane {
        let tilt = [tilt[0].clamp(-self.most[0], self.most[0]), tilt[1].clamp(-self.most[1], self.most[1])];
        let over = |[x, y, z]: &[f64; 3]| z - tilt[0] * x - tilt[1] * y;
        let height = self.readings.iter().map(over).fold(f64::NEG_INFINITY, f64::max);
        Plane { tilt, height, mean: self.mean(|reading| height - over(reading)) }
    }

    /// The tilt of the plane of least mean lift: linear programs over the few readings that can carry it, to which the
    /// reading that stands highest above the plane is added until none does.
    fn least(&self, tie: [f64; 2]) -> Option<[f64; 2]> {
        let mut carrying: Vec<usize> = Vec::new();
        loop {
            let (height, tilt) = self.least_over(&carrying, tie)?;
            let above = |[x, y, z]: &[f64; 3]| z - tilt[0] * x - tilt[1] * y - height;
            let higher = |most: (usize, f64), next: (usize, f64)| if next.1 > most.1 { next } else { most };
            let (highest, above) = self.readings.iter().map(above).enumerate().reduce(higher)?;
            if above <= CARRIED || carrying.contains(&highest) {
                return Some(tilt);
            }
            carrying.push(highest);
        }
    }

    /// The height and tilt of the plane of least mean lift that none of the `carrying` readings stands above.
    fn least_over(&self, carrying: &[usize], tie: [f64; 2]) -> Option<(f64, [f64; 2])> {
        let mut problem = Problem::new(OptimizationDirection::Minimize);
        let deepest = self.readings.iter().map(|reading| reading[2]).fold(0.0, f64::min);
        let reach = 1.0 - deepest + self.most[0] + self.most[1];
        let height = problem.add_var(1.0, (-reach, reach));
        let mut tilt =
            |mean: f64, tie: f64, most: f64| [mean, -mean].map(|mean| problem.add_var(mean + tie, (0.0, most)));
        let across = tilt(self.mean(|r| r[0]), tie[0], self.most[0]);
        let along = tilt(self.mean(|r| r[1]), tie[1], self.most[1]);
        for [x, y, z] in carrying.iter().filter_map(|&k| self.readings.get(k)) {
            let terms = [(height, 1.0), (across[0], *x), (across[1], -x), (along[0], *y), (along[1], -y)];
            problem.add_constraint(terms, ComparisonOp::Ge, *z);
        }
        let solution = problem.solve().ok()?.into_solution().ok()?;
        let net = |[up, down]: [Variable; 2]| solution.var_value(up) - solution.var_value(down);
        Some((solution.var_value(height), [net(across), net(along)]))
    }

    fn mean(&self, of: impl Fn(&[f64; 3]) -> f64) -> f64 {
        self.readings.iter().map(of).sum::<f64>() / self.readings.len() as f64
    }
}

fn part(value: f64, of: f64) -> f64 {
    if of > 0.0 { value / of } else { 0.0 }
}
