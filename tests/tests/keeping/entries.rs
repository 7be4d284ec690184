//! The tests of a room: what each comes to, what may be covered, and that it is kept, undone, and carried.

use app::forms::{Cover, TestView, TestWhy, Verdict};
use app::judge;
use app::{App, Clock, Kind};
use serde_json::{Value, json};
use site_tests::{demo, write};

const START: &str = "2031-04-02T08:00:00-05:00";

fn at(now: &str) -> App {
    App::in_memory(Clock::fixed(now, "entries")).expect("rooms in memory")
}

fn put(app: &App, room: &str, what: Value) -> Result<(), app::Refusal> {
    write(app, room, "entry-put", json!({"entry": {"id": "e1", "at": START, "what": what}})).map(drop)
}

fn tested(now: &str, what: Value) -> TestView {
    let app = at(now);
    let room = demo(&app, "kestrel");
    put(&app, &room, what).expect("kept");
    judge::tests::tests_view(&app.room_state(&room).expect("a room"), app.now()).tests.remove(0)
}

fn check(now: &str, what: Value, verdict: Verdict, why: TestWhy, cover: Cover) -> TestView {
    let view = tested(now, what.clone());
    assert_eq!((view.verdict, view.why, view.cover), (verdict, why, cover), "{what}: {}", view.sentence);
    view
}

const NEXT_DAY: &str = "2031-04-03T08:00:00-05:00";

fn flood(depth: f64, marks: Value) -> Value {
    json!({"kind": "flood", "place": "shower", "depth": depth, "hours": 24, "below_looked_at": true, "marks": marks})
}

fn mark(at: &str, drop: f64, control: Option<f64>) -> Value {
    json!({"at": at, "drop": drop, "control": control})
}

#[test]
fn a_flood_test_is_judged_beside_its_evaporation() {
    use {Cover::*, TestWhy::*, Verdict::*};
    let noon = "2031-04-02T12:00:00-05:00";
    let shallow = check(noon, flood(38.0, json!([])), Out, TooShallow, No);
    assert!(shallow.sentence.contains("less than 2"), "{}", shallow.sentence);
    let none = check(noon, flood(55.0, json!([])), NotTested, NoMark, NotYet);
    assert_eq!(none.not_before.as_deref(), Some(NEXT_DAY));
    let half = json!([mark("2031-04-02T20:00:00-05:00", 0.5, Some(0.5))]);
    check("2031-04-02T21:00:00-05:00", flood(55.0, half), NotTested, StandsOn, NotYet);
    let tight = json!([mark("2031-04-02T20:00:00-05:00", 1.0, Some(1.0)), mark(NEXT_DAY, 2.0, Some(2.0))]);
    check(NEXT_DAY, flood(55.0, tight), Within, Tight, Yes);
    let slight = json!([mark("2031-04-02T20:00:00-05:00", 1.2, Some(1.0)), mark(NEXT_DAY, 2.5, Some(2.0))]);
    check(NEXT_DAY, flood(55.0, slight), TooCloseToCall, Unsure, NotYet);
    // More looks at the water make it sure: the line has less spread.
    let looks: Vec<Value> =
        (1..=12).map(|n| mark(&format!("2031-04-03T{:02}:00:00-05:00", 7 + n / 6), 2.0, Some(2.0))).collect();
    let sure: Vec<Value> =
        (8..24).map(|hour| mark(&format!("2031-04-02T{hour:02}:30:00-05:00"), 0.1, Some(0.1))).chain(looks).collect();
    let sure = check("2031-04-03T10:00:00-05:00", flood(55.0, json!(sure)), Within, Tight, Yes);
    assert!(sure.sentence.ends_with("May be covered."), "{}", sure.sentence);
    let leak = json!([mark(NEXT_DAY, 9.0, Some(2.0))]);
    let leak = check(NEXT_DAY, flood(55.0, leak), Out, Leaks, No);
    assert_eq!(leak.value.map(|mm| (mm * 1e6).round() / 1e6), Some(7.0));
    check(NEXT_DAY, flood(55.0, json!([mark(NEXT_DAY, 9.0, None)])), TooCloseToCall, NoControl, NotYet);
    check(NEXT_DAY, flood(55.0, json!([mark(NEXT_DAY, 0.0, None)])), Within, Tight, Yes);
}

#[test]
fn a_membrane_is_not_covered_before_its_sheet_says_so() {
    use {Cover::*, TestWhy::*, Verdict::*};
    let cure = |air: f64| json!({"kind": "cure", "product": "liquid membrane", "finished": START, "hours": 12.5, "air_c": air, "least_c": 10});
    let waits = check("2031-04-02T20:29:59-05:00", cure(18.0), NotTested, StillCuring, NotYet);
    assert_eq!(waits.not_before.as_deref(), Some("2031-04-02T20:30:00-05:00"));
    assert!(waits.sentence.contains("before 2031-04-02 20:30 (UTC-05:00)"), "{}", waits.sentence);
    check("2031-04-02T20:30:00-05:00", cure(18.0), Within, Cured, Yes);
    check("2031-04-03T01:30:00Z", cure(18.0), Within, Cured, Yes);
    check("2031-04-04T08:00:00-05:00", cure(4.0), TooCloseToCall, TooCold, NotYet);
}

#[test]
fn a_heat_cable_is_held_against_its_own_label() {
    use {Cover::*, TestWhy::*, Verdict::*};
    let read = |stage: &str, ohms: f64, insulation: Option<f64>| json!({"stage": stage, "at": START, "ohms": ohms, "u": 0.2, "insulation": insulation, "volts": 500});
    let cable = |readings: Value| {
        json!({"kind": "heat-cable", "product": "mat", "label_ohms": 30, "less": 0.05, "more": 0.1,
            "insulation_least": 20, "readings": readings})
    };
    check(START, cable(json!([read("delivered", 30.1, Some(900.0))])), NotTested, StageMissing, NotYet);
    let no_earth = json!([read("delivered", 30.1, Some(900.0)), read("laid", 30.1, None)]);
    check(START, cable(no_earth), NotTested, InsulationMissing, NotYet);
    let good = json!([read("delivered", 30.1, Some(900.0)), read("laid", 30.2, Some(700.0))]);
    check(START, cable(good), Within, InBand, Yes);
    let nicked = json!([read("delivered", 30.1, Some(900.0)), read("laid", 30.2, Some(2.0))]);
    check(START, cable(nicked), Out, InsulationLow, No);
    let broken = json!([read("delivered", 30.1, Some(900.0)), read("laid", 41.0, Some(700.0))]);
    let broken = check(START, cable(broken), Out, OutOfBand, No);
    assert_eq!(broken.limit, Some(33.0));
    let near = json!([read("delivered", 28.6, Some(900.0)), read("laid", 30.0, Some(700.0))]);
    check(START, cable(near), TooCloseToCall, Unsure, NotYet);
}

#[test]
fn plain_figures_are_held_against_typed_limits() {
    use {Cover::*, TestWhy::*, Verdict::*};
    let moisture = |value: f64| {
        json!({"kind": "moisture", "substrate": "subfloor", "method": "pin meter", "place": "by the drain", "value": value,
            "u": 0.5, "most": 12, "unit": "%", "limit_from": "membrane sheet"})
    };
    check(START, moisture(10.0), Within, Dry, Yes);
    check(START, moisture(14.0), Out, Wet, No);
    check(START, moisture(11.8), TooCloseToCall, Unsure, NotYet);
    let lap = |value: f64| {
        json!({"kind": "coating", "measured": "lap", "product": "sheet membrane", "place": "corner", "value": value,
            "u": 1, "least": 50, "limit_from": "its sheet"})
    };
    check(START, lap(60.0), Within, Enough, Yes);
    check(START, lap(40.0), Out, TooLittle, No);
    let water = |stands: bool| json!({"kind": "slope-water", "place": "shower", "minutes": 10, "stands": stands});
    check(START, water(false), Within, RunsOff, Yes);
    check(START, water(true), Out, WaterStands, No);
}

#[test]
fn an_entry_is_changed_undone_and_carried() {
    let app = at(NEXT_DAY);
    let room = demo(&app, "kestrel");
    put(&app, &room, flood(55.0, json!([]))).expect("kept");
    put(&app, &room, flood(55.0, json!([mark(NEXT_DAY, 9.0, Some(2.0))]))).expect("changed");
    let why = || {
        judge::tests::tests_view(&app.room_state(&room).expect("a room"), app.now()).tests.first().map(|test| test.why)
    };
    assert_eq!(why(), Some(TestWhy::Leaks));
    app.undo(&app.new_id(), &room).expect("undone");
    assert_eq!(why(), Some(TestWhy::NoMark));
    app.undo(&app.new_id(), &room).expect("undone");
    assert_eq!(why(), None);
    put(&app, &room, flood(55.0, json!([mark(NEXT_DAY, 9.0, Some(2.0))]))).expect("kept");
    let before = app.room_file(&room).expect("the room");
    app.rebuild().expect("rebuilt");
    assert_eq!(app.room_file(&room).expect("the room"), before);
    let pdf = app.record_pdf(&room).expect("a record");
    let there = at(NEXT_DAY);
    there.import_bytes("i", &pdf, None).expect("taken in");
    assert_eq!(there.room_file(&room).expect("the room"), before);
    write(&app, &room, "entry-remove", json!({"entry": "e1"})).expect("taken off");
    assert_eq!(judge::tests::tests_view(&app.room_state(&room).expect("a room"), app.now()).tests.len(), 0);
}

#[test]
fn nonsense_is_refused_by_its_field() {
    let app = at(NEXT_DAY);
    let room = demo(&app, "kestrel");
    let check = |what: Value, kind: Kind, field: &str| {
        let refusal = put(&app, &room, what).expect_err(field);
        assert_eq!((refusal.kind, refusal.field.as_deref()), (kind, Some(field)), "{refusal}");
    };
    check(flood(0.0, json!([])), Kind::OutOfRange, "entry.what.depth");
    check(flood(55.0, json!([mark("noon", 1.0, None)])), Kind::OutOfRange, "entry.what.marks[0].at");
    check(
        json!({"kind": "photograph", "sha256": "x", "name": "a", "mime": "image/jpeg", "bytes": 1, "width": 1, "height": 1, "tape": false}),
        Kind::OutOfRange,
        "entry.what.sha256",
    );
    let refusal = write(&app, &room, "entry-remove", json!({"entry": "gone"})).expect_err("not there");
    assert_eq!(refusal.kind, Kind::NotFound);
}
