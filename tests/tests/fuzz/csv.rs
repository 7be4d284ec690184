//! Readings that come as a table.

use crate::said::{Heard, refused};
use crate::trial;
use app::forms::{CsvAsk, DrawingAsk, ImportAsk, Reading, RoomFile};
use app::{App, demo};
use site_tests::app;

const HAND_WRITTEN: [&str; 4] = [
    "point,sense,setup,reading_text\nBM,down,S9,44 1/4\nJ1@0,down,S9,44 3/16\nJ2@30,down,S9,\"3' 8 1/4\"\"\"\n",
    "point,x_mm,y_mm,sense,setup,reading_mm,sd_mm,time,by,note\n\
     BM,,,down,S8,1000,0.8,2031-04-02T07:31:05-05:00,,\n\
     P1,100,200,down,S8,1001.5,0.8,2031-04-02T07:32:05-05:00,Ana,\"wet, cold\"\n",
    "point,x_in,y_in,sense,setup,reading_in,length_in,x2_in,y2_in\nP7,10,20,gap,,0.125,24,34,20\n",
    "point,x_mm,y_mm,sense,setup,reading_mm,foot_mm,x2_mm,y2_mm\nP8,0,0,tilt,,1.5,600,600,0\n",
];

#[test]
fn csv_import() {
    let app = app();
    import(&app, &without_readings("kestrel"), ROOM);
    import(&app, &demo("rowan").expect("a room"), OTHER);
    let tables = [demo("kestrel"), demo("banksia")].map(|file| table(&import_new(&file.expect("a room"))));
    let seeds = HAND_WRITTEN.iter().map(|text| text.as_bytes().to_vec()).chain(tables.map(String::into_bytes));
    let seeds: Vec<Vec<u8>> = seeds.collect();
    let check = move |bytes: &[u8]| {
        let csv = String::from_utf8_lossy(bytes).into_owned();
        let all = [ROOM, OTHER].map(|room| app.look_at_readings(&ask(room, &csv)));
        for refusal in all.iter().filter_map(|look| look.as_ref().err()) {
            refused(refusal, bytes);
        }
        match &all[0] {
            Ok(look) => {
                taken_in(&csv);
                Heard::Read(format!("{} {}", look.setups, look.points.min(3)))
            }
            Err(refusal) => refused(refusal, bytes),
        }
    };
    trial::run("csv", 500, seeds, Box::new(check));
}

const ROOM: &str = "bath";
const OTHER: &str = "other";

fn ask(room: &str, csv: &str) -> CsvAsk {
    CsvAsk { id: "csv".into(), room: room.into(), csv: csv.into() }
}

fn without_readings(name: &str) -> RoomFile {
    RoomFile { setups: vec![], readings: vec![], ..demo(name).expect("a room") }
}

fn import(app: &App, file: &RoomFile, room: &str) {
    let text = serde_json::to_string(file).expect("JSON");
    app.import_room(&ImportAsk { id: room.into(), file: text, as_room: Some(room.into()) }).expect("the room");
}

fn import_new(file: &RoomFile) -> App {
    let app = app();
    import(&app, file, ROOM);
    app
}

/// The readings of the room as a table.
fn table(app: &App) -> String {
    let ask = serde_json::to_string(&DrawingAsk { room: ROOM.into(), kind: "csv".into() }).expect("JSON");
    let file = app.dispatch("drawing", &ask).expect("a table");
    serde_json::from_str::<app::forms::FileText>(&file).expect("a file").text
}

/// A table that is read is kept, is still there when everything is made anew, and is the same when it is written and
/// read again.
fn taken_in(csv: &str) {
    let first = import_new(&without_readings("kestrel"));
    first.import_readings(&ask(ROOM, csv)).expect("what may be looked at may be taken in");
    let kept = first.room_state(ROOM).expect("the room");
    first.rebuild().expect("the journal is sound");
    assert_eq!(first.room_state(ROOM).expect("the room"), kept, "made anew");
    let second = import_new(&without_readings("kestrel"));
    second.import_readings(&ask(ROOM, &table(&first))).unwrap_or_else(|why| panic!("written, then: {why}"));
    assert_eq!(values(&second.room_state(ROOM).expect("the room")), values(&kept), "written and read again");
}

/// What the readings say, in order.
fn values(file: &RoomFile) -> Vec<(String, String, i64, String)> {
    // A tilt is written as the rise over its foot, so the last bits of it are the division's.
    let near = |one: &Reading| (one.value * 1e6).round() as i64;
    let all = file.readings.iter();
    all.map(|one| (one.point.clone(), format!("{:?} {}", one.sense, one.setup), near(one), one.entered.clone()))
        .collect()
}
