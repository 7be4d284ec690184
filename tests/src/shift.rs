//! A shift of the crew: several devices, each entering readings at its own pace over its own line, and hearing of all.

use crate::site::{Site, request};
use app::forms::CrewRole;
use host::Limits;
use serde_json::{Value, json};
use std::collections::BTreeSet;
use std::io::{BufRead, BufReader, Write};
use std::sync::Mutex;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::thread;
use std::time::{Duration, Instant};
use tokio::runtime::Builder;
use tokio::time::interval;

/// What came of it.
#[derive(Debug)]
pub struct Told {
    pub sent: usize,
    /// Readings that were answered and are not in the room.
    pub lost: usize,
    /// Entries of the journal beyond one for each reading.
    pub doubled: usize,
    /// How many changes all devices together heard of.
    pub heard: usize,
    /// How long an answer took, shortest first.
    pub waits: Vec<Duration>,
    /// The memory in hand once a tenth, half and all of the readings were entered, in bytes.
    pub memory: [u64; 3],
}

/// So many devices enter so many readings each; the next one `every` so long after the one before.
pub fn shift(devices: usize, readings: usize, every: Duration) -> Told {
    let site = Site::open(Limits::default());
    let room = site.home("demo", &json!({ "name": "kestrel", "id": "d1" }))["room"].clone();
    let before = entries(&site, &room);
    let cookies: Vec<String> = (0..devices).map(|at| site.member(&format!("D{at}"), CrewRole::Write)).collect();
    let (heard, over) = (AtomicUsize::new(0), AtomicBool::new(false));
    let (mut waits, memory): (Vec<Duration>, _) = (Vec::new(), Mutex::new([0; 3]));
    thread::scope(|scope| {
        for cookie in &cookies {
            scope.spawn(|| listen(&site, cookie, &heard, &over));
        }
        let (site, room, memory) = (&site, &room, &memory);
        let mut entering = Vec::new();
        for (at, cookie) in cookies.iter().enumerate() {
            let device = Device { site, cookie, room, at };
            entering.push(scope.spawn(move || enter(&device, readings, every, memory)));
        }
        let entered: Vec<_> = entering.into_iter().map(|one| one.join()).collect();
        // Those who listen are let go before anybody's mistake is told.
        over.store(true, Ordering::Relaxed);
        site.crew.close();
        waits.extend(entered.into_iter().flat_map(|one| one.expect("a device")));
    });
    waits.sort();
    let file = site.app.room_state(room.as_str().expect("a room")).expect("the room");
    let kept: BTreeSet<String> = file.readings.into_iter().map(|reading| reading.id).collect();
    let wanted = (0..devices).flat_map(|at| (0..readings).map(move |k| id(at, k)));
    let lost = wanted.filter(|id| !kept.contains(id)).count();
    let sent = devices * readings;
    let doubled = (entries(&site, &room) - before).saturating_sub(sent);
    let memory = memory.into_inner().unwrap_or_default();
    Told { sent, lost, doubled, heard: heard.into_inner(), waits, memory }
}

fn entries(site: &Site, room: &Value) -> usize {
    site.home("history", &json!({ "room": room }))["entries"].as_array().map_or(0, Vec::len)
}

fn id(device: usize, reading: usize) -> String {
    format!("d{device}r{reading}")
}

/// One of the crew, at one room.
struct Device<'a> {
    site: &'a Site,
    cookie: &'a str,
    room: &'a Value,
    at: usize,
}

/// Enters readings of one point, each in the place of the one before, at the pace of a clock.
fn enter(device: &Device, readings: usize, every: Duration, memory: &Mutex<[u64; 3]>) -> Vec<Duration> {
    let Device { site, cookie, room, at } = *device;
    let clock = Builder::new_current_thread().enable_time().build().expect("a clock");
    // A beat takes some time, however short.
    let mut beat = clock.block_on(async { interval(every.max(Duration::from_nanos(1))) });
    let mut line = site.line();
    let mut waits = Vec::with_capacity(readings);
    for k in 0..readings {
        clock.block_on(beat.tick());
        let body = written(room, at, k);
        let asked = Instant::now();
        while site.over(&mut line, cookie, "write", &body).ok() != Some(200) {
            line = site.line();
        }
        waits.push(asked.elapsed());
        let looks = [readings / 10, readings / 2, readings - 1];
        if let Some(look) = looks.iter().position(|look| at == 0 && *look == k) {
            memory.lock().expect("whole")[look] = in_hand();
        }
    }
    waits
}

/// The memory this process has in hand, in bytes; 0 where the system does not say.
pub fn in_hand() -> u64 {
    let said = std::fs::read_to_string("/proc/self/statm").unwrap_or_default();
    said.split(' ').nth(1).and_then(|pages| pages.parse::<u64>().ok()).unwrap_or(0) * 4096
}

fn written(room: &Value, at: usize, k: usize) -> String {
    let value = 44.0 + f64::from(u32::try_from(k % 16).unwrap_or(0)) / 16.0;
    let mut payload =
        json!({ "reading": id(at, k), "setup": "S1", "point": format!("J{}@30", 1 + at % 7), "sense": "down" });
    let before = (k > 0).then(|| id(at, k - 1));
    let more = json!({ "entered": value.to_string(), "value": value * 25.4, "sd_mm": 0.8, "source": "typed", "supersedes": before });
    payload.as_object_mut().expect("an object").extend(more.as_object().expect("an object").clone());
    let command = json!({ "id": format!("w{}", id(at, k)), "room": room, "command": "reading-add" });
    let mut write = command;
    write["payload"] = json!(payload.to_string());
    write.to_string()
}

/// Hears of changes until the door closes.
fn listen(site: &Site, cookie: &str, heard: &AtomicUsize, over: &AtomicBool) {
    let mut line = site.line();
    let ask = request(&site.at, "GET", "/changes", &[("cookie", cookie)], "", "keep-alive");
    if line.write_all(ask.as_bytes()).is_err() {
        return;
    }
    let told = BufReader::new(line).lines().map_while(Result::ok);
    for _ in told.take_while(|_| !over.load(Ordering::Relaxed)).filter(|text| text.starts_with("data:")) {
        heard.fetch_add(1, Ordering::Relaxed);
    }
}
