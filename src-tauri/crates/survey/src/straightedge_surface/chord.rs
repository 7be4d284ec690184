//! The bar over one low place: how high its underside can be there, exactly, on the profile to both sides.

use super::ray::Crossing;

/// What is sought: the gap itself, or the gap with so many of its standard uncertainties on top.
#[derive(Debug, Clone, Copy, Default)]
pub(crate) struct Aim {
    /// How many standard uncertainties are added.
    pub(crate) guard: f64,
    pub(crate) reading_sd: f64,
    pub(crate) bar_sd: f64,
}

impl Aim {
    /// The gap alone.
    pub(crate) const GAP: Self = Self { guard: 0.0, reading_sd: 0.0, bar_sd: 0.0 };

    /// The standard uncertainty of a gap whose weights have this sum of squares.
    pub(crate) fn u(&self, squares: f64) -> f64 {
        (self.reading_sd * self.reading_sd * squares + self.bar_sd * self.bar_sd).sqrt()
    }

    /// The most that is ever added: two readings' worth, the bar on one and the gap over one.
    pub(crate) fn most(&self) -> f64 {
        self.guard * self.u(2.0)
    }
}

/// The best bar found over a low place: how far it reaches to both sides.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Found {
    pub(crate) score: f64,
    pub(crate) gap: f64,
    pub(crate) behind: f64,
    pub(crate) ahead: f64,
}

/// The best bar no longer than `length` over the first crossing of both profiles, if it beats `least`.
///
/// Both profiles start at the low place and run away from it. Candidates: supports at crossings, a bar of the whole
/// length with one end at a crossing, and where the gap is stationary while it slides between them.
pub(crate) fn best_over(behind: &[Crossing], ahead: &[Crossing], length: f64, aim: &Aim, least: f64) -> Option<Found> {
    let low = behind.first()?;
    let best = Found { score: least, gap: 0.0, behind: 0.0, ahead: 0.0 };
    let mut over = Over { behind, ahead, low: *low, length, aim, best, found: false };
    let highest = |profile: &[Crossing]| profile.iter().map(|crossing| crossing.z).fold(f64::NEG_INFINITY, f64::max);
    if over.cannot_beat(highest(behind).max(highest(ahead))) {
        return None;
    }
    over.supported_at_crossings(highest(ahead));
    over.slid();
    over.found.then_some(over.best)
}

struct Over<'a> {
    behind: &'a [Crossing],
    ahead: &'a [Crossing],
    low: Crossing,
    length: f64,
    aim: &'a Aim,
    best: Found,
    found: bool,
}

/// A support of the bar: how far from the low place, how high, and the squares of its weights.
#[derive(Clone, Copy)]
struct Support {
    away: f64,
    z: f64,
    squares: f64,
}

impl From<&Crossing> for Support {
    fn from(crossing: &Crossing) -> Self {
        Self { away: crossing.along, z: crossing.z, squares: crossing.squares() }
    }
}

impl Over<'_> {
    /// Whether a bar no higher than this over the low place cannot be the best.
    fn cannot_beat(&self, height: f64) -> bool {
        height - self.low.z + self.aim.most() <= self.best.score
    }

    fn supported_at_crossings(&mut self, highest_ahead: f64) {
        let (behind, ahead, length) = (self.behind, self.ahead, self.length);
        for back in behind.iter().skip(1).take_while(|back| back.along <= length) {
            if self.cannot_beat(back.z.max(highest_ahead)) {
                continue;
            }
            for front in ahead.iter().skip(1).take_while(|front| back.along + front.along <= length + 1e-9) {
                self.consider(back.into(), front.into());
            }
        }
    }

    fn consider(&mut self, back: Support, front: Support) {
        let bar = back.away + front.away;
        if bar <= 0.0 {
            return;
        }
        let share = back.away / bar;
        let gap = back.z + share * (front.z - back.z) - self.low.z;
        if gap + self.aim.most() <= self.best.score {
            return;
        }
        let squares = (1.0 - share).powi(2) * back.squares + share * share * front.squares + self.low.squares();
        let score = if self.aim.guard > 0.0 { gap + self.aim.guard * self.aim.u(squares) } else { gap };
        if score > self.best.score {
            self.best = Found { score, gap, behind: back.away, ahead: front.away };
            self.found = true;
        }
    }

    /// The bar of the whole length, slid from its farthest ahead to its farthest behind.
    fn slid(&mut self) {
        let (Some(back), Some(front)) = (self.behind.last(), self.ahead.last()) else { return };
        let (start, end) = ((self.length - front.along).max(0.0), self.length.min(back.along));
        let (mut i, mut j) = (interval(self.behind, start), interval(self.ahead, self.length - start));
        let mut at = start;
        while at < end {
            let (Some(back), Some(front)) = (self.behind.get(i + 1), self.ahead.get(j)) else { return };
            let turn = back.along.min(self.length - front.along).min(end);
            if turn > at {
                self.slid_between(i, j, at, turn);
                at = turn;
            }
            if back.along <= at {
                i += 1;
            }
            if self.length - front.along <= at {
                let Some(nearer) = j.checked_sub(1) else { return };
                j = nearer;
            }
        }
    }

    /// The bar of the whole length while its ends stay on one facet each: the gap is a parabola.
    fn slid_between(&mut self, i: usize, j: usize, from: f64, to: f64) {
        let (behind, ahead, length) = (self.behind, self.ahead, self.length);
        let ([b0, b1], [a0, a1]) = ([behind[i], behind[i + 1]], [ahead[j], ahead[j + 1]]);
        if self.cannot_beat(b0.z.max(b1.z).max(a0.z).max(a1.z)) {
            return;
        }
        let place = |away: f64| (between(&b0, &b1, away), between(&a0, &a1, length - away));
        let (first, last) = (place(from), place(to));
        let slope = |p: f64, q: f64| (q - p) / (to - from);
        let (rise_back, rise_front) = (slope(first.0.z, last.0.z), slope(first.1.z, last.1.z));
        // length · gap = (length − a) back(a) + a front(a), both linear in a.
        let bend = 2.0 * (rise_front - rise_back);
        let tilt = (length - from) * rise_back - first.0.z + first.1.z + from * rise_front;
        self.consider(first.0, first.1);
        self.consider(last.0, last.1);
        let level = from - tilt / bend;
        if bend < 0.0 && level > from && level < to {
            let (back, front) = place(level);
            self.consider(back, front);
        }
    }
}

/// The index of the crossing at or before a distance, so that another follows it.
fn interval(profile: &[Crossing], away: f64) -> usize {
    profile.partition_point(|crossing| crossing.along <= away).saturating_sub(1).min(profile.len().saturating_sub(2))
}

/// A support on the facet between two crossings.
fn between(p: &Crossing, q: &Crossing, away: f64) -> Support {
    let apart = q.along - p.along;
    let share = if apart > 0.0 { ((away - p.along) / apart).clamp(0.0, 1.0) } else { 0.0 };
    Support { away, z: p.z + share * (q.z - p.z), squares: squares_between(p, q, share) }
}

/// The sum of the squares of the weights a share of the way from one crossing to the next.
pub(crate) fn squares_between(p: &Crossing, q: &Crossing, share: f64) -> f64 {
    let rest = 1.0 - share;
    rest * rest * p.squares() + share * share * q.squares() + 2.0 * share * rest * shared(p, q)
}

/// The sum of the products of two crossings' weights on the vertices they share.
fn shared(p: &Crossing, q: &Crossing) -> f64 {
    let weights = |crossing: &Crossing| [(crossing.edge[0], 1.0 - crossing.share), (crossing.edge[1], crossing.share)];
    let pairs = weights(p).into_iter().flat_map(|one| weights(q).map(|other| (one, other)));
    pairs.filter(|((v, _), (w, _))| v == w).map(|((_, a), (_, b))| a * b).sum()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn profile(heights: &[(f64, f64)]) -> Vec<Crossing> {
        heights.iter().map(|&(along, z)| Crossing { along, z, edge: [0, 1], share: 0.0 }).collect()
    }

    #[test]
    fn bars_over_a_dip() {
        let check = |behind: &[(f64, f64)], ahead: &[(f64, f64)], length: f64, expected: f64| {
            let found =
                best_over(&profile(behind), &profile(ahead), length, &Aim::GAP, 0.0).map_or(0.0, |found| found.gap);
            assert!((found - expected).abs() < 1e-12, "{found} is not {expected}");
        };
        let (up, gentle) = ([(0.0, 0.0), (100.0, 5.0)], [(0.0, 0.0), (100.0, 5.0), (300.0, 6.0)]);
        check(&up, &up, 200.0, 5.0);
        check(&up, &up, 100.0, 2.5);
        check(&gentle, &gentle, 600.0, 6.0);
        // The bar of 200 on a valley of 1:20 and a flank of 1:200: at (100, 100), or slid.
        check(&gentle, &gentle, 200.0, 5.0);
        check(&up, &[(0.0, 0.0)], 200.0, 0.0);
        check(&[(0.0, 0.0), (100.0, -5.0)], &[(0.0, 0.0), (100.0, -5.0)], 200.0, 0.0);
    }

    fn heights() -> impl Strategy<Value = Vec<(f64, f64)>> {
        prop::collection::vec((1.0f64..80.0, -5.0f64..5.0), 1..8).prop_map(|steps| {
            let mut along = 0.0;
            let next = |(step, z): (f64, f64)| {
                along += step;
                (along, z)
            };
            std::iter::once((0.0, 0.0)).chain(steps.into_iter().map(next)).collect()
        })
    }

    proptest! {
        #[test]
        fn no_bar_of_a_fine_search_is_better(behind in heights(), ahead in heights(), length in 10.0f64..400.0) {
            let (behind, ahead) = (profile(&behind), profile(&ahead));
            let found = best_over(&behind, &ahead, length, &Aim::GAP, 0.0);
            let height = |profile: &[Crossing], away: f64| {
                let i = interval(profile, away);
                between(&profile[i], &profile[i + 1], away).z
            };
            let (back, front) = (behind[behind.len() - 1].along, ahead[ahead.len() - 1].along);
            let mut fine: f64 = 0.0;
            for a in (1..200).map(|k| back * f64::from(k) / 200.0) {
                for b in (1..=200).map(|k| (length - a).min(front) * f64::from(k) / 200.0).filter(|&b| b > 0.0) {
                    let gap = (b * height(&behind, a) + a * height(&ahead, b)) / (a + b);
                    fine = fine.max(if a + b <= length { gap } else { 0.0 });
                }
            }
            let best = found.map_or(0.0, |found| found.gap);
            prop_assert!(best >= fine - 1e-9, "{} {}", best, fine);
            if let Some(Found { behind: a, ahead: b, gap, .. }) = found {
                prop_assert!(a + b <= length + 1e-6, "{} {}", a, b);
                let there = (b * height(&behind, a) + a * height(&ahead, b)) / (a + b);
                prop_assert!((gap - there).abs() < 1e-9, "{} {}", gap, there);
            }
        }
    }
}
