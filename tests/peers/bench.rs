//! How long the core takes, one JSON line each: `{name, seconds, goal?}`, the best or the 99th of many runs.
//!
//! Figures of one machine mean little; `compare.py --bench` sets them beside other libraries in the same run.

use app::wire::{EntryAsk, RoomFile};
use app::{App, Clock};
use serde_json::json;
use std::hint::black_box;
use std::time::Instant;
use survey::Point;
use survey::plane::{self, Estimator};
use survey::straightedge::Definition;
use survey::straightedge::line::{self, LinePoint};
use survey::units::Length;

fn main() {
    let million: Vec<Point> = points(1_000_000);
    report("plane, 1e6 points", best(7, || plane::best_fit(black_box(&million)).is_ok()), None);
    let fifty = points(50);
    let fit = || plane::fit(black_box(&fifty), Length::mm(0.8), Estimator::LeastSquares).is_ok();
    report("plane with covariance and every w, 50 points", best_of_many(fit), Some(1e-6));
    let line = profile(300);
    report("straightedge on a line of 300", best(9, || line::gap(black_box(&line), Length::mm(3000.0), Definition::Supported).is_ok()), Some(5e-3));
    let room = floor(25, 20);
    report("re-judging a room of 500 points", best(9, || app::findings(black_box(&room), None).is_ok()), Some(16e-3));
    report("reading accepted, on disk, verdict redrawn, 99th of 100, 500 readings", tap_to_verdict(), Some(50e-3));
}

fn report(name: &str, seconds: f64, goal: Option<f64>) {
    println!("{}", json!({ "name": name, "seconds": seconds, "goal": goal }));
}

fn timed(task: impl FnOnce() -> bool) -> f64 {
    let start = Instant::now();
    assert!(task(), "a measured task failed");
    start.elapsed().as_secs_f64()
}

fn best(times: usize, task: impl Fn() -> bool) -> f64 {
    (0..times).map(|_| timed(&task)).fold(f64::INFINITY, f64::min)
}

/// For tasks too short for the clock: the mean of a thousand, the best of ten such.
fn best_of_many(task: impl Fn() -> bool) -> f64 {
    best(10, || (0..1000).all(|_| task())) / 1000.0
}

/// A repeatable unevenness between -1 and 1.
fn uneven(k: usize) -> f64 {
    let k = (k as u64).wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
    (k >> 33) as f64 / f64::from(1u32 << 30) - 1.0
}

fn points(n: usize) -> Vec<Point> {
    let side = (n as f64).sqrt().ceil() as usize;
    let at = |k: usize| Point::mm((k % side) as f64 * 30.0, (k / side) as f64 * 30.0, uneven(k));
    (0..n).map(at).collect()
}

fn profile(n: usize) -> Vec<LinePoint> {
    (0..n).map(|k| LinePoint::mm(k as f64 * 30.0, uneven(k))).collect()
}

/// A floor of `columns` by `rows` points, all read.
fn floor(columns: usize, rows: usize) -> RoomFile {
    let place = |k: usize| ((k % columns) as f64 * 100.0, (k / columns) as f64 * 100.0);
    let id = |k: usize| format!("P{k}");
    let points: Vec<_> = (0..columns * rows).map(|k| json!({"id": id(k), "survey": "floor", "x": place(k).0, "y": place(k).1})).collect();
    let at = "2031-04-02T07:31:05-05:00";
    let reading = |k: usize| {
        let mm = 1100.0 + (uneven(k) * 16.0).round() / 8.0;
        json!({"id": format!("r{k}"), "setup": "S1", "point": id(k), "sense": "down", "entered": format!("{mm} mm"), "value": mm,
            "sd_mm": 0.5, "source": "typed", "at": at})
    };
    let (w, h) = ((columns - 1) as f64 * 100.0, (rows - 1) as f64 * 100.0);
    let file = json!({"schema": 1, "room": {"id": "bench", "name": "Bench", "units": "mm", "created": at},
        "plan": {"outline": [[0.0, 0.0], [w, 0.0], [w, h], [0.0, h]], "base_wall": "door wall", "side_wall": "left wall", "joists_along": "y",
            "joists": [], "surveys": [{"id": "floor", "name": "Floor", "surface": "floor"}], "points": points},
        "setups": [{"id": "S1", "survey": "floor", "instrument": "laser", "sd_mm": 0.5, "benchmark": {"name": "mark", "height": 0.0},
            "opening": {"text": "1100", "mm": 1100.0, "at": at}}],
        "readings": (0..columns * rows).map(reading).collect::<Vec<_>>()});
    serde_json::from_value(file).expect("a room file")
}

/// From the tap to the verdict on a real disk: the number asked about, the reading kept, the room judged again.
fn tap_to_verdict() -> f64 {
    let home = tempfile::tempdir().expect("a folder");
    let app = App::open(home.path(), Clock::from_environment()).expect("rooms");
    let file = serde_json::to_string(&floor(25, 20)).expect("JSON");
    let ask = app::wire::ImportAsk { id: app.new_id(), file, as_room: None };
    let room = app.import_room(&ask).expect("a room").room;
    let mut times: Vec<f64> = (0..100).map(|k| timed(|| tap(&app, &room, k))).collect();
    times.sort_by(f64::total_cmp);
    times[98]
}

fn tap(app: &App, room: &str, k: usize) -> bool {
    let (point, text) = (format!("P{}", k * 5), "1100.5".to_string());
    let ask = EntryAsk { room: room.to_string(), setup: "S1".to_string(), point: point.clone(), text: text.clone() };
    let entry = app.entry(&ask).expect("an entry");
    let payload = json!({"reading": format!("n{k}"), "setup": "S1", "point": point, "sense": "down", "entered": text, "value": entry.value,
        "sd_mm": 0.5, "source": "typed", "supersedes": format!("r{}", k * 5)});
    site_tests::write(app, room, "reading-add", payload).expect("kept");
    app.findings(room, None).is_ok()
}
