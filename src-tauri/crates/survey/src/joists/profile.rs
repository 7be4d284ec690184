//! The top of one joist along its length: straight between readings, unknown beyond them. All in mm.

/// Heights at places along a joist, the nearest to the door wall first.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Profile {
    /// (place, height)
    points: Vec<(f64, f64)>,
}

/// A stretch on which a profile stands above something, and by how much at most.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Stretch {
    pub(crate) from: f64,
    pub(crate) to: f64,
    pub(crate) most: f64,
}

impl Profile {
    pub(crate) fn new(points: Vec<(f64, f64)>) -> Self {
        Self { points }
    }

    pub(crate) fn points(&self) -> &[(f64, f64)] {
        &self.points
    }

    /// The first and the last point, where there are two.
    pub(crate) fn ends(&self) -> Option<[(f64, f64); 2]> {
        match self.points.as_slice() {
            [first, .., last] => Some([*first, *last]),
            _ => None,
        }
    }

    /// The height of the chord of the first and last points at each of the points.
    pub(crate) fn chord(&self) -> Vec<f64> {
        let Some([first, last]) = self.ends() else { return self.points.iter().map(|&(_, z)| z).collect() };
        self.points.iter().map(|&(y, _)| between(first, last, y)).collect()
    }

    /// The highest point.
    pub(crate) fn highest(&self) -> Option<f64> {
        self.points.iter().map(|&(_, z)| z).reduce(f64::max)
    }

    /// The highest place between `from` and `to`, both included; `None` if nothing was read on both sides of any of it.
    pub(crate) fn highest_between(&self, from: f64, to: f64) -> Option<f64> {
        let inside = self.points.iter().filter(|&&(y, _)| (from..=to).contains(&y)).map(|&(_, z)| z);
        let edges = [from, to].into_iter().filter_map(|y| self.at(y));
        inside.chain(edges).reduce(f64::max)
    }

    /// The height at a place between two points or on one.
    pub(crate) fn at(&self, y: f64) -> Option<f64> {
        if let [(only, z)] = self.points.as_slice() {
            return (*only == y).then_some(*z);
        }
        let around = |pair: &&[(f64, f64)]| matches!(pair, [near, far] if (near.0..=far.0).contains(&y));
        match self.points.windows(2).find(around) {
            Some([near, far]) => Some(between(*near, *far, y)),
            _ => None,
        }
    }

    /// The same places with `change` applied to each height.
    pub(crate) fn map(&self, change: impl Fn(f64, f64) -> f64) -> Self {
        Self { points: self.points.iter().map(|&(y, z)| (y, change(y, z))).collect() }
    }

    /// The stretches on which the profile stands at `level` or above: `most` is over `level`.
    pub(crate) fn stretches(&self, level: f64) -> Vec<Stretch> {
        let mut found: Vec<Stretch> = Vec::new();
        let mut open = false;
        for (k, &(y, z)) in self.points.iter().enumerate() {
            if z < level {
                open = false;
                continue;
            }
            let before = k.checked_sub(1).and_then(|k| self.points.get(k));
            let after = self.points.get(k + 1);
            if !open {
                found.push(Stretch { from: before.map_or(y, |&low| crossing(low, (y, z), level)), to: y, most: 0.0 });
            }
            if let Some(last) = found.last_mut() {
                last.to = after.filter(|low| low.1 < level).map_or(y, |&low| crossing(low, (y, z), level));
                last.most = last.most.max(z - level);
            }
            open = true;
        }
        found
    }
}

/// The height at `y` on the line through two points.
pub(crate) fn between(one: (f64, f64), other: (f64, f64), y: f64) -> f64 {
    let run = other.0 - one.0;
    if run == 0.0 {
        return one.1.max(other.1);
    }
    let share = (y - one.0) / run;
    one.1 * (1.0 - share) + other.1 * share
}

/// Where the line from a point below `level` to one at or above it crosses it.
fn crossing(low: (f64, f64), high: (f64, f64), level: f64) -> f64 {
    let rise = high.1 - low.1;
    if rise > 0.0 { low.0 + (high.0 - low.0) * ((level - low.1) / rise) } else { high.0 }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn hill() -> Profile {
        Profile::new(vec![(0.0, 0.0), (10.0, 4.0), (20.0, 0.0), (30.0, 0.0), (40.0, 2.0)])
    }

    #[test]
    fn heights_between_readings() {
        assert_eq!(hill().at(5.0), Some(2.0));
        assert_eq!(hill().at(40.0), Some(2.0));
        assert_eq!(hill().at(41.0), None);
        assert_eq!(hill().highest_between(12.0, 25.0), Some(3.2));
        assert_eq!(hill().highest_between(-5.0, 5.0), Some(2.0));
        assert_eq!(hill().highest_between(50.0, 60.0), None);
        assert_eq!(Profile::new(vec![(3.0, 1.0)]).at(3.0), Some(1.0));
    }

    #[test]
    fn stretches_end_where_the_level_is_crossed() {
        let found = hill().stretches(1.0);
        let expected = [Stretch { from: 2.5, to: 17.5, most: 3.0 }, Stretch { from: 35.0, to: 40.0, most: 1.0 }];
        assert_eq!(found, expected);
        assert_eq!(hill().stretches(0.0).len(), 1);
        assert_eq!(hill().stretches(4.5), []);
    }
}
