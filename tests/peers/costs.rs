//! What the computations cost, in a release build: `cargo run -p tasks -- bench`.
//!
//! Each is timed at three sizes, the best of several runs, with the power of the size that its time and its memory
//! (the most on the heap at once, what it was given apart) grow by; where a limit is stated the run fails above it.
//! Where another library does the same work its time stands beside, taken in the same run by `timings.py`.

use peak_alloc::PeakAlloc;
use site_tests::table::{self, Row};
use std::collections::BTreeMap;
use std::hint::black_box;
use std::path::Path;
use std::process::{Command, ExitCode};
use std::time::{Duration, Instant};
use survey::drainage::{Drain, FallLimits, FallRule, drainage};
use survey::fill::{FillTo, fill};
use survey::flatness_zone::flatness_zone;
use survey::framing::{Settings, plan};
use survey::guard::{Member, MemberKind};
use survey::joists::{Grid, Joist};
use survey::level_net::{Fixed, Sight, level_net};
use survey::plane::{Estimator, best_fit, fit};
use survey::pond_probability::{Draws, pond_probability};
use survey::straightedge::{Definition, line};
use survey::straightedge_surface::straightedge_surface;
use survey::surface::{Between, Waves, heights};
use survey::triangulation::{Triangulation, triangulate};
use survey::units::{Length, Probability, Slope};
use survey::{PlanPosition, Point};

#[global_allocator]
static HEAP: PeakAlloc = PeakAlloc;

/// Memory may grow with the size to this power: in proportion, and a little for what is small at first.
const MEMORY_GROWTH: f64 = 1.25;

fn main() -> ExitCode {
    let costs = [best_planes, planes, zones, lines, floors, kriging, water, ponds, framing, fills, nets];
    let peers = peers();
    let rows: Vec<Row> = costs.iter().flat_map(|cost| cost().rows(&peers)).collect();
    table::close("costs", &rows)
}

/// One computation at three sizes.
struct Cost {
    name: &'static str,
    /// Size and seconds, the smallest first.
    timed: [(usize, f64); 3],
    /// The most bytes on the heap at once at each size.
    held: [usize; 3],
    /// The power of the size that memory may grow by.
    memory_growth: f64,
    /// The most seconds at some of the sizes.
    limits: Vec<(usize, f64)>,
    /// The size at which another library was timed, its name in `timings.py`, and how many times as fast we must be.
    peers: Vec<(usize, &'static str, f64)>,
}

impl Cost {
    /// Times the work on what is prepared for each size.
    fn of<T>(name: &'static str, sizes: [usize; 3], prepared: impl Fn(usize) -> T, work: impl Fn(&T)) -> Self {
        let measured = sizes.map(|size| {
            let input = prepared(size);
            (best(|| work(&input)), most_held(|| work(&input)))
        });
        let timed = std::array::from_fn(|k| (sizes[k], measured[k].0));
        let held = measured.map(|(_, held)| held);
        Self { name, timed, held, memory_growth: MEMORY_GROWTH, limits: Vec::new(), peers: Vec::new() }
    }

    /// For what holds a matrix by its nature.
    fn memory_to_the(mut self, power: f64) -> Self {
        self.memory_growth = power;
        self
    }

    fn at_most(mut self, size: usize, seconds: f64) -> Self {
        self.limits.push((size, seconds));
        self
    }

    fn beside(mut self, size: usize, peer: &'static str, times: f64) -> Self {
        self.peers.push((size, peer, times));
        self
    }

    fn at(&self, size: usize) -> f64 {
        self.timed.iter().find(|(other, _)| *other == size).map_or(f64::NAN, |(_, seconds)| *seconds)
    }

    /// A row a size, then a row a library beside.
    fn rows(&self, peers: &BTreeMap<String, f64>) -> Vec<Row> {
        let sizes = (0..3).map(|at| self.row(at));
        let beside = self.peers.iter().map(|(size, peer, times)| {
            let theirs = peers.get(*peer).copied().unwrap_or(f64::NAN);
            Row::times_as_fast(self.name, peer, [self.at(*size), theirs], *times).of(size)
        });
        sizes.chain(beside).collect()
    }

    fn row(&self, at: usize) -> Row {
        let ((size, seconds), held) = (self.timed[at], self.held[at]);
        let limit = self.limits.iter().find(|(other, _)| *other == size);
        let slow = limit.is_some_and(|(_, most)| seconds > *most);
        let [time, memory] = self.growth();
        let last = at == 2;
        let swells = last && memory > self.memory_growth;
        Row {
            what: self.name.into(),
            size: size.to_string(),
            ours: format!("{}, {:.1} kB", said(seconds), held as f64 / 1e3),
            allowed: limit.map_or(String::new(), |(_, most)| format!("≤ {}", said(*most))),
            growth: if last { format!("{time:.2}, {memory:.2} ≤ {}", self.memory_growth) } else { String::new() },
            over: slow || swells,
            ..Row::default()
        }
    }

    /// The powers of the size that time and memory grow by, from the smallest to the largest.
    fn growth(&self) -> [f64; 2] {
        let [(small, first), _, (large, last)] = self.timed;
        let [least, _, most] = self.held.map(|held| held.max(1) as f64);
        [last / first, most / least].map(|times| times.ln() / (large as f64 / small as f64).ln())
    }
}

/// A time in the unit that suits it.
fn said(seconds: f64) -> String {
    match seconds {
        s if s < 1e-5 => format!("{:.2} µs", s * 1e6),
        s if s < 1e-2 => format!("{:.3} ms", s * 1e3),
        s => format!("{:.1} ms", s * 1e3),
    }
}

/// Seconds of the best of some runs, many together where one is too short to time.
fn best(work: impl Fn()) -> f64 {
    let once = timed(&work).as_secs_f64();
    let together = (2e-4 / once.max(1e-9)).ceil().max(1.0) as usize;
    let runs = (0.5 / (once * together as f64)).clamp(3.0, 200.0) as usize;
    let run = |_| timed(|| (0..together).for_each(|_| work())).as_secs_f64() / together as f64;
    (0..runs).map(run).fold(f64::INFINITY, f64::min)
}

/// The most bytes on the heap at once beyond what was there before.
fn most_held(work: impl Fn()) -> usize {
    HEAP.reset_peak_usage();
    let before = HEAP.current_usage();
    work();
    HEAP.peak_usage().saturating_sub(before)
}

fn timed(work: impl FnOnce()) -> Duration {
    let start = Instant::now();
    work();
    start.elapsed()
}

/// Seconds of the other libraries by name, from the interpreter that PYTHON names.
fn peers() -> BTreeMap<String, f64> {
    let python = std::env::var_os("PYTHON").unwrap_or_else(|| "python3".into());
    let script = Path::new(env!("CARGO_MANIFEST_DIR")).join("peers/timings.py");
    let single = ["OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS"].map(|name| (name, "1"));
    let output = Command::new(Path::new(&python)).arg(script).envs(single).output().expect("Python runs");
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    let text = String::from_utf8_lossy(&output.stdout);
    let line = |line: &str| line.split_once(' ').map(|(name, s)| (name.to_string(), s.parse().expect("seconds")));
    text.lines().filter_map(line).collect()
}

/// A number between -1 and 1 that looks drawn, always the same.
fn wave(at: usize, step: f64) -> f64 {
    (at as f64 * step).fract() * 2.0 - 1.0
}

/// Readings scattered over a room whose size keeps the readings as dense as they are at a hundred.
fn room(count: usize) -> Vec<Point> {
    let half = 150.0 * (count as f64).sqrt();
    let point = |at: usize| {
        let (x, y) = (half * wave(at, 0.618_033_988_75), half * wave(at, 0.754_877_666_25));
        Point::mm(x, y, 3.0 + 0.01 * x - 0.02 * y + 1.5 * wave(at, 0.569_840_290_99))
    };
    (0..count).map(point).collect()
}

fn surface(count: usize) -> Triangulation {
    triangulate(&room(count), &[]).expect("a room").value
}

fn best_planes() -> Cost {
    let work = |points: &Vec<Point>| _ = black_box(best_fit(points));
    Cost::of("plane by its orthogonal factor, points", [50, 10_000, 1_000_000], room, work).beside(
        1_000_000,
        "normal-equations-1000000",
        5.0,
    )
}

fn planes() -> Cost {
    let work = |points: &Vec<Point>| drop(black_box(fit(points, Length::mm(0.8), Estimator::LeastSquares)));
    Cost::of("plane with covariance and every w, points", [50, 10_000, 1_000_000], room, work)
        .at_most(50, 1e-6)
        .beside(50, "plane-50", 7.0)
        .beside(1_000_000, "plane-1000000", 0.0)
}

fn zones() -> Cost {
    let work = |points: &Vec<Point>| drop(black_box(flatness_zone(points)));
    Cost::of("minimum zone, points", [50, 1_000, 10_000], room, work)
        .at_most(50, 20e-6)
        .at_most(10_000, 2e-3)
        .beside(50, "zone-50", 30.0)
        .beside(50, "hull-50", 0.0)
        .beside(10_000, "hull-10000", 0.0)
}

fn lines() -> Cost {
    let line = |count: usize| -> Vec<line::LinePoint> {
        (0..count).map(|k| line::LinePoint::mm(k as f64 * 100.0, 3.0 * wave(k, 0.618_033_988_75))).collect()
    };
    let work = |points: &Vec<line::LinePoint>| {
        drop(black_box(line::gap(points, Length::mm(3000.0), Definition::Supported)));
    };
    Cost::of("straightedge of 3 m along a line, readings", [75, 150, 300], line, work).at_most(300, 5e-3)
}

fn floors() -> Cost {
    let work = |floor: &Triangulation| drop(black_box(straightedge_surface(floor, Length::mm(2000.0))));
    Cost::of("straightedge of 2 m anywhere on a floor, points", [60, 1_000, 10_000], surface, work)
        .at_most(60, 50e-3)
        .at_most(10_000, 1.0)
}

fn kriging() -> Cost {
    let waves = Waves { height_sd: Length::mm(2.0), length: Length::mm(600.0), reading_sd: Length::mm(0.5) };
    let at = |k: usize| PlanPosition {
        x: Length::mm(1000.0 * wave(k, 0.324_717_957_24)),
        y: Length::mm(1000.0 * wave(k, 0.569_840_290_99)),
    };
    let places: Vec<PlanPosition> = (0..500).map(at).collect();
    let work = move |points: &Vec<Point>| drop(black_box(heights(points, &places, Between::Kriging(waves), None)));
    Cost::of("kriging of 500 places with their uncertainty, readings", [25, 50, 100], room, work)
        .at_most(50, 0.2e-3)
        .memory_to_the(2.1)
        .beside(50, "kriging-50", 0.0)
}

const FALLS: FallLimits = FallLimits { minimum: Slope::ZERO, maximum: Slope::ZERO, rule: FallRule::Path };

fn water() -> Cost {
    let work = |floor: &Triangulation| drop(black_box(drainage(floor, &Drain::Vertices(vec![0]), &[], FALLS)));
    Cost::of("drainage of a surface, readings", [100, 3_000, 100_000], surface, work)
        .at_most(100, 20e-6)
        .at_most(100_000, 0.3)
}

fn ponds() -> Cost {
    let draws = Draws { reading_sd: Length::mm(0.5), count: 10_000, seed: 1, drain_exact: false };
    let work = move |floor: &Triangulation| {
        drop(black_box(pond_probability(floor, &Drain::Vertices(vec![0]), &[], draws, &[Length::mm(3.0)])));
    };
    Cost::of("pond probability of 10,000 draws, readings", [25, 100, 400], surface, work).at_most(100, 0.5)
}

fn framing() -> Cost {
    let work = |grid: &Grid| {
        let settings = Settings { max_tilt: Slope::ratio(0.01), height: Some(Length::mm(3.0)), ..Settings::default() };
        drop(black_box(plan(grid, &settings)));
    };
    Cost::of("framing plan with every alternative, joists of ten stations", [6, 12, 24], joists, work).at_most(12, 5e-3)
}

fn joists(count: usize) -> Grid {
    let member = Member {
        kind: MemberKind::Sawn,
        depth: Length::inches(9.25),
        span: Length::inches(138.0),
        first_bearing: Length::inches(-24.0),
    };
    let joist = |j: usize| Joist {
        id: format!("J{}", j + 1),
        x: Length::inches(16.0 * j as f64),
        tops: (0..10).map(|k| Some(Length::mm(4.0 * wave(10 * j + k, 0.618_033_988_75)))).collect(),
        other_edge: Vec::new(),
        member,
        sound: Some(true),
        approval: None,
    };
    let stations = (0..10).map(|k| Length::inches(12.0 * f64::from(k))).collect();
    Grid { stations, joists: (0..count).map(joist).collect(), u: Length::mm(0.3) }
}

fn fills() -> Cost {
    let work = |floor: &Triangulation| {
        black_box(fill(floor, FillTo::Level(Length::mm(3.0)), None));
    };
    Cost::of("fill to a level, readings", [60, 1_000, 100_000], surface, work).at_most(60, 2e-6)
}

fn nets() -> Cost {
    let sights = |points: usize| -> Vec<Sight> {
        let sight = |at: usize| Sight {
            setup: format!("S{}", at % 5),
            point: format!("P{}", at / 5),
            reading: Length::mm(1000.0 + wave(at, 0.618_033_988_75)),
            sd: Length::mm(0.5),
        };
        (0..5 * points).map(sight).collect()
    };
    let datum: BTreeMap<String, Fixed> = [("P0".into(), Fixed { height: Length::ZERO, sd: Length::ZERO })].into();
    let work = move |sights: &Vec<Sight>| drop(black_box(level_net(sights, &datum, Probability::of(0.001))));
    Cost::of("five set-ups on as many points, points", [25, 50, 100], sights, work)
        .at_most(100, 5e-3)
        .memory_to_the(2.1)
}
