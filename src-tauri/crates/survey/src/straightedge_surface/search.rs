//! Every position and direction of the bar: which lines are tried, and how the best of them are refined.

use std::f64::consts::PI;

use super::bar::{Bar, Weights};
use super::chord::{Aim, Found, best_over};
use super::ray::{Crossing, Lean, Start, Surface};
use super::reach::Reach;
use super::supported::best_from;
use crate::mesh::{Mesh, NONE, distance};

/// A line through a low place or a support, that may be worth turning a little.
#[derive(Debug, Clone, Copy)]
struct Turn {
    score: f64,
    start: Start,
    /// Whether the start is a support of the bar, not its low place.
    as_support: bool,
    from: f64,
    to: f64,
}

/// So many readings are searched through every pair of them; with more, through fewer lines each.
const EVERY_PAIR: usize = 80;
/// Lines that score below this share of the best are not looked at closer.
const POOR: f64 = 0.6;
/// So many of the best lines are turned for the very best.
const TURNED: usize = 48;

pub(super) struct Search<'a> {
    surface: Surface<'a>,
    reach: Reach,
    length: f64,
    aim: Aim,
    best: Option<Bar>,
    least: f64,
    turns: Vec<Turn>,
    behind: Vec<Crossing>,
    ahead: Vec<Crossing>,
}

impl<'a> Search<'a> {
    /// The bar of the largest score, or `None` where no bar scores above `least`.
    pub(super) fn best(mesh: &'a Mesh, length: f64, aim: Aim, least: f64) -> Option<Bar> {
        let surface = Surface::new(mesh);
        let reach = Reach::new(mesh, &surface.z, length);
        let (turns, behind, ahead) = (Vec::new(), Vec::new(), Vec::new());
        let mut search = Self { surface, reach, length, aim, best: None, least, turns, behind, ahead };
        search.over_vertices();
        search.over_edges();
        search.turn_the_best();
        search.settle();
        search.best
    }

    fn mesh(&self) -> &'a Mesh {
        self.surface.mesh
    }

    /// The vertices of the surface, the lowest beside what is around them first.
    fn over_vertices(&mut self) {
        let corners: Vec<usize> = (0..self.mesh().xy.len()).filter(|&vertex| self.mesh().is_corner(vertex)).collect();
        let few = corners.len() <= EVERY_PAIR;
        let most =
            |search: &Self, vertex: usize| search.reach.highest(search.mesh().xy[vertex]) - search.surface.z[vertex];
        let mut by_depth: Vec<(f64, usize)> = corners.iter().map(|&vertex| (most(self, vertex), vertex)).collect();
        by_depth.sort_by(|p, q| q.0.total_cmp(&p.0).then(p.1.cmp(&q.1)));
        for (most, vertex) in by_depth {
            let worth_it = most + self.aim.most() > self.least;
            if worth_it || few {
                self.around(vertex, &corners, few, worth_it);
            }
        }
    }

    /// Lines through a vertex in every direction that matters, as low place and, with few readings, as support.
    fn around(&mut self, vertex: usize, corners: &[usize], few: bool, as_low: bool) {
        let start = Start::Vertex(vertex);
        let angles = self.directions(vertex, corners, few);
        let scores: Vec<[f64; 3]> = angles.iter().map(|&angle| self.line(start, angle, few, as_low)).collect();
        let n = angles.len();
        // Half a turn on, the same line runs the other way.
        let other_way = |[low, ahead, behind]: [f64; 3]| [low, behind, ahead];
        for k in 0..n {
            let before =
                if k == 0 { (angles[n - 1] - PI, other_way(scores[n - 1])) } else { (angles[k - 1], scores[k - 1]) };
            let after =
                if k + 1 == n { (angles[0] + PI, other_way(scores[0])) } else { (angles[k + 1], scores[k + 1]) };
            for (role, turned) in [(0, 0.0), (1, 0.0), (2, PI)] {
                let score = scores[k][role];
                if score > f64::NEG_INFINITY && score >= before.1[role] && score >= after.1[role] {
                    let (from, to) = (before.0 + turned, after.0 + turned);
                    self.turns.push(Turn { score, start, as_support: role > 0, from, to });
                }
            }
        }
        self.forget_poor_turns();
    }

    /// The angles of the lines through a vertex, within half a turn and in order.
    fn directions(&self, vertex: usize, corners: &[usize], few: bool) -> Vec<f64> {
        let at = self.mesh().xy[vertex];
        let mut angles: Vec<f64> = (0..24).map(|k| f64::from(k) * PI / 24.0 + 0.01).collect();
        if few {
            let near = |&&other: &&usize| other != vertex && distance(at, self.mesh().xy[other]) <= self.length;
            let toward = |&other: &usize| (self.mesh().xy[other][1] - at[1]).atan2(self.mesh().xy[other][0] - at[0]);
            angles.extend(corners.iter().filter(near).map(toward).map(|angle| angle.rem_euclid(PI)));
        }
        angles.sort_by(f64::total_cmp);
        angles.dedup_by(|p, q| (*p - *q).abs() < 1e-9);
        if few { with_middles(&angles) } else { angles }
    }

    /// Scores of the line through a start: as low place, and as support ahead of it and behind.
    fn line(&mut self, start: Start, angle: f64, as_support: bool, as_low: bool) -> [f64; 3] {
        let mut scores = [f64::NEG_INFINITY; 3];
        for lean in [Lean::Left, Lean::Right] {
            self.follow(start, angle, lean);
            if as_low {
                scores[0] = scores[0].max(self.low_at(start, angle));
            }
            if as_support {
                scores[1] = scores[1].max(self.supported_at(angle, true));
                scores[2] = scores[2].max(self.supported_at(angle, false));
            }
        }
        scores
    }

    fn follow(&mut self, start: Start, angle: f64, lean: Lean) {
        let (sin, cos) = angle.sin_cos();
        let back = if lean == Lean::Left { Lean::Right } else { Lean::Left };
        self.surface.follow(start, [cos, sin], lean, self.length, &mut self.ahead);
        self.surface.follow(start, [-cos, -sin], back, self.length, &mut self.behind);
    }

    /// The score of the best bar over the start of both profiles.
    fn low_at(&mut self, start: Start, angle: f64) -> f64 {
        let Some(found) = best_over(&self.behind, &self.ahead, self.length, &self.aim, POOR * self.least) else {
            return f64::NEG_INFINITY;
        };
        if found.score > self.least {
            self.keep(start, angle, found);
        }
        found.score
    }

    fn keep(&mut self, start: Start, angle: f64, found: Found) {
        let (sin, cos) = angle.sin_cos();
        let low = self.surface.place(&self.surface.at(start));
        let place = |along: f64| [low[0] + along * cos, low[1] + along * sin];
        let share = found.behind / (found.behind + found.ahead);
        let mut weights = Weights::default();
        weights.add_at(&self.behind, found.behind, 1.0 - share);
        weights.add_at(&self.ahead, found.ahead, share);
        weights.add(&self.surface.at(start), -1.0);
        self.least = found.score;
        self.best = Some(Bar {
            score: found.score,
            gap: found.gap,
            from: place(-found.behind),
            to: place(found.ahead),
            low,
            weights: weights.0,
        });
    }

    /// The score of the best bar that is supported at the start of a profile and reaches along it.
    fn supported_at(&mut self, angle: f64, ahead: bool) -> f64 {
        let profile = if ahead { &self.ahead } else { &self.behind };
        let Some((score, low, far)) = best_from(profile, self.length, &self.aim) else { return f64::NEG_INFINITY };
        if score > self.least {
            let crossing = profile[low];
            let (sin, cos) = if ahead { angle.sin_cos() } else { (angle + PI).sin_cos() };
            let from = self.surface.place(&profile[0]);
            let place = |along: f64| [from[0] + along * cos, from[1] + along * sin];
            let share = crossing.along / far;
            let mut weights = Weights::default();
            weights.add(&profile[0], 1.0 - share);
            weights.add_at(profile, far, share);
            weights.add(&crossing, -1.0);
            let gap = weights.0.iter().map(|&(vertex, weight)| weight * self.surface.z[vertex]).sum();
            let bar = Bar { score, gap, from, to: place(far), low: place(crossing.along), weights: weights.0 };
            self.least = score;
            self.best = Some(bar);
        }
        score
    }

    /// Low places on edges, between their ends.
    fn over_edges(&mut self) {
        let mesh = self.mesh();
        let once = |&edge: &usize| mesh.twin[edge] == NONE || edge < mesh.twin[edge];
        let most = |search: &Self, edge: usize| {
            let (from, to) = (mesh.from(edge), mesh.to(edge));
            let high = search.reach.highest(mesh.xy[from]).max(search.reach.highest(mesh.xy[to]));
            high - search.surface.z[from].min(search.surface.z[to])
        };
        let mut edges: Vec<(f64, usize)> =
            (0..mesh.twin.len()).filter(once).map(|edge| (most(self, edge), edge)).collect();
        edges.sort_by(|p, q| q.0.total_cmp(&p.0).then(p.1.cmp(&q.1)));
        for (most, edge) in edges {
            if most + self.aim.most() <= self.least {
                break;
            }
            self.over_edge(edge);
        }
    }

    fn over_edge(&mut self, edge: usize) {
        const LINES: u32 = 24;
        for share in [1.0 / 6.0, 0.5, 5.0 / 6.0] {
            let start = Start::OnEdge(edge, share);
            let mut best = (f64::NEG_INFINITY, 0.0);
            for angle in (0..LINES).map(|k| (f64::from(k) + share) * PI / f64::from(LINES)) {
                self.follow(start, angle, Lean::Left);
                let score = self.low_at(start, angle);
                if score > best.0 {
                    best = (score, angle);
                }
            }
            let around = PI / f64::from(LINES);
            self.turns.push(Turn {
                score: best.0,
                start,
                as_support: false,
                from: best.1 - around,
                to: best.1 + around,
            });
        }
        self.forget_poor_turns();
    }

    fn forget_poor_turns(&mut self) {
        if self.turns.len() > 64 * TURNED {
            self.sort_turns();
            self.turns.truncate(4 * TURNED);
        }
    }

    fn sort_turns(&mut self) {
        self.turns.sort_by(|p, q| q.score.total_cmp(&p.score));
    }

    fn turn_the_best(&mut self) {
        self.sort_turns();
        let of = |turns: &[Turn], keep: &dyn Fn(&Turn) -> bool| -> Vec<Turn> {
            turns.iter().copied().filter(keep).take(TURNED).collect()
        };
        let low = of(&self.turns, &|turn| !turn.as_support && matches!(turn.start, Start::Vertex(_)));
        let support = of(&self.turns, &|turn| turn.as_support);
        let edges = of(&self.turns, &|turn| matches!(turn.start, Start::OnEdge(..)));
        for turn in low.into_iter().chain(support) {
            self.turn(turn);
        }
        for turn in edges {
            if let Start::OnEdge(edge, share) = turn.start {
                self.slide(edge, share, 0.5 * (turn.from + turn.to), 0.5 * (turn.to - turn.from));
            }
        }
    }

    /// Turns a line about its start for the best score between two angles (golden section).
    fn turn(&mut self, turn: Turn) {
        const GOLDEN: f64 = 0.618_033_988_749_894_8;
        let (mut from, mut to) = (turn.from, turn.to);
        let mut score = |angle: f64| self.line(turn.start, angle, turn.as_support, !turn.as_support);
        let role = usize::from(turn.as_support);
        let (mut p, mut q) = (to - GOLDEN * (to - from), from + GOLDEN * (to - from));
        let (mut at_p, mut at_q) = (score(p)[role], score(q)[role]);
        while to - from > 1e-7 {
            if at_p >= at_q {
                (to, q, at_q) = (q, p, at_p);
                p = to - GOLDEN * (to - from);
                at_p = score(p)[role];
            } else {
                (from, p, at_p) = (p, q, at_q);
                q = from + GOLDEN * (to - from);
                at_q = score(q)[role];
            }
        }
    }

    /// Moves a low place along its edge and turns the line over it, step by step, as long as the score grows.
    fn slide(&mut self, edge: usize, share: f64, angle: f64, around: f64) {
        let mut score = |share: f64, angle: f64| {
            let start = Start::OnEdge(edge, share);
            self.follow(start, angle, Lean::Left);
            self.low_at(start, angle)
        };
        let (mut at, mut step, mut turned) = ((score(share, angle), share, angle), 1.0, 0.0_f64);
        for _ in 0..200 {
            // Eight ways, turned by the golden angle each time, so that no ridge hides between them for long.
            turned += 2.399_963_229_728_653;
            let way = |k: u32| (turned + f64::from(k) * PI / 4.0).sin_cos();
            let tried = (0..8).map(way).map(|(along, about)| {
                let (share, angle) = ((at.1 + step * along / 6.0).clamp(0.0, 1.0), at.2 + step * about * around);
                (score(share, angle), share, angle)
            });
            let best = tried.fold(at, |best, tried| if tried.0 > best.0 { tried } else { best });
            step = if best.0 > at.0 { (step * 1.3).min(1.0) } else { step * 0.7 };
            at = best;
            if step < 1e-5 {
                return;
            }
        }
    }

    /// Tries the best bar against the readings beside it: lines through two of them, and turns about each.
    fn settle(&mut self) {
        for _ in 0..4 {
            let Some(bar) = self.best.clone() else { return };
            let readings: Vec<usize> = bar.weights.iter().map(|&(vertex, _)| vertex).collect();
            let toward = (bar.to[1] - bar.from[1]).atan2(bar.to[0] - bar.from[0]);
            for &vertex in &readings {
                for &other in readings.iter().filter(|&&other| other != vertex) {
                    let ([x, y], [to_x, to_y]) = (self.mesh().xy[vertex], self.mesh().xy[other]);
                    self.line(Start::Vertex(vertex), (to_y - y).atan2(to_x - x), true, true);
                }
                let turn = Turn {
                    score: 0.0,
                    start: Start::Vertex(vertex),
                    as_support: false,
                    from: toward - 0.05,
                    to: toward + 0.05,
                };
                self.turn(turn);
                self.turn(Turn { as_support: true, ..turn });
                self.turn(Turn { as_support: true, from: turn.from + PI, to: turn.to + PI, ..turn });
            }
            if self.best.as_ref().is_some_and(|best| best.score <= bar.score + 1e-5) {
                return;
            }
        }
    }
}

/// The angles with one more in the middle of every two neighbours.
fn with_middles(angles: &[f64]) -> Vec<f64> {
    let next = angles.iter().skip(1).copied().chain(angles.first().map(|first| first + PI));
    angles.iter().zip(next).flat_map(|(&here, next)| [here, 0.5 * (here + next)]).collect()
}
