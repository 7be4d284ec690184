//! The record: what is inside it comes back equal, proves itself, and names what was altered.

use app::wire::{FileAsk, Here};
use app::{App, Kind};
use lopdf::{Document, Object};
use proptest::prelude::*;
use serde_json::json;
use site_tests::{app, demo, write};

fn record(app: &App, room: &str) -> Vec<u8> {
    app.record_pdf(room).expect("a record")
}

fn import(app: &App, bytes: &[u8]) -> Result<String, app::Refusal> {
    app.import_bytes(&app.new_id(), bytes, None).map(|imported| imported.room)
}

/// The bytes in base 64, computed apart from the program (RFC 4648, section 4, recalled).
fn base64(bytes: &[u8]) -> String {
    let letters: Vec<char> = ('A'..='Z').chain('a'..='z').chain('0'..='9').chain(['+', '/']).collect();
    let bits: String = bytes.iter().map(|byte| format!("{byte:08b}")).collect();
    let digits = bits.as_bytes().chunks(6).map(|six| format!("{:0<6}", String::from_utf8_lossy(six)));
    let mut text: String = digits.map(|six| letters[usize::from_str_radix(&six, 2).expect("bits")]).collect();
    text.extend(std::iter::repeat_n('=', (4 - text.len() % 4) % 4));
    text
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
    check(b"a letter", Kind::NotJson, "");
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
    let ask = |bytes: &[u8]| FileAsk { id: "f".into(), base64: base64(bytes), as_room: None };
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
        let pdf = record(&here, &room);
        prop_assert!(app::verify(&pdf).is_ok());
        import(&there, &pdf).expect("taken in");
        prop_assert_eq!(there.room_file(&room).expect("the room"), here.room_file(&room).expect("the room"));
    }
}
