//! What comes in from files: it is sealed before it is written, checked before it is taken, and refused by field.

use app::forms::{CsvAsk, ExportAsk, ImportAsk, RoomFile};
use app::{App, Kind, Refusal};
use serde_json::{Value, json};
use site_tests::{app, demo, write};

const WHO: &str = "R. Example of the green van";
const NOTED: &str = "the key is under the pot";

fn kestrel() -> Value {
    serde_json::to_value(app::demo("kestrel").expect("a room")).expect("JSON")
}

fn take(app: &App, file: &Value, as_room: Option<&str>) -> Result<String, Refusal> {
    let ask = ImportAsk { id: app.new_id(), file: file.to_string(), as_room: as_room.map(str::to_string) };
    app.import_room(&ask).map(|imported| imported.room)
}

/// Everything that a room is written as without its private texts.
fn blacked_out(app: &App, room: &str) -> Result<Vec<u8>, Refusal> {
    let ask = ExportAsk { room: room.to_string(), black_out: true };
    let mut all = app.export_file(&ask)?.text.into_bytes();
    all.extend(app.drawing_of(&ask, "csv")?.text.into_bytes());
    all.extend(app.everything_bytes(&ask)?);
    Ok(all)
}

fn holds(bytes: &[u8], text: &str) -> bool {
    bytes.windows(text.len()).any(|window| window == text.as_bytes())
}

/// Names and notes are read here, stand nowhere in the journal, and are in nothing that goes out without them.
fn check_sealed(app: &App, room: &str) {
    let file = app.room_file(room).expect("the room");
    assert!(file.readings.iter().any(|one| one.by.as_deref() == Some(WHO) && one.note.as_deref() == Some(NOTED)));
    let black = blacked_out(app, room).expect("it can be blacked out");
    for secret in [WHO, NOTED] {
        assert!(file.journal.iter().flatten().all(|entry| !entry.payload.contains(secret)), "{secret}");
        assert!(!holds(&black, secret), "{secret}");
    }
    let text = app.export_file(&ExportAsk { room: room.into(), black_out: true }).expect("a file").text;
    let there = self::app();
    there.import_bytes("i", text.as_bytes(), None).expect("it still fits");
    assert!(
        app::verify(&app.everything_bytes(&ExportAsk { room: room.into(), black_out: true }).expect("a ZIP")).is_ok()
    );
}

#[test]
fn names_and_notes_of_a_table_are_sealed_and_a_repeat_is_harmless() {
    let app = app();
    let room = demo(&app, "kestrel");
    let csv = format!(
        "point,sense,setup,reading_in,time,by,note\n\
         J1@0,down,S1,44.25,2031-04-02T08:00:00-05:00,{WHO},{NOTED}\n\
         J1@30,down,S1,44.5,2031-04-02T08:01:00-05:00,{WHO},\n"
    );
    let ask = CsvAsk { id: "c".into(), room: room.clone(), csv };
    app.import_readings(&ask).expect("taken in");
    let before = app.room_file(&room).expect("the room");
    app.import_readings(&ask).expect("the same again");
    assert_eq!(app.room_file(&room).expect("the room"), before);
    check_sealed(&app, &room);
}

#[test]
fn names_and_notes_of_a_file_without_journal_are_sealed() {
    let mut file = kestrel();
    file["readings"][3]["by"] = json!(WHO);
    file["readings"][3]["note"] = json!(NOTED);
    file["room"]["place"] = json!("the house with the green door");
    let app = app();
    let room = take(&app, &file, None).expect("taken in");
    assert_eq!(app.room_state(&room).expect("the room").room.place.as_deref(), Some("the house with the green door"));
    check_sealed(&app, &room);
}

#[test]
fn what_stands_in_the_journal_in_plain_words_is_refused_and_a_second_room_is_not() {
    let app = app();
    let room = demo(&app, "kestrel");
    let reading = |id: &str, by: Option<&str>| {
        json!({"reading": id, "setup": "S1", "point": "J1@0", "sense": "down",
        "entered": "44", "value": 1117.6, "sd_mm": 0.8, "source": "typed", "by": by, "note": by.map(|_| NOTED)})
    };
    write(&app, &room, "reading-add", reading("plain", Some(WHO))).expect("kept");
    let refusal = blacked_out(&app, &room).expect_err("it cannot be taken out");
    assert_eq!(refusal.kind, Kind::NotReady);
    assert!(refusal.field.as_deref().is_some_and(|field| field.ends_with(".by")), "{refusal}");
    assert!(refusal.message.contains("as a second room"), "{refusal}");
    let file: Value = serde_json::from_str(&app.export_room(&room).expect("a file").text).expect("JSON");
    check_sealed(&app, &take(&app, &file, Some("second")).expect("a second room"));
}

#[test]
fn a_note_that_was_taken_off_stands_in_the_journal_still() {
    let app = app();
    let room = demo(&app, "kestrel");
    let entry = json!({"id": "n", "at": "2031-04-02T08:00:00-05:00", "what": {"kind": "note", "text": NOTED}});
    write(&app, &room, "entry-put", json!({ "entry": entry })).expect("kept");
    write(&app, &room, "entry-remove", json!({"entry": "n"})).expect("taken off");
    let refusal = blacked_out(&app, &room).expect_err("it stands in the journal");
    assert_eq!((refusal.kind, refusal.field.as_deref()), (Kind::NotReady, Some("journal[1].payload")));
}

#[test]
fn a_second_room_is_made_of_a_whole_file_only() {
    let app = app();
    let room = demo(&app, "kestrel");
    for (item, text) in [("J2 strip", "44"), ("J3 strip", "44-1/8")] {
        write(&app, &room, "tick-set", json!({"item": item, "done": true})).expect(text);
    }
    let whole: Value = serde_json::from_str(&app.export_room(&room).expect("a file").text).expect("JSON");
    let check = |what: &str, alter: &dyn Fn(&mut Value)| {
        let mut file = whole.clone();
        alter(&mut file);
        let (rooms, refused) = (app.rooms().expect("rooms").rooms.len(), take(&app, &file, Some("second")));
        assert_eq!(refused.expect_err(what).kind, Kind::DoesNotFit, "{what}");
        assert_eq!(app.rooms().expect("rooms").rooms.len(), rooms, "{what}");
    };
    check("a value", &|file| file["readings"][2]["value"] = json!(1000.0));
    check("a payload", &|file| file["journal"][1]["payload"] = json!("{\"item\":\"J9 strip\",\"done\":true}"));
    check("a hash", &|file| file["journal"][1]["hash"] = json!("0".repeat(64)));
    check("a number", &|file| file["journal"][2]["seq"] = json!(7));
    check("a time", &|file| file["journal"][1]["at"] = json!("2030-01-01T00:00:00Z"));
    check("the last entry", &|file| drop(file["journal"].as_array_mut().map(Vec::pop)));
    check("no entry", &|file| file["journal"] = json!([]));
    take(&app, &whole, Some("second")).expect("a whole file");
    let proved = app::verify(app.export_room("second").expect("a file").text.as_bytes()).expect("it holds");
    let from = proved.copy_of.expect("it says where it came from");
    assert_eq!(
        (Some(from.room.as_str()), json!(from.head)),
        (whole["room"]["id"].as_str(), whole["journal"][2]["hash"].clone())
    );
}

/// A file written by hand that is refused, and by which field.
fn check_refused(alter: impl Fn(&mut Value), kind: Kind, field: &str) {
    let (app, mut file) = (app(), kestrel());
    alter(&mut file);
    let refusal = take(&app, &file, None).expect_err(field);
    assert_eq!((refusal.kind, refusal.field.as_deref()), (kind, Some(field)), "{refusal}");
    assert!(app.rooms().expect("rooms").rooms.is_empty(), "{field}");
}

#[test]
fn what_the_screens_would_not_let_in_is_refused_in_a_file_too() {
    check_refused(|file| file["rules"] = json!({"changed": {"nosuch": 1}}), Kind::NotFound, "rules.changed.nosuch");
    let beyond = |file: &mut Value| file["rules"] = json!({"changed": {"confidence": 7}});
    check_refused(beyond, Kind::OutOfRange, "rules.changed.confidence");
    check_refused(|file| file["rules"] = json!({"falls": "uphill"}), Kind::OutOfRange, "rules.falls");
    check_refused(|file| file["readings"][4]["at"] = json!("noon"), Kind::OutOfRange, "readings[4].at");
    check_refused(|file| file["setups"][0]["opening"]["at"] = json!("noon"), Kind::OutOfRange, "setups[0].opening.at");
    let bow = json!([[0, 0], [2000, 2000], [2000, 0], [0, 2000]]);
    check_refused(|file| file["plan"]["outline"] = bow.clone(), Kind::NotSimple, "plan.outline");
    check_refused(|file| file["room"]["name"] = json!("  "), Kind::OutOfRange, "room.name");
    check_refused(|file| file["room"]["id"] = json!("../../etc"), Kind::OutOfRange, "room.id");
    let approval = json!([{"id": "a", "joist": "J1", "depth": 3, "from": 900, "to": 100, "by": "E. Example",
        "date": "2031-04-02", "reference": "x"}]);
    check_refused(|file| file["approvals"] = approval.clone(), Kind::OutOfRange, "approvals[0].to");
    let twin = |file: &mut Value| file["plan"]["joists"][1]["id"] = file["plan"]["joists"][0]["id"].clone();
    check_refused(twin, Kind::AlreadyThere, "plan.joists[1].id");
    let twin = |file: &mut Value| file["readings"][1]["id"] = file["readings"][0]["id"].clone();
    check_refused(twin, Kind::AlreadyThere, "readings[1].id");
    check_refused(|file| file["readings"][1]["supersedes"] = json!("r99"), Kind::NotFound, "readings[1].supersedes");
    check_refused(|file| file["journal"] = json!([]), Kind::DoesNotFit, "journal");
}

#[test]
fn an_empty_journal_is_told_as_what_it_is() {
    let mut file = kestrel();
    file["journal"] = json!([]);
    let refusal = app::verify(file.to_string().as_bytes()).expect_err("nothing to prove");
    assert_eq!((refusal.kind, refusal.field.as_deref()), (Kind::DoesNotFit, Some("journal")));
}

fn table(app: &App, room: &str) -> String {
    app.drawing(room, "csv").expect("a table").text
}

#[test]
fn a_set_up_that_was_closed_comes_back_closed() {
    let app = app();
    let room = demo(&app, "kestrel");
    let closing = json!({"text": "44-3/8", "mm": 1127.125, "at": "2031-04-02T09:00:00-05:00"});
    write(&app, &room, "setup-close", json!({"setup": "S1", "closing": closing})).expect("closed");
    let csv = table(&app, &room);
    assert!(
        csv.trim_end().lines().last().is_some_and(|line| line.starts_with("BM,,,down,1127.125,44-3/8,S1,")),
        "{csv}"
    );
    let mut empty: RoomFile = app.room_state(&room).expect("the room");
    (empty.setups, empty.readings, empty.room.id) = (vec![], vec![], "other".into());
    take(&app, &serde_json::to_value(&empty).expect("JSON"), None).expect("a room");
    app.import_readings(&CsvAsk { id: "c".into(), room: "other".into(), csv: csv.clone() }).expect("taken in");
    // What was corrected stays behind: only what is in force comes in.
    let csv: String =
        csv.lines().filter(|line| !line.ends_with(",corrected")).map(|line| format!("{line}\n")).collect();
    assert_eq!(table(&app, "other"), csv);
    let history = app.history("other").expect("history").entries.len();
    app.rebuild().expect("the journal is sound");
    assert_eq!((table(&app, "other"), app.history("other").expect("history").entries.len()), (csv, history));
}
