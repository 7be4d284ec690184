//! What keeping costs, in a release build: `cargo bench -p site-tests --bench keeping`.
//!
//! Ten thousand rooms with a hundred readings each are listed and searched; forty photographs of twelve megapixels
//! go into a record, and the most memory that took is read from the system where it says so. Fails above its limits.

use app::forms::{Contents, PhotographAsk, RecordAsk, RoomsAsk};
use app::{App, Clock};
use data_encoding::BASE64;
use image::{ImageFormat, Rgb, RgbImage};
use site_tests::many::many_rooms;
use site_tests::table::{self, Row};
use std::io::Cursor;
use std::process::ExitCode;
use std::time::{Duration, Instant};

const ROOMS: usize = 10_000;
const PHOTOGRAPHS: usize = 40;

fn main() -> ExitCode {
    let rows: Vec<Row> = rooms().into_iter().chain(record()).collect();
    table::close("keeping", &rows)
}

fn ms(time: Duration) -> f64 {
    time.as_secs_f64() * 1e3
}

fn rooms() -> [Row; 2] {
    let app = App::in_memory(Clock::fixed("2031-04-02T08:00:00+00:00", "keeping")).expect("rooms in memory");
    many_rooms(&app, ROOMS);
    let find = |text: &str| {
        let ask = RoomsAsk { text: Some(text.into()), most: Some(60), ..Default::default() };
        let best = (0..5).map(|_| {
            let begun = Instant::now();
            std::hint::black_box(app.find_rooms(&ask).expect("rooms"));
            begun.elapsed()
        });
        best.min().unwrap_or_default()
    };
    let of = format!("{ROOMS} rooms");
    [("the list of rooms", find("")), ("a search among them", find("bath 77"))]
        .map(|(what, took)| Row::at_most(what, ms(took), 100.0, "ms").of(&of))
}

fn record() -> Vec<Row> {
    let folder = tempfile::tempdir().expect("a folder");
    let app = App::open(folder.path(), Clock::fixed("2031-04-02T08:00:00+00:00", "keeping")).expect("rooms");
    let room = site_tests::demo(&app, "kestrel");
    for n in 0..PHOTOGRAPHS {
        let picture = RgbImage::from_fn(4000, 3000, |x, y| Rgb([(x * y % 251) as u8, (x ^ y) as u8, (n * 5) as u8]));
        let mut bytes = Vec::new();
        picture.write_to(&mut Cursor::new(&mut bytes), ImageFormat::Jpeg).expect("memory");
        let ask = PhotographAsk {
            room: room.clone(),
            id: format!("p{n}"),
            base64: BASE64.encode(&bytes),
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
    let of = format!("{PHOTOGRAPHS} photographs, {} MB", size >> 20);
    let mut rows = vec![Row::at_most("the whole record", ms(took), 3000.0, "ms")];
    let most = before.zip(memory("VmHWM:")).map(|(before, peak)| peak.saturating_sub(before) as f64 / 1024.0);
    rows.extend(most.map(|most| Row::at_most("memory beyond what the rooms took", most, 60.0, "MB")));
    rows.into_iter().map(|row| row.of(&of)).collect()
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
