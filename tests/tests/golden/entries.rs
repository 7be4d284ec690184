//! Entries of the record, of every kind and for every outcome.

use serde_json::{Value, json};

const START: &str = "2031-04-01T07:00:00-05:00";

/// Every entry with its id.
pub(crate) fn all() -> Vec<Value> {
    let kinds = floods().into_iter().chain(cures()).chain(cables()).chain(figures()).chain(plain()).chain(behind());
    let at = |k: usize| format!("2031-04-01T{:02}:{:02}:00-05:00", 7 + k / 60, k % 60);
    kinds.enumerate().map(|(k, what)| json!({ "id": format!("e{k:02}"), "at": at(k), "what": what })).collect()
}

fn floods() -> Vec<Value> {
    let flood = |depth: f64, hours: f64, marks: Value| {
        json!({ "kind": "flood", "place": "shower", "depth": depth, "hours": hours, "below_looked_at": true,
            "marks": marks, "dam": "a curb of clay", "water_c": 16.5, "air_c": 20 })
    };
    let mark = |at: &str, drop: f64, control: Value| json!({ "at": at, "drop": drop, "control": control });
    let (evening, next) = ("2031-04-01T19:00:00-05:00", "2031-04-02T07:00:00-05:00");
    let none = Value::Null;
    vec![
        flood(38.0, 24.0, json!([])),
        flood(55.0, 24.0, json!([])),
        flood(55.0, 48.0, json!([mark(evening, 0.5, json!(0.5))])),
        flood(55.0, 24.0, json!([mark(evening, 1.0, json!(1.0)), mark(next, 2.0, json!(2.0))])),
        flood(55.0, 24.0, json!([mark(evening, 1.2, json!(1.0)), mark(next, 2.5, json!(2.0))])),
        flood(55.0, 24.0, json!([mark(next, 9.0, json!(2.0))])),
        flood(55.0, 24.0, json!([mark(next, 9.0, none.clone())])),
        flood(55.0, 24.0, json!([mark(next, 0.0, none)])),
    ]
}

fn cures() -> Vec<Value> {
    let cure = |hours: f64, air: f64| {
        json!({ "kind": "cure", "product": "liquid membrane", "batch": "L 7", "finished": START, "hours": hours,
            "air_c": air, "least_c": 10 })
    };
    vec![cure(12.5, 18.0), cure(72.0, 18.0), cure(4.0, 4.0)]
}

fn cables() -> Vec<Value> {
    let read = |stage: &str, ohms: f64, insulation: Value| json!({ "stage": stage, "at": START, "ohms": ohms, "u": 0.2, "insulation": insulation, "volts": 500 });
    let cable = |readings: Vec<Value>| {
        json!({ "kind": "heat-cable", "product": "mat", "label_ohms": 30, "less": 0.05, "more": 0.1,
            "insulation_least": 20, "readings": readings, "from_drain": 150, "sensor": "between two loops",
            "device_tested": [START] })
    };
    let delivered = |ohms: f64| read("delivered", ohms, json!(900));
    vec![
        cable(vec![delivered(30.1)]),
        cable(vec![delivered(30.1), read("laid", 30.1, Value::Null)]),
        cable(vec![delivered(30.1), read("laid", 30.2, json!(700)), read("covered", 30.1, json!(650))]),
        cable(vec![delivered(30.1), read("laid", 30.2, json!(2))]),
        cable(vec![delivered(30.1), read("laid", 41.0, json!(700)), read("tiled", 41.0, json!(700))]),
        cable(vec![delivered(28.6), read("laid", 30.0, json!(700))]),
    ]
}

fn figures() -> Vec<Value> {
    let moisture = |value: f64| {
        json!({ "kind": "moisture", "substrate": "subfloor", "method": "pin meter", "place": "by the drain",
            "value": value, "u": 0.5, "most": 12, "unit": "%", "limit_from": "membrane sheet" })
    };
    let coating = |measured: &str, value: f64| {
        json!({ "kind": "coating", "measured": measured, "product": "sheet membrane", "place": "corner",
            "value": value, "u": 1, "least": 50, "limit_from": "its sheet" })
    };
    let water = |stands: bool, deepest: Value| json!({ "kind": "slope-water", "place": "shower", "minutes": 10, "stands": stands, "deepest": deepest });
    vec![
        moisture(10.0),
        moisture(14.0),
        moisture(11.8),
        coating("lap", 60.0),
        coating("thickness", 40.0),
        coating("lap", 50.5),
        water(false, Value::Null),
        water(true, json!(2.5)),
    ]
}

fn plain() -> Vec<Value> {
    vec![
        json!({ "kind": "photograph", "sha256": "ab".repeat(32), "name": "IMG 1.jpg", "mime": "image/jpeg",
            "bytes": 1000, "width": 40, "height": 30, "taken": START, "wall": "left wall", "viewpoint": "the door",
            "tape": true }),
        json!({ "kind": "material", "thing": "membrane", "product": "sheet membrane", "batch": "B 12",
            "expires": "2032-01-31" }),
        json!({ "kind": "material", "thing": "mortar", "product": "thin mortar", "expires": "2031-04-01" }),
        json!({ "kind": "note", "text": "sha256:00" }),
        json!({ "kind": "person", "name": "sha256:01", "role": "tile setter" }),
        json!({ "kind": "sign-off", "name": "sha256:01", "role": "owner", "about": "the drain's place",
            "strokes": [[[0.1, 0.2], [0.5, 0.6]], [[0.9, 0.9], [0.8, 0.1]]] }),
    ]
}

fn behind() -> Vec<Value> {
    let hidden = |thing: &str, surface: &str, places: Value, depth: Value| json!({ "kind": "hidden", "thing": thing, "surface": surface, "places": places, "depth": depth });
    let built = |side: &str, layers: Value| json!({ "kind": "as-built", "side": side, "place": "at the entry", "layers": layers });
    vec![
        hidden("water-pipe", "floor", json!([[300, 100], [300, 800], [900, 800]]), json!(40)),
        hidden("plate", "left wall", json!([[500, 900]]), Value::Null),
        hidden("heat-cable", "floor", json!([[100, 100], [1400, 100], [1400, 200]]), json!(12)),
        hidden("other", "floor", json!([[9000, -20]]), json!(5)),
        built("room", json!([{ "name": "bed", "thickness": 3.4, "u": 0.3 }, { "name": "tile", "thickness": 9.6 }])),
        built(
            "shower",
            json!([{ "name": "bed", "thickness": 3.1 }, { "name": "tray", "thickness": 31.9, "at_drain": 12.0 },
            { "name": "membrane", "thickness": 1.6 }, { "name": "tile bed", "thickness": 3.2 },
            { "name": "mosaic", "thickness": 9.9, "u": 0.2 }, { "name": "a layer more", "thickness": 2 }]),
        ),
    ]
}
