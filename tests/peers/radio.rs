//! How fast and how steadily an instrument is read: from the simulated service's notification to the reading on disk,
//! two hundred notifications a second, and a connection with nothing to do. `--long` takes a minute for the second.

#[cfg(target_os = "linux")]
#[path = "../tests/radio/bluez.rs"]
mod bluez;
#[cfg(target_os = "linux")]
#[path = "../tests/radio/bus.rs"]
mod bus;
#[cfg(target_os = "linux")]
#[path = "../tests/radio/scenario.rs"]
mod scenario;
#[cfg(target_os = "linux")]
#[path = "../tests/radio/site.rs"]
mod site;
#[cfg(target_os = "linux")]
#[path = "../tests/radio/tree.rs"]
mod tree;

#[cfg(not(target_os = "linux"))]
fn main() {
    println!("The simulated service needs Linux.");
}

#[cfg(target_os = "linux")]
fn main() -> std::process::ExitCode {
    let long = std::env::args().any(|word| word == "--long");
    let mut site = site::Site::new("two-instruments");
    site.use_as("laser", site::LASER);
    let stored = measure::stored(&mut site);
    let steady = measure::steady(&mut site, if long { 60 } else { 10 });
    let rows: Vec<_> = stored.into_iter().chain(steady).chain([measure::idle(&site)]).collect();
    site_tests::table::close("radio", &rows)
}

#[cfg(target_os = "linux")]
mod measure {
    use super::site::Site;
    use app::{App, Clock};
    use serde_json::{Value, json};
    use site_tests::table::Row;
    use std::time::{Duration, Instant};

    const READINGS: usize = 300;

    /// From the notification until the reading is on disk.
    pub(super) fn stored(site: &mut Site) -> [Row; 2] {
        let home = tempfile::tempdir().expect("a folder");
        let app = App::open(home.path(), Clock::from_environment()).expect("rooms");
        let (room, setup, point) = ground(&app);
        let mut times: Vec<Duration> = (0..READINGS)
            .map(|turn| {
                let mm = 1100.0 + turn as f64 / 10.0;
                let message = site.message(mm);
                let start = Instant::now();
                site.laser_sends(&message);
                let read = site.reading();
                keep(&app, &room, &setup, &point, read);
                start.elapsed()
            })
            .collect();
        times.sort();
        let ms = |part: usize| times[READINGS * part / 100].as_secs_f64() * 1000.0;
        [
            Row::told("notification to reading on disk, median", format!("{:.2} ms", ms(50))),
            Row::at_most("notification to reading on disk, p99", ms(99), 20.0, "ms"),
        ]
        .map(|row| row.of(READINGS))
    }

    fn ground(app: &App) -> (String, String, String) {
        let ask = |name: &str, body: Value| -> Value {
            serde_json::from_str(&app.dispatch(name, &body.to_string()).expect(name)).expect("JSON")
        };
        let room =
            ask("demo", json!({"name": "kestrel", "id": app.new_id()}))["room"].as_str().expect("a room").to_string();
        let view = ask("room", json!({ "room": room }));
        let text = |value: &Value| value.as_str().expect("a name").to_string();
        (room, text(&view["setups"][0]["setup"]["id"]), text(&view["surveys"][0]["points"][0]["id"]))
    }

    fn keep(app: &App, room: &str, setup: &str, point: &str, mm: f64) {
        let from = json!({"device": "sim", "profile": "practice laser", "profile_version": 1, "raw": "00"});
        let payload = json!({"reading": app.new_id(), "setup": setup, "point": point, "sense": "down",
            "entered": format!("{mm} mm"), "value": mm, "sd_mm": 0.58, "source": "device:sim", "from": from});
        site_tests::write(app, room, "reading-add", payload).expect("it is kept");
    }

    /// Two hundred notifications a second: how many were lost, and what memory that took.
    pub(super) fn steady(site: &mut Site, seconds: usize) -> [Row; 2] {
        let (all, before) = (200 * seconds, memory(site.listener_id()));
        let start = Instant::now();
        for turn in 0..all {
            let message = site.message(1000.0 + (turn % 5000) as f64 / 10.0);
            site.laser_sends(&message);
            std::thread::sleep(Duration::from_millis(5 * (turn as u64 + 1)).saturating_sub(start.elapsed()));
        }
        for _ in 0..all {
            site.reading();
        }
        let after = memory(site.listener_id());
        let grown = after.saturating_sub(before) as f64;
        [
            Row::told("200 notifications a second, sent and read", format!("{all}")),
            Row::at_most("memory grown by", grown, 1024.0, "kB"),
        ]
        .map(|row| row.of(format!("{seconds} s")))
    }

    /// The part of one processor that a connected listener takes while nothing is sent.
    pub(super) fn idle(site: &Site) -> Row {
        let (before, start) = (ticks(site.listener_id()), Instant::now());
        std::thread::sleep(Duration::from_secs(10));
        let used = (ticks(site.listener_id()) - before) as f64 / 100.0;
        let part = 100.0 * used / start.elapsed().as_secs_f64();
        Row::at_most("connected with nothing to do, part of a processor", part, 1.0, "%")
    }

    fn memory(process: u32) -> u64 {
        let status = std::fs::read_to_string(format!("/proc/{process}/status")).expect("it runs");
        let line = status.lines().find_map(|line| line.strip_prefix("VmRSS:")).expect("its memory");
        line.split_whitespace().next().and_then(|kb| kb.parse().ok()).expect("a number")
    }

    /// Hundredths of a second of processor time, of the program and for it.
    fn ticks(process: u32) -> u64 {
        let stat = std::fs::read_to_string(format!("/proc/{process}/stat")).expect("it runs");
        let after = stat.rsplit_once(')').expect("its name").1;
        after.split_whitespace().skip(11).take(2).filter_map(|ticks| ticks.parse::<u64>().ok()).sum()
    }
}
