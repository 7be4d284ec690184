//! Every released form of the database opens, comes up to date, replays equal and shows its rooms.
//!
//! `UPDATE=1` makes the dump of the present form anew, by the program itself: only before that form is released.

use app::forms::{PrivateText, Write};
use app::{App, Clock};
use data_encoding::HEXLOWER;
use rusqlite::Connection;
use serde_json::{Value, json};
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Once;
use store::{Chain, RoomId, VERSION};
use tempfile::TempDir;

const NOW: &str = "2031-04-02T07:31:05-05:00";
const SALT: [u8; 16] = *b"sixteen of these";
const PLACE: &str = "the house with the green door";

fn folder() -> PathBuf {
    site_tests::top().join("fixtures/databases")
}

/// Every dump there is, oldest first; the present form's is made first where that is asked for.
fn dumps() -> Vec<PathBuf> {
    static MADE: Once = Once::new();
    if std::env::var_os("UPDATE").is_some() {
        MADE.call_once(make_present);
    }
    let mut dumps: Vec<_> = fs::read_dir(folder()).unwrap().map(|file| file.unwrap().path()).collect();
    dumps.sort();
    dumps
}

fn make_present() {
    let home = TempDir::new().unwrap();
    fill(&open(home.path()));
    let file = Connection::open(home.path().join("rooms.sqlite")).unwrap();
    fs::write(folder().join(format!("{VERSION:04}.sql")), dump(&file)).unwrap();
}

fn open(folder: &Path) -> App {
    App::open(folder, Clock::fixed(NOW, "released")).expect("the rooms open")
}

/// The rooms as a Truefall of that time left them.
fn restored(dump: &Path) -> (TempDir, App) {
    let folder = TempDir::new().unwrap();
    let file = Connection::open(folder.path().join("rooms.sqlite")).unwrap();
    file.execute_batch(&fs::read_to_string(dump).unwrap()).unwrap();
    drop(file);
    let app = open(folder.path());
    (folder, app)
}

fn rooms(app: &App) -> Vec<Value> {
    let all: Vec<RoomId> =
        app.store().read(|read| read.rooms().all()).unwrap().into_iter().map(|room| room.id).collect();
    all.iter().map(|id| serde_json::to_value(app.room_state(id.as_str()).expect("a room")).unwrap()).collect()
}

/// A room with everything in it that a form of the tables holds.
fn fill(app: &App) {
    let write = |command: &str, payload: Value, private: Vec<PrivateText>| {
        let write = Write {
            id: app.new_id(),
            room: "kestrel".into(),
            command: command.into(),
            payload: payload.to_string(),
            at: None,
            person: Some("reader".into()),
            private,
        };
        app.write(&write).unwrap_or_else(|refusal| panic!("{command}: {refusal}"));
    };
    let plain = |command: &str, payload: Value| write(command, payload, Vec::new());
    let salt = HEXLOWER.encode(&SALT);
    let place = store::private_digest(&SALT, PLACE);
    let private = vec![PrivateText { salt, value: PLACE.into() }];
    write("room-new", json!({"name": "Hall bath", "units": "in", "place": place, "created": NOW}), private);
    let joist = |k: usize| {
        json!({"id": format!("J{k}"), "at": 406.4 * (k - 1) as f64, "kind": "sawn", "depth": 234.95, "span": 3505.2,
            "first_bearing": -609.6})
    };
    let point = |k: usize, s: f64| {
        json!({"id": format!("J{k}@{s}"), "survey": "joists", "x": 406.4 * (k - 1) as f64, "y": 25.4 * s,
            "joist": format!("J{k}")})
    };
    let stations = [0.0, 30.0, 60.0, 90.0];
    let points: Vec<Value> = (1..=3).flat_map(|k| stations.map(|s| point(k, s))).collect();
    let plan = json!({"outline": [[0, 0], [1524, 0], [1524, 2286], [0, 2286]], "base_wall": "door wall",
        "side_wall": "left wall", "joists_along": "y", "joists": (1..=3).map(joist).collect::<Vec<_>>(),
        "doorway": {"from": 0, "to": 812.8}, "surveys": [{"id": "joists", "name": "Joists", "surface": "framing"}],
        "points": points});
    plain("plan-set", json!({ "plan": plan }));
    plain("gate-set", json!({"answer": {"question": "notch", "subject": "J2", "answer": "not-looked-at"}}));
    plain(
        "setup-open",
        json!({"setup": "S1", "survey": "joists", "instrument": "laser and rule", "sd_mm": 0.8,
            "benchmark": {"name": "door mark", "height": 0}, "opening": {"text": "44-1/4", "mm": 1123.95, "at": NOW}}),
    );
    let reading = |id: &str, point: &str, text: &str, mm: f64| {
        json!({"reading": id, "setup": "S1", "point": point, "sense": "down", "entered": text, "value": mm,
            "sd_mm": 0.8, "source": "typed"})
    };
    for k in 1..=3 {
        for (n, s) in stations.iter().enumerate() {
            let sixteenths = (k + n) % 4;
            let (text, mm) = (format!("44 {sixteenths}/16"), 25.4 * (44.0 + sixteenths as f64 / 16.0));
            plain("reading-add", reading(&format!("r{k}{n}"), &format!("J{k}@{s}"), &text, mm));
        }
    }
    let mut again = reading("r13-again", "J1@90", "44", 1117.6);
    again["supersedes"] = json!("r13");
    plain("reading-add", again);
    app.undo(&app.new_id(), "kestrel").expect("undone");
    plain("setup-close", json!({"setup": "S1", "closing": {"text": "44-5/16", "mm": 1125.5375, "at": NOW}}));
    plain(
        "approval-add",
        json!({"approval": {"id": "a1", "joist": "J2", "depth": 3.175, "from": 762, "to": 1524, "by": "the engineer",
            "date": "2031-04-03", "reference": "sheet 2"}}),
    );
    plain("rule-set", json!({"rule": "closing", "value": 2.0}));
    plain("tile-set", json!({"tile": {"name": "24 in tile", "longest_edge": 609.6}}));
    plain("falls-set", json!({"falls": "Australia, shower"}));
    plain("target-set", json!({"target": {"alternative": "level-nothing-cut", "height": 1114.425}}));
    plain("tick-set", json!({"item": "J2 strip", "done": true}));
}

/// The whole file as the statements that make it.
fn dump(file: &Connection) -> String {
    let texts = |sql: &str| -> Vec<String> {
        let mut statement = file.prepare(sql).unwrap();
        statement.query_map([], |row| row.get(0)).unwrap().map(Result::unwrap).collect()
    };
    let own = "name NOT LIKE 'sqlite%'";
    let mut out = "PRAGMA foreign_keys=OFF;\nBEGIN TRANSACTION;\n".to_string();
    for table in texts(&format!("SELECT name FROM sqlite_schema WHERE type = 'table' AND {own} ORDER BY rowid")) {
        out += &texts(&format!("SELECT sql FROM sqlite_schema WHERE name = '{table}'")).concat();
        out += ";\n";
        let columns = texts(&format!("SELECT 'quote(' || name || ')' FROM pragma_table_info('{table}')"));
        let row =
            format!("SELECT 'INSERT INTO {table} VALUES(' || {} || ');' FROM {table}", columns.join(" || ',' || "));
        out += &texts(&row).iter().map(|line| format!("{line}\n")).collect::<String>();
    }
    for sql in
        texts(&format!("SELECT sql FROM sqlite_schema WHERE type <> 'table' AND sql NOT NULL AND {own} ORDER BY rowid"))
    {
        out += &format!("{sql};\n");
    }
    out += "COMMIT;\n";
    for pragma in ["application_id", "user_version"] {
        let value: u32 = file.pragma_query_value(None, pragma, |row| row.get(0)).unwrap();
        out += &format!("PRAGMA {pragma} = {value};\n");
    }
    out
}

#[test]
fn every_released_form_has_a_dump() {
    let names: Vec<_> = dumps().iter().map(|path| path.file_name().unwrap().to_string_lossy().into_owned()).collect();
    let want: Vec<_> = (1..=VERSION).map(|version| format!("{version:04}.sql")).collect();
    assert_eq!(
        names, want,
        "fill what is new in `fill`, then run UPDATE=1 cargo test -p site-tests --test together keeping::released"
    );
}

#[test]
fn every_older_file_opens_and_its_replay_is_equal() {
    for dump in dumps() {
        let (_folder, app) = restored(&dump);
        assert_eq!(app.store().check(), Ok(()), "{}", dump.display());
        let before = rooms(&app);
        assert!(!before.is_empty(), "{}", dump.display());
        app.rebuild().unwrap_or_else(|refusal| panic!("{}: {refusal}", dump.display()));
        assert_eq!(rooms(&app), before, "{}", dump.display());
    }
}

#[test]
fn the_first_form_reads_back_as_it_was_written() {
    let (_folder, app) = restored(&dumps()[0]);
    let room = RoomId::from("kestrel");
    let Ok(Chain::Fits(head)) = app.store().read(|read| read.verify(Some(&room))) else {
        panic!("the chain is broken")
    };
    // Counted where the room is filled above: every write, the undo, and none twice.
    assert_eq!(head.seq, 4 + 12 + 2 + 1 + 6);
    let file = app.room_state("kestrel").expect("the room");
    assert_eq!((file.readings.len(), file.readings.iter().filter(|reading| reading.withdrawn).count()), (13, 1));
    assert_eq!(file.room.place.as_deref(), Some(PLACE));
    assert_eq!((file.approvals.len(), file.gate.len(), file.done.len()), (1, 1, 1));
    assert_eq!(file.setups[0].closing.as_ref().map(|closing| closing.mm), Some(1125.5375));
    assert_eq!(file.rules.falls.as_deref(), Some("Australia, shower"));
    assert!(app::findings(&app.room_state("kestrel").expect("a room"), None).expect("findings").headline.read == 12);
}
