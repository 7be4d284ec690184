//! The record: what is inside it comes back equal, proves itself, and names what was altered.

use app::forms::{Contents, ExportAsk, FileAsk, Here, PrivateText, RecordAsk, Sealed, Write};
use app::{App, Kind};
use data_encoding::{BASE64, HEXLOWER};
use lopdf::{Document, Object};
use proptest::prelude::*;
use serde_json::json;
use sha2::{Digest, Sha256};
use site_tests::{app, demo, write};

fn record(app: &App, room: &str) -> Vec<u8> {
    app.record_pdf(room).expect("a record")
}

fn import(app: &App, bytes: &[u8]) -> Result<String, app::Refusal> {
    app.import_bytes(&app.new_id(), bytes, None).map(|imported| imported.room)
}

#[test]
fn a_record_comes_back_as_the_room_it_was_made_of() {
    for name in ["kestrel", "rowan", "banksia"] {
        let (here, there) = (app(), app());
        let room = demo(&here, name);
        write(&here, &room, "room-rename", json!({"name": "Hall bath, 1/2 \"up\" ü"})).expect("renamed");
        let pdf = record(&here, &room);
        assert_eq!(import(&there, &pdf).expect(name), room);
        assert_eq!(there.room_file(&room).expect("the room"), here.room_file(&room).expect("the room"), "{name}");
        let proved = app::verify(&pdf).expect("it holds");
        assert_eq!((proved.entries, proved.files.len()), (2, 3));
        assert_eq!(Some(proved.head), here.room(&room).expect("the room").head);
        assert_eq!(record(&there, &room), pdf, "and gives the same record again");
    }
}

/// The attachment streams of a record by name, and how to put another in the place of one.
fn with_altered(pdf: &[u8], ending: &str, alter: impl Fn(&mut Vec<u8>)) -> Vec<u8> {
    let mut document = Document::load_mem(pdf).expect("a PDF");
    let files = document.objects.values().filter_map(|object| object.as_dict().ok());
    let file = files
        .filter(|file| file.has(b"EF"))
        .find(|file| lopdf::decode_text_string(file.get(b"UF").expect("a name")).expect("a name").ends_with(ending));
    let held = file.and_then(|file| file.get(b"EF").ok()?.as_dict().ok()?.get(b"F").ok()?.as_reference().ok());
    let held = held.expect("its stream");
    let Some(Object::Stream(stream)) = document.objects.get_mut(&held) else { panic!("a stream") };
    let mut content = stream.decompressed_content().unwrap_or_else(|_| stream.content.clone());
    alter(&mut content);
    stream.dict.remove(b"Filter");
    stream.set_content(content);
    let mut out = Vec::new();
    document.save_to(&mut out).expect("memory");
    out
}

fn replaced(content: &mut Vec<u8>, from: &str, to: &str) {
    let text = String::from_utf8(content.clone()).expect("text");
    assert!(text.contains(from), "{from} stands in it");
    *content = text.replacen(from, to, 1).into_bytes();
}

#[test]
fn whatever_is_altered_inside_a_record_is_named() {
    let here = app();
    let room = demo(&here, "kestrel");
    write(&here, &room, "tick-set", json!({"item": "J2 strip", "done": true})).expect("ticked");
    write(&here, &room, "tick-set", json!({"item": "J3 strip", "done": true})).expect("ticked");
    let pdf = record(&here, &room);
    assert!(app::verify(&with_altered(&pdf, ".csv", |_| ())).is_ok(), "written anew by another program it still holds");
    let check = |ending: &str, from: &str, to: &str, field: &str, said: &str| {
        let altered = with_altered(&pdf, ending, |content| replaced(content, from, to));
        let refusal = app::verify(&altered).expect_err(from);
        assert_eq!(refusal.kind, Kind::DoesNotFit, "{refusal}");
        assert_eq!(refusal.field.as_deref(), Some(field), "{refusal}");
        assert!(refusal.message.contains(said), "{refusal}");
    };
    let name = "kestrel-lane-hall-bath";
    check(
        ".json",
        "{\\\"item\\\":\\\"J2 strip\\\"",
        "{\\\"item\\\":\\\"J5 strip\\\"",
        "journal[1]",
        "Entry 2 (tick-set",
    );
    check(".json", "\"device\": \"memory\"", "\"device\": \"memorx\"", "journal[0]", "Entry 1 (room-import");
    check(".json", "\"J3 strip\"", "\"J4 strip\"", "journal", "not the one its journal leads to");
    check(".json", "\"schema\": 1", "\"schema\":  1", &format!("{name}.room.json"), "is not as it was written");
    check(".csv", "44-1/8", "44-1/4", &format!("{name}.readings.csv"), "is not as it was written");
    check("sums.txt", ".readings.csv", ".readings.csw", &format!("{name}.readings.csw"), "is not there");
}

fn sha256(text: &str) -> String {
    HEXLOWER.encode(&Sha256::digest(text))
}

#[test]
fn a_table_altered_together_with_the_list_is_still_not_what_the_room_says() {
    let here = app();
    let room = demo(&here, "kestrel");
    let pdf = record(&here, &room);
    let table = here.drawing(&room, "csv").expect("a table").text;
    let altered = table.replacen("44-1/8", "44-1/4", 1);
    let both = with_altered(&pdf, ".csv", |content| replaced(content, "44-1/8", "44-1/4"));
    let both = with_altered(&both, "sums.txt", |content| replaced(content, &sha256(&table), &sha256(&altered)));
    let refusal = app::verify(&both).expect_err("the room says otherwise");
    let name = "kestrel-lane-hall-bath.readings.csv";
    assert_eq!((refusal.kind, refusal.field.as_deref()), (Kind::DoesNotFit, Some(name)), "{refusal}");
    assert!(refusal.message.contains("does not say what the room beside it says"), "{refusal}");
    assert_eq!(app::verify(&pdf).expect("it holds").not_covered, ["pages"]);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(40))]

    /// A byte changed anywhere is noticed, or it changed nothing of what is carried.
    #[test]
    fn no_byte_of_what_is_carried_changes_unnoticed(place in 0.0..1.0f64, flip in 1..=255u8) {
        let (pdf, whole) = (&KESTREL.0, &KESTREL.1);
        let mut bytes = pdf.clone();
        let at = ((bytes.len() - 1) as f64 * place) as usize;
        bytes[at] ^= flip;
        match app::verify(&bytes) {
            Ok(proved) => {
                prop_assert_eq!(&proved.head, whole);
                let there = app();
                let room = import(&there, &bytes).expect("what holds comes in");
                prop_assert_eq!(there.room_file(&room).expect("the room").journal.expect("a journal").len(), 1);
            }
            Err(refusal) => prop_assert!(refusal.kind != Kind::Internal && refusal.message.ends_with('.'), "{}", refusal),
        }
    }
}

static KESTREL: std::sync::LazyLock<(Vec<u8>, String)> = std::sync::LazyLock::new(|| {
    let app = app();
    let room = demo(&app, "kestrel");
    (record(&app, &room), app.room(&room).expect("the room").head.expect("a head"))
});

#[test]
fn what_is_no_record_is_refused_with_a_sentence() {
    let check = |bytes: &[u8], kind: Kind, said: &str| {
        let refusal = app::verify(bytes).expect_err(said);
        assert!(
            refusal.kind == kind && refusal.message.contains(said),
            "{kind:?} {said}: {:?} {refusal}",
            refusal.kind
        );
        assert_eq!(import(&app(), bytes).expect_err(said).kind, kind);
    };
    let whole = &KESTREL.0;
    check(&whole[..whole.len() / 2], Kind::Damaged, "cut off or damaged");
    check(b"\xff\xd8\xff\xe0 a photograph", Kind::NotOurs, "neither a room file nor a record");
    check(b"a letter", Kind::NotOurs, "neither a room file nor a record");
    check(br#"{"schema": 99}"#, Kind::NewerVersion, "Update Truefall");
    let mut other = Document::load_mem(whole).expect("a PDF");
    let root = other.trailer.get(b"Root").and_then(Object::as_reference).expect("a root");
    other.get_object_mut(root).and_then(Object::as_dict_mut).expect("a catalogue").remove(b"Names");
    let mut bytes = Vec::new();
    other.save_to(&mut bytes).expect("memory");
    check(&bytes, Kind::NotOurs, "not a record of Truefall");
}

#[test]
fn a_room_written_by_hand_proves_nothing_and_comes_in() {
    let text = std::fs::read(site_tests::top().join("fixtures/rooms/kestrel-lane.room.json")).expect("the file");
    assert_eq!(app::verify(&text).expect_err("no journal").kind, Kind::NotReady);
    import(&app(), &text).expect("it comes in");
}

#[test]
fn a_file_is_looked_at_before_it_is_taken_in() {
    let (here, there) = (app(), app());
    let room = demo(&here, "kestrel");
    let first = record(&here, &room);
    write(&here, &room, "tick-set", json!({"item": "J2 strip", "done": true})).expect("ticked");
    let second = record(&here, &room);
    let ask = |bytes: &[u8]| FileAsk { id: "f".into(), base64: BASE64.encode(bytes), as_room: None };
    let look = |app: &App, bytes: &[u8]| app.look_at_file(&ask(bytes)).expect("a look");
    let seen = look(&there, &first);
    assert_eq!((seen.here, seen.entries, seen.fault), (Here::No, 1, None));
    assert!(there.rooms().expect("rooms").rooms.is_empty(), "nothing was done");
    there.import_file(&ask(&first)).expect("taken in");
    assert_eq!(look(&there, &first).here, Here::Same);
    assert_eq!(look(&there, &second).here, Here::Behind);
    assert_eq!(look(&here, &first).here, Here::Ahead);
    write(&there, &room, "tick-set", json!({"item": "J5 strip", "done": true})).expect("ticked");
    assert_eq!(look(&there, &second).here, Here::Differs);
    assert_eq!(there.import_file(&ask(&second)).expect_err("it went another way").kind, Kind::AlreadyThere);
    let as_second = FileAsk { id: "g".into(), as_room: Some("second".into()), ..ask(&second) };
    assert_eq!(there.import_file(&as_second).expect("a second room").room, "second");
    let altered = with_altered(&second, ".json", |content| replaced(content, "\\\"J2 strip", "\\\"J6 strip"));
    assert!(look(&there, &altered).fault.is_some_and(|fault| fault.contains("Entry 2")));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(6))]

    /// Names, notes and figures of any kind: the record carries them there and back.
    #[test]
    fn any_room_goes_into_a_record_and_back(
        name in "\\PC{1,30}", notes in prop::collection::vec("\\PC{0,20}", 0..5),
        figures in prop::collection::vec(1.0..3000.0f64, 0..8),
    ) {
        prop_assume!(!name.trim().is_empty());
        let (here, there) = (app(), app());
        let room = demo(&here, "kestrel");
        write(&here, &room, "room-rename", json!({ "name": name })).expect("renamed");
        for (k, note) in notes.iter().enumerate() {
            let answer = json!({"question": "rot", "subject": format!("J{}", k + 1), "answer": "sound", "note": note});
            write(&here, &room, "gate-set", json!({ "answer": answer })).expect("answered");
        }
        for (k, mm) in figures.iter().enumerate() {
            let reading = json!({"reading": format!("more{k}"), "setup": "S1", "point": "J1@0", "sense": "down",
                "entered": format!("{mm} mm"), "value": mm, "sd_mm": 0.8, "source": "typed"});
            write(&here, &room, "reading-add", reading).expect("read");
        }
        put_all(&here, &room, &notes, &figures);
        let pdf = record(&here, &room);
        prop_assert!(app::verify(&pdf).is_ok());
        import(&there, &pdf).expect("taken in");
        prop_assert_eq!(there.room_file(&room).expect("the room"), here.room_file(&room).expect("the room"));
    }
}

/// Entries of many kinds, made of any texts and figures.
fn put_all(app: &App, room: &str, texts: &[String], figures: &[f64]) {
    let put = |id: String, what: serde_json::Value| {
        let entry = json!({"id": id, "at": "2031-04-02T08:00:00-05:00", "what": what});
        write(app, room, "entry-put", json!({ "entry": entry })).expect("kept");
    };
    for (k, text) in texts.iter().enumerate() {
        put(format!("m{k}"), json!({"kind": "material", "thing": text, "product": text, "batch": text}));
        put(format!("n{k}"), json!({"kind": "note", "text": text}));
    }
    for (k, mm) in figures.iter().enumerate() {
        let places = json!([[mm, mm], [mm / 3.0, -mm]]);
        put(
            format!("h{k}"),
            json!({"kind": "hidden", "thing": "cable", "surface": "floor", "places": places, "depth": mm}),
        );
        let layers = json!([{"name": "tile", "thickness": mm, "at_drain": mm / 7.0, "u": 0.3}]);
        put(format!("b{k}"), json!({"kind": "as-built", "side": "shower", "layers": layers}));
        let marks = json!([{"at": "2031-04-02T09:00:00-05:00", "drop": mm / 11.0, "control": mm / 13.0}]);
        put(
            format!("f{k}"),
            json!({"kind": "flood", "place": "shower", "depth": mm, "hours": 24, "below_looked_at": true,
            "marks": marks, "air_c": mm / 100.0}),
        );
    }
}

fn asked(app: &App, room: &str, contents: Contents, black_out: bool) -> Vec<u8> {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("record.pdf");
    app.record_to(&RecordAsk { room: room.into(), contents: Some(contents), black_out }, &path).expect("a record");
    std::fs::read(path).expect("the file")
}

/// All text of a PDF without white space, and how many pages it has.
fn read(pdf: &[u8]) -> (String, usize) {
    let document = Document::load_mem(pdf).expect("a PDF");
    let pages: Vec<u32> = document.get_pages().keys().copied().collect();
    (document.extract_text(&pages).expect("text").split_whitespace().collect(), pages.len())
}

#[test]
fn each_reader_gets_what_is_meant_for_them_and_the_room_with_it() {
    let app = app();
    let room = demo(&app, "kestrel");
    let check = |contents: Contents, says: &[&str], not: &[&str], most: usize| {
        let pdf = asked(&app, &room, contents, false);
        let (text, pages) = read(&pdf);
        let bare = |said: &&str| said.split_whitespace().collect::<String>();
        says.iter().for_each(|said| assert!(text.contains(&bare(said)), "{contents:?}: {said}\n{text}"));
        not.iter().for_each(|said| assert!(!text.contains(&bare(said)), "{contents:?}: {said}"));
        assert!(pages <= most, "{contents:?}: {pages} pages");
        assert_eq!(app::verify(&pdf).expect("it holds").entries, 1);
    };
    check(Contents::Client, &["What was found and done", "Map"], &["Heights to build to", "k = 2"], 1);
    check(Contents::Installer, &["For the tile setter", "Cut list"], &["Heights to build to"], 6);
    check(Contents::Inspector, &["For the inspector", "Verdicts"], &["Cut list"], 6);
    check(Contents::NotReady, &["Not ready", "Received"], &["Cut list", "Map"], 2);
    check(Contents::ChangeOrder, &["Change order", "Joists to sister", "Ripped strips", "Agreed"], &["Map"], 1);
    check(Contents::Label, &["For the vanity door"], &["Map", "Verdicts"], 1);
}

#[test]
fn every_reader_is_told_of() {
    let schema = serde_json::to_value(schemars::schema_for!(Contents)).expect("a schema");
    let words = |one: &serde_json::Value| match (&one["const"], &one["enum"]) {
        (serde_json::Value::String(word), _) => vec![word.clone()],
        (_, all) => all.as_array().into_iter().flatten().filter_map(|word| Some(word.as_str()?.to_owned())).collect(),
    };
    let readers: Vec<String> = schema["oneOf"].as_array().into_iter().flatten().flat_map(words).collect();
    assert!(readers.len() > 6, "{schema}");
    let help = site_tests::run(&["record", "--help"], "").stdout;
    let readme = std::fs::read_to_string(site_tests::top().join("README.md")).expect("it is there");
    for (place, text) in [("cli/src/arguments.rs", String::from_utf8_lossy(&help).into_owned()), ("README.md", readme)]
    {
        let missing: Vec<&String> = readers.iter().filter(|reader| !text.contains(*reader)).collect();
        assert!(missing.is_empty(), "--contents in {place} does not tell of {missing:?}");
    }
}

#[test]
fn a_clients_sheet_is_one_page_whatever_happened_in_the_room() {
    let app = app();
    for name in ["kestrel", "rowan", "banksia"] {
        let room = demo(&app, name);
        for k in 0..8 {
            let put = |id: String, what: serde_json::Value| {
                let entry = json!({"id": id, "at": "2031-04-02T08:00:00-05:00", "what": what});
                write(&app, &room, "entry-put", json!({ "entry": entry })).expect("kept");
            };
            put(
                format!("m{k}"),
                json!({"kind": "moisture", "substrate": "screed", "method": "carbide bomb, as told",
                "place": "beside the drain", "value": 3.1, "u": 0.1, "most": 2.0, "unit": "%", "limit_from": "its sheet"}),
            );
            put(
                format!("s{k}"),
                json!({"kind": "sign-off", "name": "R. Example", "role": "tile setter",
                "about": "Flood test seen, and everything that is said above was agreed on site",
                "strokes": [[[0.1, 0.5], [0.8, 0.7]]]}),
            );
        }
        assert_eq!(read(&asked(&app, &room, Contents::Client, false)).1, 1, "{name}");
    }
}

#[test]
fn a_blacked_out_record_keeps_its_secrets_and_proves_itself() {
    let app = app();
    let room = "secret".to_string();
    let write_private = |command: &str, value: &str, payload: &dyn Fn(String) -> serde_json::Value| {
        let Sealed { digest, salt } = app.seal(value);
        let write = Write {
            id: app.new_id(),
            room: room.clone(),
            command: command.into(),
            payload: payload(digest).to_string(),
            at: None,
            person: None,
            private: vec![PrivateText { salt, value: value.into() }],
        };
        app.write(&write).unwrap_or_else(|refusal| panic!("{command}: {refusal}"));
    };
    let (place, person, note) = ("the house with the green door", "R. Example", "the key is under the pot");
    write_private(
        "room-new",
        place,
        &|digest| json!({"name": "Hall bath", "units": "in", "place": digest, "created": "2031-04-02T07:31:05-05:00"}),
    );
    let entry = |id: &str, what: serde_json::Value| json!({"entry": {"id": id, "at": "2031-04-02T08:00:00-05:00", "what": what}});
    write_private("entry-put", person, &|digest| {
        entry("a", json!({"kind": "person", "name": digest, "role": "owner"}))
    });
    write_private("entry-put", note, &|digest| entry("b", json!({"kind": "note", "text": digest})));
    let text = |black_out| app.export_file(&ExportAsk { room: room.clone(), black_out }).expect("a file").text;
    let (open, black) = (text(false), text(true));
    for secret in [place, person, note] {
        assert!(open.contains(secret) && !black.contains(secret), "{secret}");
    }
    let proved = app::verify(black.as_bytes()).expect("it still verifies");
    assert_eq!(Some(proved.head), app.room(&room).expect("the room").head);
    let there = self::app();
    there.import_bytes("i", black.as_bytes(), None).expect("it comes in");
    let there_file = there.room_file(&room).expect("the room");
    assert_eq!((there_file.room.place.as_deref(), there_file.private.len()), (None, 0));
    // What comes in later with its private texts makes them readable again.
    there.import_bytes("j", open.as_bytes(), None).expect("the open one");
    assert_eq!(there.room_file(&room).expect("the room"), app.room_file(&room).expect("the room"));
}

#[test]
fn everything_in_one_zip_comes_back() {
    let (here, there) = (app(), app());
    let room = demo(&here, "banksia");
    let zip = here.everything_bytes(&ExportAsk { room: room.clone(), black_out: false }).expect("a ZIP");
    assert_eq!(app::verify(&zip).expect("it holds").files.len(), 6);
    import(&there, &zip).expect("taken in");
    assert_eq!(there.room_file(&room).expect("the room"), here.room_file(&room).expect("the room"));
    assert_eq!(app::verify(&zip[..zip.len() / 2]).expect_err("cut off").kind, Kind::Damaged);
}
