//! How fast the decisions come: `cargo run -p tasks -- bench`, in a release build, all figures from one run.
//!
//! Each figure stands beside its limit; the run fails where one is over. The peer of the plane fit is numpy's own
//! least squares on the same million points, timed in the same run.

use app::forms::Write;
use app::{App, Clock};
use serde_json::{Value, json};
use site_tests::table::{self, Row};
use std::hint::black_box;
use std::path::Path;
use std::process::{Command, ExitCode};
use std::time::{Duration, Instant};
use survey::Point;
use survey::plane::{Estimator, best_fit, fit};
use survey::units::Length;

const POINTS: usize = 1_000_000;
/// The plane alone, and the plane with its residuals, redundancies and w: seconds, the best of five.
const NUMPY: &str = "
import time, numpy as np
draw = np.random.default_rng(1)
plan, noise = draw.uniform(-1500, 1500, (1_000_000, 2)), draw.normal(0, 0.8, 1_000_000)
z = 3 + plan @ [0.01, -0.02] + noise

def plane():
    design = np.column_stack([np.ones(len(z)), plan])
    return design, np.linalg.lstsq(design, z, rcond=None)[0]

def all_of_it():
    design, found = plane()
    residuals = z - design @ found
    covariance = np.linalg.inv(design.T @ design)
    redundancy = 1 - np.einsum('ij,jk,ik->i', design, covariance, design)
    return covariance, residuals / (0.8 * np.sqrt(redundancy))

for work in [plane, all_of_it]:
    best = 1e9
    for _ in range(5):
        start = time.perf_counter()
        work()
        best = min(best, time.perf_counter() - start)
    print(best)
";

fn main() -> ExitCode {
    let home = tempfile::tempdir().expect("a folder");
    let app = App::open(home.path(), Clock::default()).expect("rooms on disk");
    fill(&app);
    let slowest = |mut times: Vec<Duration>| {
        times.sort();
        times[times.len() * 99 / 100].as_secs_f64() * 1e3
    };
    let redrawn = slowest((0..200).map(|at| timed(|| read_and_judge(&app, at))).collect());
    let judged = slowest((0..200).map(|_| timed(|| judge(&app))).collect());
    let points = scattered();
    let plane = fastest(|| _ = black_box(best_fit(&points)));
    let all_of_it = fastest(|| drop(black_box(fit(&points, Length::mm(0.8), Estimator::LeastSquares))));
    let [their_plane, all_of_theirs] = numpy();
    let (by_numpy, all_by_numpy) = ([plane, their_plane], [all_of_it, all_of_theirs]);
    table::close(
        "ratios",
        &[
            Row::at_most("reading accepted, on disk, 500 readings judged anew, p99", redrawn, 50.0, "ms"),
            Row::at_most("500 points judged anew, p99", judged, 16.0, "ms"),
            Row::times_as_fast("plane through a million points", "numpy lstsq", by_numpy, 5.0),
            Row::times_as_fast("the same with every residual and w", "numpy", all_by_numpy, 1.0),
        ],
    )
}

fn timed(work: impl FnOnce()) -> Duration {
    let start = Instant::now();
    work();
    start.elapsed()
}

/// A floor of 25 by 20 points, read once.
fn fill(app: &App) {
    let points: Vec<Value> =
        (0..500).map(|at| json!({"id": name(at), "survey": "floor", "x": x(at), "y": y(at)})).collect();
    let plan = json!({
        "outline": [[0, 0], [7500, 0], [7500, 6000], [0, 6000]], "base_wall": "door wall", "side_wall": "left wall",
        "surveys": [{"id": "floor", "name": "the floor", "surface": "floor"}], "points": points,
    });
    write(app, "room-new", json!({"name": "Hall", "units": "mm", "created": "2031-04-02T07:31:05-05:00"}));
    write(app, "plan-set", json!({"plan": plan}));
    write(
        app,
        "setup-open",
        json!({
            "setup": "S1", "survey": "floor", "instrument": "laser and rule", "sd_mm": 0.5,
            "benchmark": {"name": "door mark", "height": 0},
            "opening": {"text": "1100", "mm": 1100, "at": "2031-04-02T07:31:05-05:00"},
        }),
    );
    (0..500).for_each(|at| write(app, "reading-add", reading(at, "first", None)));
}

fn name(at: usize) -> String {
    format!("P{at}")
}

fn x(at: usize) -> f64 {
    150.0 + (at % 25) as f64 * 300.0
}

fn y(at: usize) -> f64 {
    150.0 + (at / 25) as f64 * 300.0
}

/// A reading of a gently waved floor, to the whole millimetre.
fn reading(at: usize, turn: &str, supersedes: Option<String>) -> Value {
    let value = (1100.0 + 3.0 * (x(at) / 900.0).sin() + 2.0 * (y(at) / 700.0).cos()).round();
    let mut reading = json!({
        "reading": format!("{turn}-{at}"), "setup": "S1", "point": name(at), "sense": "down",
        "entered": format!("{value}"), "value": value, "sd_mm": 0.5, "source": "typed",
    });
    if let Some(earlier) = supersedes {
        reading["supersedes"] = json!(earlier);
    }
    reading
}

fn read_and_judge(app: &App, at: usize) {
    write(app, "reading-add", reading(at, "again", Some(format!("first-{at}"))));
    judge(app);
}

fn judge(app: &App) {
    black_box(app.dispatch("findings", &json!({"room": "hall", "survey": "floor"}).to_string()).expect("findings"));
}

fn write(app: &App, command: &str, payload: Value) {
    app.write(&Write {
        id: app.new_id(),
        room: "hall".into(),
        command: command.into(),
        payload: payload.to_string(),
        at: None,
        person: None,
        private: Vec::new(),
    })
    .unwrap_or_else(|refusal| panic!("{command}: {refusal}"));
}

/// A million points over a floor, without order.
fn scattered() -> Vec<Point> {
    let wave = |at: usize, step: f64| (at as f64 * step).fract() * 3000.0 - 1500.0;
    let point = |at: usize| {
        let (x, y) = (wave(at, 0.618_033_988_75), wave(at, 0.754_877_666_25));
        Point::mm(x, y, 3.0 + 0.01 * x - 0.02 * y + wave(at, 0.569_840_290_99) / 1000.0)
    };
    (0..POINTS).map(point).collect()
}

/// Seconds of the best of five.
fn fastest(work: impl Fn()) -> f64 {
    (0..5).map(|_| timed(&work).as_secs_f64()).fold(f64::INFINITY, f64::min)
}

/// Seconds that numpy takes, in the interpreter that PYTHON names.
fn numpy() -> [f64; 2] {
    let python = std::env::var_os("PYTHON").unwrap_or_else(|| "python3".into());
    let output = Command::new(Path::new(&python)).args(["-c", NUMPY]).output().expect("Python runs");
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    let printed = String::from_utf8_lossy(&output.stdout);
    let seconds: Vec<f64> = printed.lines().map(|line| line.trim().parse().expect("seconds")).collect();
    seconds.try_into().expect("two figures")
}
