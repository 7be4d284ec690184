//! How soon the window is there and what it holds, in a release build: `cargo run -p tasks -- bench`.
//!
//! A thousand rooms lie in the folder. The first paint of content is what the page itself reports, counted from the
//! start of the process as the system keeps it; memory is what all processes of the program hold, shared pages by
//! their share, beyond a window with nothing in it.

#[path = "../window/driver.rs"]
#[allow(dead_code)]
mod driver;

use app::{App, Clock};
use driver::Window;
use site_tests::many::many_rooms;
use site_tests::table::{self, Row};
use std::fs;
use std::path::{Path, PathBuf};
use std::process::ExitCode;
use std::thread;
use std::time::{Duration, SystemTime, UNIX_EPOCH};

const ROOMS: usize = 1000;
const STARTS: usize = 5;
/// So long nothing is done before memory is read.
const IDLE: Duration = Duration::from_secs(5);

fn main() -> ExitCode {
    let home = tempfile::tempdir().expect("a folder");
    let app = App::open(home.path(), Clock::default()).expect("rooms");
    many_rooms(&app, ROOMS);
    app.look_over();
    drop(app);
    let (program, empty) = (built("truefall-window"), built("examples/empty"));
    let mut paints: Vec<f64> = (0..STARTS).map(|_| first_paint(&program, home.path())).collect();
    paints.sort_by(f64::total_cmp);
    let nothing = held(&empty, home.path(), "");
    let ours = held(&program, home.path(), "Bath");
    table::close(
        "opening",
        &[
            Row::at_most("start to first paint of content, median", paints[STARTS / 2], 1000.0, "ms"),
            Row::told("start to first paint of content, slowest", format!("{:.0} ms", paints[STARTS - 1])),
            Row::told("memory of a window with nothing in it", format!("{nothing:.0} MB")),
            Row::at_most("memory of ours beyond that, idle", ours - nothing, 150.0, "MB"),
        ]
        .map(|row| row.of(format!("{ROOMS} rooms"))),
    )
}

fn built(name: &str) -> PathBuf {
    let program = site_tests::beside(name);
    assert!(program.is_file(), "{} is built by `cargo build --release -p shell`", program.display());
    program
}

/// Milliseconds from the start of the process to the first paint of content.
fn first_paint(program: &Path, home: &Path) -> f64 {
    let window = Window::open(program, home);
    window.shows("Bath");
    let script = "const paint = performance.getEntriesByName('first-contentful-paint')[0];
                  return paint ? performance.timeOrigin + paint.startTime : null";
    let painted = window.script(script).as_f64().unwrap_or(f64::NAN);
    painted - started(process(program))
}

/// Megabytes that the program and its children hold when nothing is done.
fn held(program: &Path, home: &Path, shows: &str) -> f64 {
    let window = Window::open(program, home);
    window.shows(shows);
    thread::park_timeout(IDLE);
    let first = process(program);
    processes().filter(|id| descends(*id, first)).filter_map(share).sum::<f64>() / 1024.0
}

fn processes() -> impl Iterator<Item = u32> {
    fs::read_dir("/proc")
        .expect("the system's processes")
        .filter_map(|entry| entry.ok()?.file_name().to_str()?.parse().ok())
}

/// The process that runs the program.
fn process(program: &Path) -> u32 {
    let runs = |id: &u32| fs::read_link(format!("/proc/{id}/exe")).is_ok_and(|exe| exe == program);
    processes().find(runs).expect("the program runs")
}

/// What stands in a process's line after its name, from its state on.
fn stat(id: u32) -> Option<Vec<String>> {
    let line = fs::read_to_string(format!("/proc/{id}/stat")).ok()?;
    Some(line.rsplit_once(')')?.1.split_whitespace().map(str::to_owned).collect())
}

fn descends(id: u32, from: u32) -> bool {
    let parent = |id: u32| stat(id)?.get(1)?.parse::<u32>().ok();
    std::iter::successors(Some(id), |id| parent(*id)).any(|id| id == from)
}

/// Kilobytes that a process holds, shared pages by their share.
fn share(id: u32) -> Option<f64> {
    let text = fs::read_to_string(format!("/proc/{id}/smaps_rollup")).ok()?;
    text.lines().find_map(|line| line.strip_prefix("Pss:")?.split_whitespace().next()?.parse().ok())
}

/// When a process was started, in milliseconds of the clock, to a hundredth of a second.
fn started(id: u32) -> f64 {
    let up = fs::read_to_string("/proc/uptime").expect("the system's time");
    let up: f64 = up.split(' ').next().and_then(|seconds| seconds.parse().ok()).expect("seconds");
    let ticks: f64 = stat(id).and_then(|words| words.get(19)?.parse().ok()).expect("its start");
    let now = SystemTime::now().duration_since(UNIX_EPOCH).expect("a clock past 1970").as_secs_f64();
    (now - up + ticks / 100.0) * 1e3
}
