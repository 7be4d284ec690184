//! What keeping costs, in a release build: `cargo bench -p site-tests --bench keeping`.
//!
//! Ten thousand rooms with a hundred readings each are listed and searched; forty photographs of twelve megapixels
//! go into a record, and the most memory that took is read from the system where it says so. Fails above its limits.

use app::wire::{Contents, PhotographAsk, RecordAsk, RoomsAsk};
use app::{App, Clock};
use image::{ImageFormat, Rgb, RgbImage};
use serde_json::json;
use std::io::Cursor;
use std::process::ExitCode;
use std::time::{Duration, Instant};

const ROOMS: usize = 10_000;
const READINGS: usize = 100;
const PHOTOGRAPHS: usize = 40;

fn main() -> ExitCode {
    let listed = rooms();
    let recorded = record();
    if listed && recorded { ExitCode::SUCCESS } else { ExitCode::FAILURE }
}

fn told(what: &str, took: Duration, most: Duration) -> bool {
    println!("{what}: {:.0} ms, at most {:.0} ms", ms(took), ms(most));
    took <= most
}

fn ms(time: Duration) -> f64 {
    time.as_secs_f64() * 1e3
}

fn room_file(n: usize) -> String {
    let points: Vec<_> = (0..READINGS)
        .map(|k| json!({"id": format!("P{k}"), "survey": "floor", "x": (k % 10) * 100, "y": (k / 10) * 100}))
        .collect();
    let readings: Vec<_> = (0..READINGS)
        .map(|k| {
            json!({"id": format!("r{k}"), "setup": "S1", "point": format!("P{k}"), "sense": "down", "entered": "1120",
            "value": 1120.0 + (k % 7) as f64 / 10.0, "sd_mm": 0.5, "source": "typed", "at": "2031-04-02T08:00:00Z"})
        })
        .collect();
    let setup = json!({"id": "S1", "survey": "floor", "instrument": "laser", "sd_mm": 0.5,
        "benchmark": {"name": "sill", "height": 0}, "opening": {"text": "1120", "mm": 1120, "at": "2031-04-02T08:00:00Z"}});
    let plan = json!({"outline": [[0, 0], [1000, 0], [1000, 1000], [0, 1000]], "base_wall": "door wall",
        "side_wall": "left wall", "surveys": [{"id": "floor", "name": "floor", "surface": "floor"}], "points": points});
    let room = json!({"id": format!("room{n}"), "name": format!("Bath {n}"), "units": "mm", "created": "2031-04-02T08:00:00Z"});
    json!({"schema": 1, "room": room, "plan": plan, "setups": [setup], "readings": readings}).to_string()
}

fn rooms() -> bool {
    let app = App::in_memory(Clock::fixed("2031-04-02T08:00:00+00:00", "keeping")).expect("rooms in memory");
    for n in 0..ROOMS {
        let ask = app::wire::ImportAsk { id: format!("i{n}"), file: room_file(n), as_room: None };
        app.import_room(&ask).expect("a room");
    }
    println!("{ROOMS} rooms, {} readings", ROOMS * READINGS);
    let find = |text: &str| {
        let ask = RoomsAsk { text: Some(text.into()), most: Some(60), ..Default::default() };
        let best = (0..5).map(|_| {
            let begun = Instant::now();
            std::hint::black_box(app.find_rooms(&ask).expect("rooms"));
            begun.elapsed()
        });
        best.min().unwrap_or_default()
    };
    let most = Duration::from_millis(100);
    let (list, search) = (find(""), find("bath 77"));
    told("the list of rooms", list, most) & told("a search", search, most)
}

fn record() -> bool {
    let folder = tempfile::tempdir().expect("a folder");
    let app = App::open(folder.path(), Clock::fixed("2031-04-02T08:00:00+00:00", "keeping")).expect("rooms");
    let room = site_tests::demo(&app, "kestrel");
    let mut decoding = Duration::ZERO;
    for n in 0..PHOTOGRAPHS {
        let picture = RgbImage::from_fn(4000, 3000, |x, y| Rgb([(x * y % 251) as u8, (x ^ y) as u8, (n * 5) as u8]));
        let mut bytes = Vec::new();
        picture.write_to(&mut Cursor::new(&mut bytes), ImageFormat::Jpeg).expect("memory");
        let begun = Instant::now();
        std::hint::black_box(image::load_from_memory(&bytes).expect("a picture"));
        decoding += begun.elapsed();
        let ask = PhotographAsk {
            room: room.clone(),
            id: format!("p{n}"),
            base64: base64(&bytes),
            name: format!("{n}.jpg"),
            wall: None,
            viewpoint: None,
            tape: true,
            keep_place: false,
        };
        app.add_photograph(&ask).expect("kept");
    }
    forget_peak();
    let (before, begun) = (memory("VmRSS:"), Instant::now());
    let ask = RecordAsk { room, contents: Some(Contents::Full), black_out: false };
    app.record_to(&ask, &folder.path().join("record.pdf")).expect("a record");
    let took = begun.elapsed();
    let size = std::fs::metadata(folder.path().join("record.pdf")).map_or(0, |metadata| metadata.len());
    println!("{PHOTOGRAPHS} photographs, {} MB of record", size >> 20);
    let most = before.zip(memory("VmHWM:")).map(|(before, peak)| peak.saturating_sub(before) >> 10);
    println!("memory above what the rooms took: {} MB", most.map_or("not told here".into(), |most| most.to_string()));
    println!("the record: {:.0} ms, decoding its photographs alone: {:.0} ms", ms(took), ms(decoding));
    told("the record beyond decoding", took.saturating_sub(decoding), Duration::from_secs(3))
        & most.is_none_or(|most| most <= 60)
}

/// Lets the system count the most memory anew.
fn forget_peak() {
    // Where it cannot, the peak of the whole run is told, which is more.
    let _ = std::fs::write("/proc/self/clear_refs", "5");
}

/// Memory in kB as the system tells it; none where it does not.
fn memory(line: &str) -> Option<u64> {
    let status = std::fs::read_to_string("/proc/self/status").ok()?;
    status.lines().find_map(|one| one.strip_prefix(line)?.split_whitespace().next()?.parse().ok())
}

fn base64(bytes: &[u8]) -> String {
    let letters: Vec<char> = ('A'..='Z').chain('a'..='z').chain('0'..='9').chain(['+', '/']).collect();
    let mut text = String::with_capacity(bytes.len() * 4 / 3 + 4);
    for group in bytes.chunks(3) {
        let word = group.iter().fold(0u32, |word, byte| word << 8 | u32::from(*byte)) << (8 * (3 - group.len()));
        (0..4).for_each(|k| {
            text.push(if k <= group.len() { letters[(word >> (18 - 6 * k) & 63) as usize] } else { '=' });
        });
    }
    text
}
