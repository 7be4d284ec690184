//! Many rooms, for what must stay quick among them.

use app::App;
use app::forms::ImportAsk;
use serde_json::json;

/// Takes in so many rooms of a hundred readings each.
pub fn many_rooms(app: &App, count: usize) {
    for n in 0..count {
        let ask = ImportAsk { id: format!("i{n}"), file: room_file(n), as_room: None };
        app.import_room(&ask).expect("a room");
    }
}

/// A room of a hundred readings, one of many.
fn room_file(n: usize) -> String {
    let points: Vec<_> = (0..100)
        .map(|k| json!({"id": format!("P{k}"), "survey": "floor", "x": (k % 10) * 100, "y": (k / 10) * 100}))
        .collect();
    let readings: Vec<_> = (0..100)
        .map(|k| {
            json!({"id": format!("r{k}"), "setup": "S1", "point": format!("P{k}"), "sense": "down", "entered": "1120",
            "value": 1120.0 + (k % 7) as f64 / 10.0, "sd_mm": 0.5, "source": "typed", "at": "2031-04-02T08:00:00Z"})
        })
        .collect();
    let setup = json!({"id": "S1", "survey": "floor", "instrument": "laser", "sd_mm": 0.5,
        "benchmark": {"name": "sill", "height": 0}, "opening": {"text": "1120", "mm": 1120, "at": "2031-04-02T08:00:00Z"}});
    let plan = json!({"outline": [[0, 0], [1000, 0], [1000, 1000], [0, 1000]], "base_wall": "door wall",
        "side_wall": "left wall", "surveys": [{"id": "floor", "name": "floor", "surface": "floor"}], "points": points});
    let room = json!({"id": format!("room{n}"), "name": format!("Bath {n}"), "units": "mm", "created": "2031-04-02T08:00:00Z"});
    json!({"schema": 1, "room": room, "plan": plan, "setups": [setup], "readings": readings}).to_string()
}
