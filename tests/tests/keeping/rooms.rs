//! Rooms through the one command table: idempotent, undoable, rebuilt equal, exported and imported whole.

use app::forms::{FindingKind, ImportAsk, OfRoom, RoomFile};
use app::{App, Kind};
use proptest::prelude::*;
use serde_json::json;
use site_tests::{app, demo, write, write_as};

const NOW: &str = "2031-04-02T07:31:05-05:00";

/// A room with one joist of three points and an open set-up.
fn room(app: &App) -> String {
    let room = "bath".to_string();
    write(app, &room, "room-new", json!({"name": "Bath", "units": "in", "created": NOW})).expect("a room");
    let joist = json!({"id": "J1", "at": 0, "kind": "sawn", "depth": 235, "span": 3500, "first_bearing": -600});
    let point = |id: &str, y: f64| json!({"id": id, "survey": "joists", "x": 0, "y": y, "joist": "J1"});
    let plan = json!({"outline": [[0,0],[2000,0],[2000,2000],[0,2000]], "base_wall": "door wall", "side_wall": "left wall",
        "joists_along": "y", "joists": [joist], "surveys": [{"id": "joists", "name": "Joists", "surface": "framing"}],
        "points": [point("J1@0", 0.0), point("J1@30", 762.0), point("J1@60", 1524.0)]});
    write(app, &room, "plan-set", json!({"plan": plan})).expect("a plan");
    write(
        app,
        &room,
        "setup-open",
        json!({"setup": "S1", "survey": "joists", "instrument": "laser and rule", "sd_mm": 0.8,
        "benchmark": {"name": "door mark", "height": 0}, "opening": {"text": "44-1/4", "mm": 1123.95, "at": NOW}}),
    )
    .expect("a set-up");
    room
}

fn reading(id: &str, point: &str, text: &str, mm: f64) -> serde_json::Value {
    json!({"reading": id, "setup": "S1", "point": point, "sense": "down", "entered": text, "value": mm, "sd_mm": 0.8, "source": "typed"})
}

fn state(app: &App, room: &str) -> RoomFile {
    app.room_state(room).expect("the room")
}

#[test]
fn the_same_change_twice_is_made_once() {
    let app = app();
    let room = room(&app);
    let first = write_as(&app, "w1", &room, "reading-add", reading("r1", "J1@0", "44-1/4", 1123.95)).expect("kept");
    let again = write_as(&app, "w1", &room, "reading-add", reading("r1", "J1@0", "44-1/4", 1123.95)).expect("harmless");
    assert!(!first.repeat && again.repeat && first.seq == again.seq);
    assert_eq!(state(&app, &room).readings.len(), 1);
    let other =
        write_as(&app, "w1", &room, "reading-add", reading("r2", "J1@0", "44", 1117.6)).expect_err("another payload");
    assert_eq!(other.kind, Kind::IdReused);
}

#[test]
fn a_correction_keeps_what_it_corrects_and_undo_brings_it_back() {
    let app = app();
    let room = room(&app);
    write(&app, &room, "reading-add", reading("r1", "J1@0", "43-1/8", 1095.375)).expect("kept");
    let mut corrected = reading("r2", "J1@0", "44-1/8", 1120.775);
    corrected["supersedes"] = json!("r1");
    write(&app, &room, "reading-add", corrected).expect("kept");
    let value = |app: &App| {
        app.room(&room).expect("the room").surveys[0].points[0].reading.clone().map(|reading| reading.entered)
    };
    assert_eq!(state(&app, &room).readings.len(), 2);
    assert_eq!(value(&app).as_deref(), Some("44-1/8"));
    app.undo(&app.new_id(), &room).expect("undone");
    assert_eq!(value(&app).as_deref(), Some("43-1/8"));
    assert_eq!(state(&app, &room).readings.len(), 2, "nothing is ever removed");
}

/// A change that is refused: the kind and the field; nothing is written.
fn check_refused(command: &str, payload: serde_json::Value, kind: Kind, field: Option<&str>) {
    let app = app();
    let room = room(&app);
    let before = (state(&app, &room), app.history(&room).expect("history").entries.len());
    let refusal = write(&app, &room, command, payload).expect_err(command);
    assert_eq!((refusal.kind, refusal.field.as_deref()), (kind, field), "{refusal}");
    assert_eq!((state(&app, &room), app.history(&room).expect("history").entries.len()), before);
}

#[test]
fn nonsense_is_refused_by_field_and_leaves_nothing_behind() {
    check_refused("reading-add", reading("r", "J1@0", "44 3/0", 1.0), Kind::NotUnderstood, Some("entered"));
    check_refused("reading-add", reading("r", "J1@0", "44-1/8", 1.0), Kind::DoesNotFit, Some("value"));
    check_refused("reading-add", reading("r", "J9@0", "44-1/8", 1120.775), Kind::NotFound, Some("point"));
    let mut unlinked = reading("r", "J1@0", "44-1/8", 1120.775);
    unlinked["setup"] = json!("S9");
    check_refused("reading-add", unlinked, Kind::NotFound, Some("setup"));
    let mut odd = reading("r", "J1@0", "44-1/8", 1120.775);
    odd["colour"] = json!("blue");
    check_refused("reading-add", odd, Kind::UnknownField, Some("colour"));
    check_refused("rule-set", json!({"rule": "dress-most", "value": 20.0}), Kind::OutOfRange, Some("value"));
    check_refused("rule-set", json!({"rule": "no-such-rule", "value": 1.0}), Kind::NotFound, Some("rule"));
    check_refused(
        "approval-add",
        json!({"approval": {"id": "a", "joist": "J1", "depth": 3, "from": 0, "to": 100, "by": "",
        "date": "2031-04-02", "reference": "x"}}),
        Kind::OutOfRange,
        Some("approval.by"),
    );
    check_refused("room-new", json!({"name": "Bath", "units": "in", "created": NOW}), Kind::AlreadyThere, Some("room"));
    check_refused("no-such-command", json!({}), Kind::UnknownCommand, Some("command"));
    check_refused("setup-close", json!({"setup": "S9"}), Kind::NotFound, Some("setup"));
}

#[test]
fn every_command_and_request_of_the_wire_is_served() {
    // The tables of names beside the code and the generated TypeScript hold the same names.
    let types = |name: &str| {
        std::fs::read_to_string(site_tests::top().join("ui/src/bridge/generated").join(name)).expect("a generated file")
    };
    let (commands, requests) = (types("Commands.ts"), types("Requests.ts"));
    let named = |text: &str, name: &str| {
        text.contains(&format!("\"{name}\":"))
            || text.contains(&format!("\n{name}:"))
            || text.contains(&format!(" {name}:"))
    };
    assert!(app::COMMANDS.iter().all(|name| named(&commands, name)), "{commands}");
    assert!(app::REQUESTS.iter().all(|name| named(&requests, name)), "{requests}");
    let pairs = requests.split_once("export type").map_or(0, |(_, table)| table.matches(": [").count());
    assert_eq!(pairs, app::REQUESTS.len());
}

#[test]
fn an_exported_room_comes_back_equal_and_verifies() {
    let (here, there) = (app(), app());
    let room = room(&here);
    write(&here, &room, "reading-add", reading("r1", "J1@0", "44-1/4", 1123.95)).expect("kept");
    write(&here, &room, "tick-set", json!({"item": "cut-list/J1", "done": true})).expect("kept");
    here.undo(&here.new_id(), &room).expect("undone");
    let text = here.export_room(&room).expect("a file").text;
    let ask = |text: &str| ImportAsk { id: "i1".to_string(), file: text.to_string(), as_room: None };
    there.import_room(&ask(&text)).expect("taken in");
    assert_eq!(there.room_file(&room).expect("the room"), here.room_file(&room).expect("the room"));
    assert_eq!(there.history(&room).expect("history").broken_at, None);
    there.import_room(&ask(&text)).expect("the same file again is harmless");

    let altered = text.replacen("44-1/4", "44-1/8", 1);
    let refusal = app().import_room(&ask(&altered)).expect_err("an altered file");
    assert_eq!(refusal.kind, Kind::DoesNotFit, "{refusal}");
}

#[test]
fn a_hand_written_room_becomes_one_entry() {
    let app = app();
    let room = demo(&app, "banksia");
    assert_eq!(app.history(&room).expect("history").entries.len(), 1);
    let shown = app.room(&room).expect("the room");
    assert_eq!(shown.surveys[0].read, 28);
    for name in ["kestrel", "rowan", "banksia"] {
        let room = demo(&app, name);
        let body = serde_json::to_string(&OfRoom { room }).expect("JSON");
        app.dispatch("findings", &body).unwrap_or_else(|refusal| panic!("{name}: {refusal}"));
    }
}

#[test]
fn a_number_is_set_beside_its_neighbours_in_their_own_sense() {
    let app = app();
    let entry = |room: &str, setup: &str, point: &str, text: &str| {
        let ask = app::forms::EntryAsk {
            room: room.into(),
            setup: setup.into(),
            point: Some(point.into()),
            text: text.into(),
        };
        app::judge::reading::typed_reading::entry(&app.room_state(room).expect("a room"), &ask).expect("understood")
    };
    // Down from the line: an inch less is an inch higher than the joist beside it.
    let kestrel = demo(&app, "kestrel");
    let burned = entry(&kestrel, "S1", "J1@90", "43-1/8");
    assert_eq!(burned.question.map(|slip| slip.text).as_deref(), Some("44-1/8"));
    assert!(burned.differences.iter().all(|difference| difference.mm > 25.0));
    assert!(entry(&kestrel, "S1", "J4@60", "43-7/8").question.is_none(), "an ordinary crown is no slip");
    // Up from the drain: 10 mm more is 10 mm higher.
    let banksia = demo(&app, "banksia");
    let high = entry(&banksia, "S1", "900/300", "22.5");
    assert_eq!(high.question.map(|slip| slip.text).as_deref(), Some("12.5"));
    assert!(high.differences.iter().all(|difference| difference.mm > 5.0), "{:?}", high.differences);
}

/// A step of a random life of a room.
#[derive(Debug, Clone)]
enum Step {
    Add(u8, u8),
    Correct(u8),
    Tick(u8, bool),
    Rule(f64),
    Gate(u8, bool),
    Close(bool),
    Undo,
}

fn steps() -> impl Strategy<Value = Vec<Step>> {
    let step = prop_oneof![
        (0..3u8, 0..16u8).prop_map(|(point, sixteenths)| Step::Add(point, sixteenths)),
        (0..16u8).prop_map(Step::Correct),
        (0..3u8, any::<bool>()).prop_map(|(item, done)| Step::Tick(item, done)),
        (0.5..5.0f64).prop_map(Step::Rule),
        (0..3u8, any::<bool>()).prop_map(|(question, sound)| Step::Gate(question, sound)),
        any::<bool>().prop_map(Step::Close),
        Just(Step::Undo),
    ];
    prop::collection::vec(step, 1..25)
}

fn take(app: &App, room: &str, n: usize, step: &Step) {
    let length = |sixteenths: &u8| (format!("44 {sixteenths}/16"), (44.0 + f64::from(*sixteenths) / 16.0) * 25.4);
    let point = |k: &u8| ["J1@0", "J1@30", "J1@60"][usize::from(*k)];
    let done = match step {
        Step::Add(k, sixteenths) => {
            let (text, mm) = length(sixteenths);
            write(app, room, "reading-add", reading(&format!("r{n}"), point(k), &text, mm))
        }
        Step::Correct(sixteenths) => {
            let (text, mm) = length(sixteenths);
            let Some(last) = state(app, room).readings.last().cloned() else { return };
            let mut corrected = reading(&format!("r{n}"), &last.point, &text, mm);
            corrected["supersedes"] = json!(last.id);
            write(app, room, "reading-add", corrected)
        }
        Step::Tick(item, done) => {
            write(app, room, "tick-set", json!({"item": format!("cut-list/J{item}"), "done": done}))
        }
        Step::Rule(value) => write(app, room, "rule-set", json!({"rule": "closing", "value": value})),
        Step::Gate(question, sound) => {
            let question = ["bounce", "rot", "cut"][usize::from(*question)];
            let answer = if *sound { "sound" } else { "unsound" };
            write(app, room, "gate-set", json!({"answer": {"question": question, "subject": "", "answer": answer}}))
        }
        Step::Close(closed) => {
            let closing = closed.then(|| json!({"text": "44-1/4", "mm": 1123.95, "at": NOW}));
            write(app, room, "setup-close", json!({"setup": "S1", "closing": closing}))
        }
        Step::Undo => undo_one_step(app, room),
    };
    done.unwrap_or_else(|refusal| panic!("{step:?}: {refusal}"));
}

/// Undoes a step, but not the laying out of the room that the steps stand on.
fn undo_one_step(app: &App, room: &str) -> Result<app::forms::Written, app::Refusal> {
    let next = app.room(room).expect("the room").undo;
    match next.filter(|next| !["plan-set", "setup-open"].contains(&next.command.as_str())) {
        Some(_) => app.undo(&app.new_id(), room),
        None => write(app, room, "room-rename", json!({"name": "Bath"})),
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    #[test]
    fn tables_rebuilt_from_the_journal_are_equal(steps in steps()) {
        let app = app();
        let room = room(&app);
        steps.iter().enumerate().for_each(|(n, step)| take(&app, &room, n, step));
        let (before, text) = (state(&app, &room), app.store().read(|read| read.tables_as_text()).expect("tables"));
        app.rebuild().expect("rebuilt");
        prop_assert_eq!(state(&app, &room), before);
        prop_assert_eq!(app.store().read(|read| read.tables_as_text()).expect("tables"), text);
        prop_assert_eq!(app.history(&room).expect("history").broken_at, None);
    }

    #[test]
    fn undoing_everything_leaves_the_room_as_it_was(steps in steps()) {
        let app = app();
        let room = room(&app);
        let before = state(&app, &room);
        let made = steps.iter().filter(|step| !matches!(step, Step::Undo | Step::Correct(_)));
        let made: Vec<&Step> = made.collect();
        made.iter().enumerate().for_each(|(n, step)| take(&app, &room, n, step));
        for _ in &made {
            app.undo(&app.new_id(), &room).expect("undone");
        }
        let mut after = state(&app, &room);
        prop_assert!(after.readings.iter().all(|reading| reading.withdrawn));
        after.readings.clear();
        prop_assert_eq!(after, before);
    }
}

#[test]
fn what_is_wrong_with_the_file_of_rooms_is_said_with_the_rooms() {
    let home = tempfile::tempdir().expect("a folder");
    let open = || App::open(home.path(), app::Clock::fixed(NOW, "looked-over")).expect("the rooms open");
    let app = open();
    room(&app);
    app.look_over();
    assert_eq!(app.rooms().expect("rooms").trouble, None);
    drop(app);
    let file = rusqlite::Connection::open(home.path().join("rooms.sqlite")).expect("the file");
    // A text that does not have the digest it stands under.
    let spoil = format!("INSERT INTO private VALUES ('sha256:{}', zeroblob(16), 'another house')", "0".repeat(64));
    file.execute_batch(&spoil).expect("spoiled");
    drop(file);
    let app = open();
    assert_eq!(app.rooms().expect("rooms").trouble, None, "not looked over yet");
    app.look_over();
    let trouble = app.rooms().expect("rooms").trouble.expect("found");
    assert!(trouble.message.contains("private text"), "{trouble}");
}

#[test]
fn a_second_drain_takes_the_pond_and_each_reading_falls_to_the_nearer() {
    let app = app();
    let room = demo(&app, "banksia");
    let mut file = app.room_state(&room).expect("the room");
    file.plan.second_drain = Some(app::forms::Drain { from: (900.0, 600.0), to: None, grate: None });
    let view = app::findings(&file, None).expect("findings");
    let of = |kind: FindingKind| view.findings.iter().filter(move |finding| finding.kind == kind);
    assert!(of(FindingKind::Pond).all(|pond| pond.value == Some(0.0)), "no water stands where it runs out");
    // The reading beside the second drain, which ran backward to the first, falls to it: 8.4 over 300 mm.
    let row = of(FindingKind::FallRow).find(|row| row.subject == "1200/600").expect("a way from 1200/600");
    assert!(row.value.is_some_and(|fall| (fall - 8.4).abs() < 1e-9), "{row:?}");
}
