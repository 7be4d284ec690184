//! The readings of a room as a CSV file, for a spreadsheet or another room.

use crate::forms::{Entered, Reading, RoomFile, Sense, Setup};
use judge::room::current_readings;
use judge::{Kind, Refusal};
use std::collections::{HashMap, HashSet};

/// The columns, all of which [`super::columns`] reads back.
const HEADER: [&str; 15] = [
    "point",
    "x_mm",
    "y_mm",
    "sense",
    "reading_mm",
    "entered",
    "setup",
    "time",
    "by",
    "sd_mm",
    "length_mm",
    "x2_mm",
    "y2_mm",
    "note",
    "stands",
];

/// Every reading that was ever taken, in order, after the benchmark of each set-up and before the one that closes it.
/// What was corrected or taken back stays in the list and says so under `stands`.
///
/// # Errors
/// `internal` if memory does not suffice.
pub(crate) fn write(file: &RoomFile) -> Result<String, Refusal> {
    let mut out = csv::Writer::from_writer(Vec::new());
    let known = Known::of(file);
    let openings = file.setups.iter().map(|setup| benchmark(file, setup, &setup.opening));
    let closings = file.setups.iter().filter_map(|setup| Some(benchmark(file, setup, setup.closing.as_ref()?)));
    let readings = file.readings.iter().map(|reading| row(reading, &known));
    for cells in std::iter::once(HEADER.map(str::to_string)).chain(openings).chain(readings).chain(closings) {
        out.write_record(cells).map_err(|error| unwritten(&error))?;
    }
    let bytes = out.into_inner().map_err(|error| unwritten(&error))?;
    String::from_utf8(bytes).map_err(|error| unwritten(&error))
}

/// What each row looks up.
struct Known<'r> {
    places: HashMap<&'r str, (f64, f64)>,
    current: HashSet<&'r str>,
}

impl<'r> Known<'r> {
    fn of(file: &'r RoomFile) -> Self {
        Self {
            places: file.plan.points.iter().map(|point| (point.id.as_str(), (point.x, point.y))).collect(),
            current: current_readings(file).map(|reading| reading.id.as_str()).collect(),
        }
    }
}

fn unwritten(error: &dyn std::fmt::Display) -> Refusal {
    Refusal::new(Kind::Internal, format!("The readings could not be written: {error}."))
}

fn benchmark(file: &RoomFile, setup: &Setup, read: &Entered) -> [String; 15] {
    let stands = if setup.withdrawn { "taken back" } else { "in force" };
    let mut cells = std::array::from_fn(|_| String::new());
    cells[0] = "BM".to_string();
    cells[3] = sense(if is_read_up(file, setup) { Sense::Up } else { Sense::Down }).to_string();
    cells[4] = read.mm.to_string();
    cells[5] = read.text.clone();
    cells[6] = setup.id.clone();
    cells[7] = read.at.clone();
    cells[9] = setup.sd_mm.to_string();
    cells[14] = stands.to_string();
    cells
}

/// Whether the benchmark was read up from the datum: it stands as high as it read, and nothing was read down.
fn is_read_up(file: &RoomFile, setup: &Setup) -> bool {
    let read_down = |reading: &Reading| reading.setup == setup.id && reading.sense == Sense::Down;
    setup.benchmark.height == setup.opening.mm && !file.readings.iter().any(read_down)
}

fn row(reading: &Reading, known: &Known<'_>) -> [String; 15] {
    let place = known.places.get(reading.point.as_str());
    let mm = |value: Option<f64>| value.map(|value| value.to_string()).unwrap_or_default();
    // A tilt is kept as rise over run; its reading is the rise over the foot.
    let value = match (reading.sense, reading.length) {
        (Sense::Tilt, Some(foot)) => reading.value * foot,
        _ => reading.value,
    };
    [
        reading.point.clone(),
        mm(place.map(|place| place.0)),
        mm(place.map(|place| place.1)),
        sense(reading.sense).to_string(),
        value.to_string(),
        reading.entered.clone(),
        reading.setup.clone(),
        reading.at.clone(),
        reading.by.clone().unwrap_or_default(),
        reading.sd_mm.to_string(),
        mm(reading.length),
        mm(reading.to.map(|to| to.0)),
        mm(reading.to.map(|to| to.1)),
        reading.note.clone().unwrap_or_default(),
        stands(reading, known).to_string(),
    ]
}

fn sense(sense: Sense) -> &'static str {
    match sense {
        Sense::Down => "down",
        Sense::Up => "up",
        Sense::Gap => "gap",
        Sense::Tilt => "tilt",
    }
}

fn stands(reading: &Reading, known: &Known<'_>) -> &'static str {
    match (reading.withdrawn, known.current.contains(reading.id.as_str())) {
        (true, _) => "taken back",
        (false, true) => "in force",
        (false, false) => "corrected",
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::app::App;
    use crate::clock::Clock;
    use crate::forms::{CsvAsk, DemoAsk};

    #[test]
    fn what_is_written_is_read_back_into_another_room() {
        for name in ["kestrel", "rowan", "banksia"] {
            let app = App::in_memory(Clock::fixed("2031-04-02T07:31:05-05:00", name)).expect("memory");
            let room = app.open_demo(&DemoAsk { name: name.into(), id: "d".into() }).expect("a room").room;
            let file = app.room_state(&room).expect("the room");
            let csv = write(&file).expect("a file");
            let empty = crate::forms::RoomFile { setups: vec![], readings: vec![], ..file.clone() };
            let other = crate::forms::RoomHead { id: "other".into(), ..file.room.clone() };
            let empty = serde_json::to_string(&crate::forms::RoomFile { room: other, ..empty }).expect("JSON");
            app.import_room(&crate::forms::ImportAsk { id: "i".into(), file: empty, as_room: None }).expect("a room");
            app.import_readings(&CsvAsk { id: "c".into(), room: "other".into(), csv }).expect(name);
            let back = app.room_state("other").expect("the room");
            let values = |file: &RoomFile| -> Vec<_> {
                current_readings(file)
                    .map(|one| (one.point.clone(), one.sense, one.value, one.entered.clone(), one.at.clone()))
                    .collect()
            };
            assert_eq!(values(&back), values(&file), "{name}");
            let closings = |file: &RoomFile| -> Vec<_> { file.setups.iter().map(|one| one.closing.clone()).collect() };
            assert_eq!(closings(&back), closings(&file), "{name}");
        }
    }

    #[test]
    fn a_benchmark_read_up_ties_the_readings_up_to_those_down_from_a_line() {
        let app = App::in_memory(Clock::fixed("2031-04-02T07:31:05-05:00", "up")).expect("memory");
        let room = app.open_demo(&DemoAsk { name: "kestrel".into(), id: "d".into() }).expect("a room").room;
        let import = |id: &str, rows: &str| {
            let csv = format!("point,x_mm,y_mm,sense,reading_mm,setup\n{rows}");
            app.import_readings(&CsvAsk { id: id.into(), room: room.clone(), csv })
        };
        // U and D lie at the height of the benchmark, V 10 mm lower: 44 and 34 over the datum.
        let rows = "BM,,,down,900,L\nD,10,0,down,900,L\nBM,,,up,44,H\nU,0,0,up,44,H\nV,0,10,up,34,H\n";
        import("c", rows).expect("readings");
        let file = app.room_state(&room).expect("the room");
        let height = |point: &str| {
            let reading = file.readings.iter().find(|reading| reading.point == point).expect(point);
            judge::room::point_heights::height_of(&file, reading)
        };
        assert_eq!([height("U"), height("V"), height("D")], [Some(44.0), Some(34.0), Some(44.0)]);
        let written = write(&file).expect("a file");
        let senses: Vec<_> =
            written.lines().filter(|line| line.starts_with("BM")).map(|line| line.split(',').nth(3)).collect();
        assert_eq!(senses, ["down", "up", "down", "down"].map(Some), "as they were read: {written}");
        let refused = import("e", "BM,,,up,44,K\nW,0,20,down,44,K\n").expect_err("there is no line");
        assert_eq!(refused.kind, Kind::DoesNotFit);
        assert_eq!(import("f", "BM,,,gap,44,M\n").expect_err("no gap").kind, Kind::NotUnderstood);
    }
}
