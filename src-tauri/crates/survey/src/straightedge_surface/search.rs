//! Every position and direction of the bar: which lines are tried, and how the best of them are refined.
//!
//! How much is tried, and how closely, is our own choice and follows from no print. What comes of it is held against
//! bars laid at random (`no_bar_tried_at_random_shows_more`) and a dense search (`tests/peers/straightedges.py`).

use std::f64::consts::PI;

use super::bar::{Bar, Weights};
use super::chord::{Aim, Found, best_over};
use super::ray::{Crossing, Lean, Start, Surface};
use super::reach::Reach;
use super::supported::best_from;
use crate::golden_section::golden_section;
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
const TURNED: usize = 32;
/// So many of the best bars are settled.
const SETTLED: usize = 6;
/// How closely a low place on an edge is found, as a share of the edge: at first, and when it is settled.
const COARSE: f64 = 1e-3;
const FINE: f64 = 2e-5;
/// How closely a direction is found beside a place, as radians for each share of an edge.
const ANGLE: f64 = 0.1;

pub(super) struct Search<'a> {
    surface: Surface<'a>,
    reach: Reach,
    length: f64,
    aim: Aim,
    best: Option<Bar>,
    least: f64,
    /// Bars that score no better are not wanted at all.
    floor: f64,
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
        let mut search = Self { surface, reach, length, aim, best: None, least, floor: least, turns, behind, ahead };
        search.over_vertices();
        search.over_edges();
        search.turn_the_best();
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

    /// Looks closer at the best lines, and then at the best bars that come of them.
    fn turn_the_best(&mut self) {
        self.sort_turns();
        let of = |turns: &[Turn], keep: &dyn Fn(&Turn) -> bool| -> Vec<Turn> {
            turns.iter().copied().filter(keep).take(TURNED).collect()
        };
        let low = of(&self.turns, &|turn| !turn.as_support && matches!(turn.start, Start::Vertex(_)));
        let support = of(&self.turns, &|turn| turn.as_support);
        let edges = of(&self.turns, &|turn| matches!(turn.start, Start::OnEdge(..)));
        let mut bars: Vec<Bar> = self.best.iter().cloned().collect();
        for turn in low.into_iter().chain(support).chain(edges) {
            bars.extend(self.afresh(|search| match turn.start {
                Start::OnEdge(edge, share) => {
                    search.slide(edge, (share - 1.0 / 6.0, share + 1.0 / 6.0), (turn.from, turn.to), COARSE);
                }
                Start::Vertex(_) => search.turn(turn, COARSE),
            }));
        }
        bars.sort_by(|p, q| q.score.total_cmp(&p.score));
        let mut apart: Vec<Bar> = Vec::with_capacity(SETTLED);
        for bar in bars {
            if apart.len() < SETTLED && !apart.iter().any(|other| other.is_near(&bar)) {
                apart.push(bar);
            }
        }
        for bar in apart {
            self.better(|search| search.settle(bar, COARSE));
        }
        if let Some(best) = self.best.clone() {
            self.better(|search| search.settle(best, FINE));
        }
    }

    /// Keeps what a part of the search finds, if it is better.
    fn better(&mut self, look: impl FnOnce(&mut Self)) {
        let found = self.afresh(look).filter(|bar| self.best.as_ref().is_none_or(|best| bar.score > best.score));
        self.best = found.or(self.best.take());
    }

    /// The best bar of one part of the search alone.
    fn afresh(&mut self, look: impl FnOnce(&mut Self)) -> Option<Bar> {
        let (best, least) = (self.best.take(), std::mem::replace(&mut self.least, self.floor));
        look(self);
        let found = std::mem::replace(&mut self.best, best);
        self.least = least;
        found
    }

    /// Turns a line about its start for the best score between two angles.
    fn turn(&mut self, turn: Turn, fine: f64) {
        let role = usize::from(turn.as_support);
        let score = |angle: f64| self.line(turn.start, angle, turn.as_support, !turn.as_support)[role];
        golden_section((turn.from, turn.to), ANGLE * fine, score);
    }

    /// Moves a low place along its edge, and over every place turns the line to its best, until it is known within
    /// `fine`, as a share of the edge.
    fn slide(&mut self, edge: usize, (from, to): (f64, f64), (least, most): (f64, f64), fine: f64) {
        let over = |share: f64| {
            let start = Start::OnEdge(edge, share);
            let score = |angle: f64| {
                self.follow(start, angle, Lean::Left);
                self.low_at(start, angle)
            };
            golden_section((least, most), ANGLE * fine, score)
        };
        golden_section((from.max(0.0), to.min(1.0)), fine, over);
    }

    /// Tries a bar against the readings beside it: lines through two of them, turns about each, and its low place
    /// moved along the edges between them; again from what comes of it, as long as it grows.
    fn settle(&mut self, bar: Bar, fine: f64) {
        self.least = bar.score;
        self.best = Some(bar);
        for _ in 0..4 {
            let Some(bar) = self.best.clone() else { return };
            let toward = (bar.to[1] - bar.from[1]).atan2(bar.to[0] - bar.from[0]);
            for &(vertex, weight) in &bar.weights {
                for &(other, _) in bar.weights.iter().filter(|&&(other, _)| other != vertex) {
                    let ([x, y], [to_x, to_y]) = (self.mesh().xy[vertex], self.mesh().xy[other]);
                    self.line(Start::Vertex(vertex), (to_y - y).atan2(to_x - x), true, true);
                }
                // Within one of these there is one peak, as a rule.
                for (from, to) in [(-0.05, -0.02), (-0.02, 0.0), (0.0, 0.02), (0.02, 0.05)] {
                    let (from, to) = (toward + from, toward + to);
                    let turn = Turn { score: 0.0, start: Start::Vertex(vertex), as_support: false, from, to };
                    if weight < 0.0 {
                        self.turn(turn, fine);
                    } else {
                        self.turn(Turn { as_support: true, ..turn }, fine);
                        self.turn(Turn { as_support: true, from: from + PI, to: to + PI, ..turn }, fine);
                    }
                }
            }
            for (edge, stretch) in self.edges_at(&bar) {
                // A little way round there may be another peak.
                for (from, to) in [(-0.25, -0.05), (-0.05, 0.05), (0.05, 0.25)] {
                    self.slide(edge, stretch, (toward + from, toward + to), fine);
                }
            }
            if self.best.as_ref().is_some_and(|best| best.score <= bar.score + 1e-5) {
                return;
            }
        }
    }

    /// The edges that pass the low place under a bar within a finger's breadth, and the stretch of each beside it.
    fn edges_at(&self, bar: &Bar) -> Vec<(usize, (f64, f64))> {
        const BREADTH: f64 = 20.0;
        /// Half of the stretch.
        const BESIDE: f64 = 60.0;
        let mesh = self.mesh();
        let under = bar.weights.iter().filter(|(_, weight)| *weight < 0.0);
        let edges = under.flat_map(|&(reading, _)| mesh.leaving(reading));
        let nearest = edges.map(|&edge| {
            let ([x, y], [to_x, to_y]) = (mesh.xy[mesh.from(edge)], mesh.xy[mesh.to(edge)]);
            let (along_x, along_y) = (to_x - x, to_y - y);
            let along = (bar.low[0] - x) * along_x + (bar.low[1] - y) * along_y;
            let square = along_x * along_x + along_y * along_y;
            let share = (along / square).clamp(0.0, 1.0);
            let off = distance(bar.low, [x + share * along_x, y + share * along_y]);
            (edge, (share - BESIDE / square.sqrt(), share + BESIDE / square.sqrt()), off)
        });
        nearest.filter(|&(.., off)| off <= BREADTH).map(|(edge, stretch, _)| (edge, stretch)).collect()
    }
}

/// The angles with one more in the middle of every two neighbours.
fn with_middles(angles: &[f64]) -> Vec<f64> {
    let next = angles.iter().skip(1).copied().chain(angles.first().map(|first| first + PI));
    angles.iter().zip(next).flat_map(|(&here, next)| [here, 0.5 * (here + next)]).collect()
}
