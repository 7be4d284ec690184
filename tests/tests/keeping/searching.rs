//! Rooms are found again by words, days and verdicts; what was built and hidden stands beside its plan and its walls.

use app::forms::{RoomsAsk, Verdict};
use app::{App, Clock};
use serde_json::json;
use site_tests::{app, demo, write};

const NOW: &str = "2031-04-02T07:31:05-05:00";

#[test]
fn rooms_are_found_by_name_place_and_day() {
    let app = app();
    for (room, name, created) in
        [("a", "Attic bath", "2031-04-02"), ("b", "Hall bath", "2031-05-07"), ("c", "Hall shower", "2032-01-01")]
    {
        let new =
            json!({"name": name, "units": "in", "place": "Kestrel Lane", "created": format!("{created}T08:00:00Z")});
        write(&app, room, "room-new", new).expect("a room");
    }
    let find = |text: &str, most: Option<u32>| {
        let view = app.find_rooms(&RoomsAsk { text: Some(text.into()), most, ..Default::default() }).expect("rooms");
        (view.rooms.iter().map(|card| card.id.clone()).collect::<Vec<_>>().concat(), view.found)
    };
    assert_eq!(find("", None), ("cba".into(), 3));
    assert_eq!(find("BATH hall", None), ("b".into(), 1));
    assert_eq!(find("kestrel 2031", None), ("ba".into(), 2));
    assert_eq!(find("hall", Some(1)), ("c".into(), 2));
    assert_eq!(find("cellar", None), (String::new(), 0));
}

#[test]
fn rooms_are_found_by_verdict_by_days_and_by_what_the_record_says() {
    let home = tempfile::tempdir().expect("a folder");
    let app = App::open(home.path(), Clock::fixed(NOW, "search")).expect("rooms");
    let (kestrel, banksia) = (demo(&app, "kestrel"), demo(&app, "banksia"));
    let new = json!({"name": "Attic", "units": "in", "place": null, "created": "2019-01-01T08:00:00Z"});
    write(&app, "attic", "room-new", new).expect("a room");
    let material = json!({"kind": "material", "thing": "membrane", "product": "Grey sheet", "batch": "B-7 12%"});
    let entry = json!({"id": "m", "at": NOW, "what": material});
    write(&app, &banksia, "entry-put", json!({"entry": entry})).expect("kept");
    let found = |ask: RoomsAsk| {
        let view = app.find_rooms(&ask).expect("rooms");
        assert_eq!(view.unjudged, 0, "three rooms are judged at once");
        view.rooms.into_iter().map(|card| card.id).collect::<Vec<_>>()
    };
    let by = |verdict| RoomsAsk { verdict: Some(verdict), ..RoomsAsk::default() };
    assert!(found(by(Verdict::Out)).contains(&kestrel));
    assert_eq!(found(by(Verdict::NotTested)), ["attic"], "nothing is judged before there is a plan");
    assert!(found(by(Verdict::Within)).is_empty());
    let text = |text: &str| RoomsAsk { text: Some(text.into()), ..RoomsAsk::default() };
    assert_eq!(
        found(text("b-7 12%")),
        std::slice::from_ref(&banksia),
        "a batch is what is looked for when one is called back"
    );
    assert!(found(text("product")).is_empty(), "the names of fields are nobody's words");
    let until = |day: &str| RoomsAsk { until: Some(day.into()), ..RoomsAsk::default() };
    assert_eq!(found(until("2019")), ["attic"]);
    let since = |day: &str| RoomsAsk { since: Some(day.into()), ..RoomsAsk::default() };
    assert!(found(since("2032")).is_empty());
    assert_eq!(app.find_rooms(&since("yesterday")).expect_err("no day").field.as_deref(), Some("since"));
    // What was judged is known to the next start, until the room changes.
    let verdicts = |app: &App| app.rooms().expect("rooms").rooms.iter().filter(|card| card.verdict.is_some()).count();
    assert_eq!(verdicts(&app), 3);
    write(&app, "attic", "room-rename", json!({"name": "Loft"})).expect("renamed");
    drop(app);
    let again = App::open(home.path(), Clock::fixed(NOW, "search")).expect("rooms");
    assert_eq!(verdicts(&again), 2);
    std::fs::write(home.path().join("standings"), b"\xff").expect("damaged");
    let again = App::open(home.path(), Clock::fixed(NOW, "search")).expect("rooms");
    assert_eq!(verdicts(&again), 0, "a damaged file says nothing");
}

#[test]
fn layers_as_built_and_what_is_hidden_stand_on_the_record_by_two_walls() {
    let app = app();
    let room = demo(&app, "rowan");
    let file = app.room_state(&room).expect("the room");
    let planned = &file.layers.as_ref().expect("layers").shower[0];
    let layers = json!([{"name": planned.name, "thickness": planned.thickness + 9.0, "u": 0.2}]);
    let built = json!({"kind": "as-built", "side": "shower", "place": "at the entry", "layers": layers});
    write(&app, &room, "entry-put", json!({"entry": {"id": "b", "at": NOW, "what": built}})).expect("kept");
    let pipe = json!({"kind": "hidden", "thing": "water-pipe", "surface": "floor", "places": [[300, 400], [300, 900]]});
    write(&app, &room, "entry-put", json!({"entry": {"id": "h", "at": NOW, "what": pipe}})).expect("kept");
    let view = app::judge::tests::entries_view(&app.room_state(&room).expect("a room"));
    assert_eq!((view.built.len(), view.built[0].lines[0].verdict), (1, Verdict::Out));
    let corner = |of: fn(&(f64, f64)) -> f64| file.plan.outline.iter().map(of).fold(f64::INFINITY, f64::min);
    let walls: Vec<f64> = view.hidden[0].places[1].from_walls.iter().map(|one| one.distance).collect();
    assert_eq!(walls, [300.0 - corner(|at| at.0), 900.0 - corner(|at| at.1)]);
    let nothing = json!({"kind": "as-built", "side": "room", "layers": []});
    let refused = write(&app, &room, "entry-put", json!({"entry": {"id": "n", "at": NOW, "what": nothing}}));
    assert_eq!(refused.expect_err("no layer").field.as_deref(), Some("entry.what.layers"));
}
