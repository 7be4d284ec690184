//! Every question that a room can be asked without a radio, other devices, or chance.

use crate::bench::Bench;
use crate::forms;
use serde_json::{Value, json};

/// Those that name a room and nothing else.
const OF_ROOM: [&str; 15] = [
    "room",
    "findings",
    "noise-alone",
    "height",
    "build-up",
    "pour",
    "fall",
    "cutting",
    "stiffness",
    "ledges",
    "tiling",
    "rules",
    "history",
    "tests",
    "entries",
];
/// Those that name a survey too.
const OF_SURVEY: [&str; 6] = ["findings", "noise-alone", "straightedge-walk", "surface", "next-readings", "tilt-walks"];

/// Asks what a room is, as its screens do when they are opened.
pub(crate) fn opened(bench: &mut Bench, room: &str) {
    OF_ROOM.iter().for_each(|name| drop(bench.ask(name, &json!({ "room": room }))));
    let view = bench.look("room", &json!({ "room": room }));
    for survey in each(&view["surveys"], "id").into_iter().chain([json!("no-such-survey")]) {
        for name in OF_SURVEY {
            let _ = bench.ask(name, &json!({ "room": room, "survey": survey }));
        }
    }
    OF_SURVEY[2..].iter().for_each(|name| drop(bench.ask(name, &json!({ "room": room }))));
    drop(bench.ask("drain", &json!({ "room": room })));
    drop(bench.ask("drain", &json!({ "room": room, "linear": true })));
    planned(bench, room);
    for kind in ["csv", "dxf", "svg", "ics", "odt"] {
        let _ = bench.ask("drawing", &json!({ "room": room, "kind": kind }));
    }
    for black_out in [false, true] {
        let _ = bench.ask("room-export", &json!({ "room": room, "black_out": black_out }));
    }
}

/// Asks about each height that may be built to: what it takes, and what an engineer would be asked.
fn planned(bench: &mut Bench, room: &str) {
    for height in [-20.0, -3.175, 0.0, 9.525, 1e6] {
        let _ = bench.ask("height", &json!({ "room": room, "height": height }));
    }
    let Ok(view) = bench.ask("height", &json!({ "room": room })) else { return };
    for alternative in each(&view["alternatives"], "name").into_iter().chain([json!("held"), json!("no-such")]) {
        let _ = bench.ask("cutting", &json!({ "room": room, "alternative": alternative }));
        let _ = bench.ask("templates", &json!({ "room": room, "alternative": alternative }));
        for joist in ["J1", "J4", "J6", "J99"] {
            let body = json!({ "room": room, "joist": joist, "alternative": alternative });
            let _ = bench.ask("engineer", &body);
        }
    }
    let held = json!({ "room": room, "joist": "J4", "alternative": "held", "height": -2.0 });
    let _ = bench.ask("engineer", &held);
}

/// Asks what is tried out in a room: works that are typed and not kept.
pub(crate) fn tried(bench: &mut Bench, room: &str) {
    let surveys = each(&bench.look("room", &json!({ "room": room }))["surveys"], "id");
    let mut one = |name: &str, field: &str, tried: Vec<Value>| {
        for value in tried {
            let mut body = json!({ "room": room });
            body[field] = value;
            let _ = bench.ask(name, &body);
        }
    };
    one("build-up", "layers", forms::layers());
    one("pour", "pour", forms::pours());
    one("fall", "plan", forms::fall_plans());
    one("ledges", "ledges", forms::ledges());
    one("tiling", "tiling", forms::tilings());
    one("cutting", "stock", forms::stocks());
    one("pour", "survey", surveys.clone());
    for pour in &forms::pours()[..3] {
        for survey in &surveys {
            let _ = bench.ask("pour", &json!({ "room": room, "survey": survey, "pour": pour }));
        }
    }
    for linear in [false, true] {
        for at in forms::drain_places() {
            for k in [0, 16, 17] {
                let body = json!({ "room": room, "linear": linear, "at": at, "plan": forms::fall_plans()[k] });
                bench.ask_shortly("drain", &body);
            }
        }
    }
}

/// Asks what typed numbers mean in a room.
pub(crate) fn typed(bench: &mut Bench, room: &str) {
    let view = bench.look("room", &json!({ "room": room }));
    let points = each(&view["surveys"][0]["points"], "id");
    let chosen: Vec<Value> = points.iter().step_by(points.len().div_ceil(4).max(1)).cloned().collect();
    let mut entered = |setup: &str, point: &Value, texts: &[&str]| {
        for text in texts {
            let _ = bench.ask("entry", &json!({ "room": room, "setup": setup, "point": point, "text": text }));
        }
    };
    for point in chosen.iter().chain([&Value::Null]) {
        entered("S1", point, &forms::LENGTHS);
    }
    entered("S1", &json!("no-such-point"), &forms::LENGTHS[..2]);
    entered("S99", &chosen[0], &forms::LENGTHS[..2]);
    for units in ["in", "mm"] {
        for text in forms::LENGTHS {
            let _ = bench.ask("length", &json!({ "room": room, "text": text, "units": units }));
        }
    }
    for unit in ["degrees", "percent", "mm-per-m", "in-per-ft"] {
        for text in forms::TILTS {
            let _ = bench.ask("tilt", &json!({ "room": room, "text": text, "unit": unit, "foot": 600 }));
        }
    }
    let exact = json!({ "room": room, "text": "0.5", "unit": "degrees", "foot": 1219.2, "sd_degrees": 0.02 });
    let _ = bench.ask("tilt", &exact);
}

/// Asks for advice while somebody kneels there.
pub(crate) fn advised(bench: &mut Bench, room: &str) {
    let surveys = &each(&bench.look("room", &json!({ "room": room }))["surveys"], "id");
    for sd_mm in [0.05, 0.4, 0.79375, 3.0, 0.0, -1.0] {
        let _ = bench.ask("method-check", &json!({ "room": room, "sd_mm": sd_mm }));
        for survey in surveys {
            let _ = bench.ask("method-check", &json!({ "room": room, "survey": survey, "sd_mm": sd_mm }));
        }
    }
    let peg = |middle: [&str; 2], beside: [&str; 2], apart: &str, sd_mm: f64, reach: &str| json!({ "room": room, "middle": middle, "beside": beside, "apart": apart, "sd_mm": sd_mm, "reach": reach });
    for body in [
        peg(["44", "44 1/2"], ["40", "40 1/2"], "30 ft", 0.8, "10 ft"),
        peg(["44", "44 1/2"], ["40", "40 3/4"], "30 ft", 0.8, "10 ft"),
        peg(["44", "44 1/2"], ["40", "40 9/16"], "30 ft", 0.8, "40 ft"),
        peg(["1000 mm", "1010 mm"], ["900 mm", "912 mm"], "12 m", 0.3, "3 m"),
        peg(["44", "no"], ["40", "40"], "30 ft", 0.8, "10 ft"),
        peg(["44", "44"], ["40", "40"], "0", 0.8, "10 ft"),
        peg(["44", "44"], ["40", "40"], "30 ft", -1.0, "10 ft"),
    ] {
        let _ = bench.ask("two-peg", &body);
    }
    for texts in [&["44", "44 1/16", "44 1/32"][..], &["1124 mm"; 5], &["1", "2"], &["44"], &[], &["44", "x"]] {
        let _ = bench.ask("repeatability", &json!({ "room": room, "texts": texts }));
    }
    for before in surveys {
        for after in surveys {
            let _ = bench.ask("comparison", &json!({ "room": room, "before": before, "after": after }));
        }
    }
    let places = json!([[0, 0], [100, 250.5], [762, 457.2], [1800, 900], [2438.4, 2286], [-5, 10], [5000, 5000]]);
    let _ = bench.ask("places", &json!({ "room": room, "places": places }));
    let _ = bench.ask("places", &json!({ "room": room, "places": [] }));
}

/// One field of each element.
fn each(all: &Value, field: &str) -> Vec<Value> {
    all.as_array().into_iter().flatten().map(|one| one[field].clone()).collect()
}
