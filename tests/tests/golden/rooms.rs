//! The rooms that are asked: the room files of the fixtures, and what is changed in them.

use serde_json::{Value, json};
use std::fs;

/// Each room file of the fixtures by the name that its room is given.
pub(crate) const ROOMS: [(&str, &str); 3] =
    [("kestrel", "kestrel-lane"), ("rowan", "rowan-street"), ("banksia", "banksia-court")];

/// A room file of the fixtures.
pub(crate) fn file(name: &str) -> Value {
    let (_, stem) = ROOMS.iter().find(|(room, _)| *room == name).expect("a room of the fixtures");
    let path = site_tests::top().join(format!("fixtures/rooms/{stem}.room.json"));
    serde_json::from_str(&fs::read_to_string(path).expect("the room file")).expect("JSON")
}

/// The same room read and printed in the other units.
pub(crate) fn in_other_units(mut file: Value) -> Value {
    let other = if file["room"]["units"] == "in" { "mm" } else { "in" };
    file["room"]["units"] = json!(other);
    file
}

/// The readings of a room, each value put through `change` with its number.
pub(crate) fn read_otherwise(file: &mut Value, mut change: impl FnMut(usize, f64) -> f64) {
    for (k, reading) in file["readings"].as_array_mut().expect("readings").iter_mut().enumerate() {
        let value = reading["value"].as_f64().expect("a value");
        reading["value"] = json!(change(k, value));
    }
}

/// Kestrel Lane as a deck: the same places, a floor in the place of bare joists.
pub(crate) fn deck() -> Value {
    let mut file = file("kestrel");
    file["plan"]["surveys"] = json!([{ "id": "joists", "name": "Deck as laid", "surface": "floor" }]);
    file["plan"]["joists"] = json!([]);
    for point in file["plan"]["points"].as_array_mut().expect("points") {
        point.as_object_mut().expect("a point").remove("joist");
    }
    read_otherwise(&mut file, |_, value| 1120.0 + (value - 1120.0) / 4.0);
    file
}

/// Rowan Street as a bed that was laid to fall: read at a grid around its drain.
pub(crate) fn bed() -> Value {
    let mut file = file("rowan");
    let place = |k: usize| ((k % 7) as f64 * 254.0, (k / 7) as f64 * 228.6);
    let fall = |(x, y): (f64, f64)| (x - 762.0).hypot(y - 457.2) / 45.0;
    let points = (0..35).map(|k| json!({ "id": format!("P{k}"), "survey": "bed", "x": place(k).0, "y": place(k).1 }));
    let readings = (0..35).map(|k| {
        let up = fall(place(k)) + if k == 9 { -3.0 } else { 0.2 * (k * k % 5) as f64 };
        json!({ "id": format!("b{k}"), "setup": "B1", "point": format!("P{k}"), "sense": "up",
            "entered": format!("{up:.1}"), "value": (up * 10.0).round() / 10.0, "sd_mm": 0.5, "source": "typed",
            "at": "2026-04-03T09:00:00-05:00" })
    });
    file["plan"]["points"] = points.collect();
    file["plan"]["surveys"] = json!([{ "id": "bed", "name": "Bed as laid", "surface": "fall" }]);
    file["readings"] = readings.collect();
    file["setups"] = json!([{ "id": "B1", "survey": "bed", "instrument": "digital level", "sd_mm": 0.5,
        "benchmark": { "name": "drain edge", "height": 0.0 },
        "opening": { "text": "0", "mm": 0.0, "at": "2026-04-03T08:59:00-05:00" } }]);
    file
}

/// A room of eleven corners with two drains, things on its floor, and joists of every kind.
pub(crate) fn crooked() -> Value {
    let mut file = file("kestrel");
    file["plan"]["outline"] = json!([
        [0, 0],
        [2438.4, 0],
        [2438.4, 1000],
        [2000, 1000],
        [2000, 1200],
        [2438.4, 1200],
        [2438.4, 2286],
        [900, 2286],
        [900, 1900],
        [0, 1900]
    ]);
    let kinds = ["sawn", "engineered", "unknown"];
    for (k, joist) in file["plan"]["joists"].as_array_mut().expect("joists").iter_mut().enumerate() {
        joist["kind"] = json!(kinds[k % 3]);
        joist["sound"] = [json!(true), json!(false), Value::Null][(k + 1) % 3].clone();
    }
    file["plan"]["fixtures"] = json!([{ "kind": "toilet", "from": [300, 300], "to": [700, 900] },
        { "kind": "vanity", "from": [1600, 0], "to": [2400, 500] }, { "kind": "tub", "from": [0, 1200], "to": [700, 1900] },
        { "kind": "other", "from": [1000, 1000], "to": [1100, 1100] }]);
    file["plan"]["drain"] = json!({ "from": [1500, 1800], "grate": 100 });
    file["plan"]["second_drain"] = json!({ "from": [200, 1850], "to": [800, 1850] });
    file["plan"]["entry"] = json!([[900, 2286], [2438.4, 2286]]);
    file["plan"]["doorway"]["budget"] = Value::Null;
    let readings = file["readings"].as_array_mut().expect("readings");
    readings.retain(|reading| reading["point"] != "J1@90" && reading["point"] != "J3@60");
    file["setups"][0].as_object_mut().expect("a set-up").remove("closing");
    file
}

/// Rowan Street with its deck so low that the joists are up in the bed.
pub(crate) fn sunk() -> Value {
    let mut file = file("rowan");
    file["layers"] = crate::forms::layers()[2].clone();
    file
}

/// Banksia Court, read along one wall alone.
pub(crate) fn row() -> Value {
    let mut file = file("banksia");
    let is_by_the_wall = |name: &Value| name.as_str().is_some_and(|name| name.ends_with("/0"));
    file["readings"].as_array_mut().expect("readings").retain(|reading| is_by_the_wall(&reading["point"]));
    file
}

/// A room that was begun and nothing more: no plan that leads anywhere, nothing read.
pub(crate) fn bare() -> Value {
    let mut file = file("banksia");
    file["setups"] = json!([]);
    file["readings"] = json!([]);
    file["plan"].as_object_mut().expect("a plan").remove("drain");
    file["plan"].as_object_mut().expect("a plan").remove("entry");
    file
}
