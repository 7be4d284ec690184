//! Rooms in which work was done: every command, one change after the other.

use crate::bench::{Bench, NOW};
use crate::{entries, forms};
use serde_json::{Value, json};

/// A change: its command and its payload.
pub(crate) type Change = (&'static str, Value);

/// What is done in a room of this name, beside what all rooms have done to them.
pub(crate) fn changes(room: &str) -> Vec<Change> {
    let own = match room {
        "kestrel" => framing(),
        "rowan" => shower(),
        _ => bed(),
    };
    own.into_iter().chain(kept()).collect()
}

/// Makes the changes of a room, then those that its own answers lead to.
pub(crate) fn done(bench: &mut Bench, room: &str) {
    for (command, payload) in changes(room) {
        let _ = bench.write(room, command, &payload);
    }
    gauged(bench, room);
    stepped(bench, room);
    second_survey(bench, room);
    let id = bench.id();
    let _ = bench.write(room, "tick-set", &json!({ "item": "taken back", "done": true }));
    let _ = bench.ask("undo", &json!({ "id": id, "room": room }));
    let _ = bench.ask("undo", &json!({ "id": id, "room": room }));
}

fn answer(question: &str, subject: &str, answer: &str) -> Change {
    (
        "gate-set",
        json!({ "answer": { "question": question, "subject": subject, "answer": answer, "note": "looked at" } }),
    )
}

fn reading(id: &str, setup: &str, point: &str, value: f64) -> Value {
    json!({ "reading": id, "setup": setup, "point": point, "sense": "down", "entered": format!("{value} mm"),
        "value": value, "sd_mm": 0.5, "source": "typed" })
}

fn approval(id: &str, joist: &str, depth: f64) -> Value {
    json!({ "approval": { "id": id, "joist": joist, "depth": depth, "from": 0, "to": 2300, "by": "the engineer",
        "date": "2031-04-01", "reference": "sheet 2" } })
}

fn opening(setup: &str, survey: &str, mm: f64) -> Value {
    json!({ "setup": setup, "survey": survey, "instrument": "laser line and rule", "sd_mm": 0.6,
        "benchmark": { "name": "door mark", "height": 0 }, "opening": { "text": format!("{mm} mm"), "mm": mm, "at": NOW } })
}

/// What happens on bare joists.
fn framing() -> Vec<Change> {
    let mut edges = vec![reading("w1", "S2", "J2@0", 1122.0), reading("w2", "S2", "J2@0", 1125.5)];
    (edges[0]["edge"], edges[1]["edge"]) = (json!("left"), json!("right"));
    let mut again = reading("w3", "S2", "J5@30", 1127.0);
    (again["supersedes"], again["note"], again["by"]) = (json!("r19"), json!("sha256:02"), json!("sha256:03"));
    let mut twisted = reading("w6", "S2", "J3@30", 1126.0);
    twisted["edge"] = json!("right");
    edges.push(twisted);
    // Somebody else read the same point, and nobody has chosen yet.
    let mut by_another = reading("w7", "S2", "J1@30", 1123.0);
    by_another["by"] = json!("sha256:04");
    edges.push(by_another);
    let mut all: Vec<Change> = vec![
        ("room-rename", json!({ "name": "Hall bath, as worked" })),
        answer("bounce", "", "sound"),
        answer("rot", "", "sound"),
        answer("cut", "", "sound"),
        answer("cut", "J6", "unsound"),
        answer("moisture", "", "unsound"),
        answer("photograph", "", "not-looked-at"),
        answer("size", "", "sound"),
        ("gate-clear", json!({ "question": "size", "subject": "" })),
        ("setup-open", opening("S2", "joists", 1124.5)),
    ];
    all.extend(edges.into_iter().map(|edge| ("reading-add", edge)));
    all.extend([
        ("reading-add", again),
        ("reading-add", reading("w4", "S2", "J1@0", 1099.0)),
        ("reading-add", reading("w5", "S2", "J7@90", 1130.0)),
        ("readings-withdraw", json!({ "readings": ["w4"], "withdrawn": true })),
        ("setup-close", json!({ "setup": "S2", "closing": { "text": "1125.1", "mm": 1125.1, "at": NOW } })),
        ("setup-open", opening("S3", "joists", 1000.0)),
        ("setup-withdraw", json!({ "setup": "S3" })),
        ("approval-add", approval("a1", "J4", 3.175)),
        ("approval-add", approval("a2", "J1", 2.0)),
        ("approval-withdraw", json!({ "approval": "a2", "withdrawn": true })),
        ("rule-set", json!({ "rule": "closing", "value": 2.0 })),
        ("rule-set", json!({ "rule": "strip-tall-allowed", "value": 1.0 })),
        ("target-set", json!({ "target": { "alternative": "level-by-approval" } })),
        ("tick-set", json!({ "item": "J1 strip", "done": true })),
        ("tick-set", json!({ "item": "J4", "done": true })),
        ("door-set", json!({ "door": { "hall": 12.7, "build_up": 20.6375, "edge": 22.0, "gap": 6.0 } })),
    ]);
    all
}

/// What happens in a shower over joists.
fn shower() -> Vec<Change> {
    vec![
        answer("bounce", "", "sound"),
        answer("rot", "J2", "unsound"),
        ("falls-set", json!({ "falls": "United States, accessible roll-in" })),
        ("layers-set", json!({ "layers": forms::layers()[1] })),
        ("fall-plan-set", json!({ "fall": forms::fall_plans()[16] })),
        ("rule-set", json!({ "rule": "drain-hole", "value": 120.0 })),
        ("decision-set", json!({ "decision": "simple" })),
        ("target-set", json!({ "target": { "alternative": "held", "height": -18.0 } })),
    ]
}

/// What happens on a bed that is to fall.
fn bed() -> Vec<Change> {
    vec![
        ("falls-set", json!({ "falls": "Australia, older: shower" })),
        ("layers-set", json!({ "layers": forms::layers()[0] })),
        ("fall-plan-set", json!({ "fall": { "edge": "even", "origin": "centre", "rise": 25, "flow": 9 } })),
        ("rule-set", json!({ "rule": "entry-level", "value": 1.0 })),
        ("rule-set", json!({ "rule": "fall-run", "value": 500.0 })),
        ("readings-withdraw", json!({ "readings": ["r6", "r18"], "withdrawn": true })),
        ("setup-close", json!({ "setup": "S1" })),
    ]
}

/// What is kept in every room: works, and a record.
fn kept() -> Vec<Change> {
    let mut all: Vec<Change> = vec![
        ("tile-set", json!({ "tile": { "name": "12 × 24", "longest_edge": 609.6, "joint": 3.175 } })),
        ("pour-set", json!({ "pour": forms::pours()[1] })),
        ("ledges-set", json!({ "ledges": forms::ledges()[0] })),
        ("tiling-set", json!({ "tiling": forms::tilings()[0] })),
        ("stock-set", json!({ "stock": forms::stocks()[0] })),
        ("room-archive", json!({ "at": NOW })),
        ("room-archive", json!({})),
    ];
    all.extend(entries::all().into_iter().map(|entry| ("entry-put", json!({ "entry": entry }))));
    all.push(("entry-remove", json!({ "entry": "e01" })));
    all
}

/// Lays the bar where the heights say, and tries a gauge at each place.
fn gauged(bench: &mut Bench, room: &str) {
    let Ok(walk) = bench.ask("straightedge-walk", &json!({ "room": room })) else { return };
    for (k, place) in walk["placements"].as_array().into_iter().flatten().enumerate() {
        let gauge = &walk["gauges"][k % 5];
        let payload = json!({ "reading": format!("gap-{k}"), "setup": "", "point": place["point"], "sense": "gap",
            "entered": format!("{gauge} mm"), "value": gauge, "sd_mm": walk["sd_mm"], "source": "typed",
            "length": place["bar"], "to": place["to"], "note": if k == 2 { json!("rocks") } else { Value::Null } });
        let _ = bench.write(room, "reading-add", &payload);
    }
}

/// Walks with a tilting foot: from one point there and back, from another to the next one, from a third to nowhere.
fn stepped(bench: &mut Bench, room: &str) {
    let points = bench.look("room", &json!({ "room": room }))["surveys"][0]["points"].clone();
    let walks = [(0, 0.4, &[1.0, 2.0, 1.0, 0.0][..]), (1, 0.5, &[1.0, 2.0]), (2, 0.3, &[1.0, 2.0])];
    for (k, (from, share, rests)) in walks.into_iter().enumerate() {
        let place = |k: usize| ["x", "y"].map(|name| points[k][name].as_f64().expect("a place"));
        let (start, next) = (place(from), place(from + 1));
        let way = [0, 1].map(|axis| (next[axis] - start[axis]) * share);
        for (step, rest) in rests.iter().enumerate() {
            let tilt = [0.4, -0.3, 0.2, -0.35][step];
            let to = json!([start[0] + way[0] * rest, start[1] + way[1] * rest]);
            let payload = json!({ "reading": format!("tilt-{k}-{step}"), "setup": "", "point": points[from]["id"],
                "sense": "tilt", "entered": format!("{tilt}\u{b0}"), "value": f64::to_radians(tilt).tan(), "sd_mm": 0.5,
                "source": "typed", "length": way[0].hypot(way[1]), "to": to,
                "note": if step > 1 { json!("back") } else { Value::Null } });
            let _ = bench.write(room, "reading-add", &payload);
        }
    }
}

/// Reads the same places once more for a second survey, from a table.
fn second_survey(bench: &mut Bench, room: &str) {
    let mut plan = bench.look("room", &json!({ "room": room }))["plan"].clone();
    let surface = if plan["surveys"][0]["surface"] == "framing" { "floor" } else { "fall" };
    plan["surveys"]
        .as_array_mut()
        .expect("surveys")
        .push(json!({ "id": "after", "name": "After", "surface": surface }));
    let points: Vec<Value> = plan["points"].as_array().expect("points").clone();
    let mut table =
        "point,sense,setup,reading_mm,sd_mm,time\nBM,down,A1,1100,0.4,2031-04-02T06:00:00-05:00\n".to_string();
    for (k, mut point) in points.into_iter().enumerate() {
        let id = format!("A{k}");
        let fall = point["x"].as_f64().expect("x") / 72.0;
        let down = 1100.0 - if surface == "fall" { fall } else { 12.0 } + 0.3 * (k * k % 7) as f64;
        table += &format!("{id},down,A1,{down:.2},0.4,2031-04-02T06:{:02}:00-05:00\n", k % 60);
        point["id"] = json!(id);
        point["survey"] = json!("after");
        point.as_object_mut().expect("a point").remove("joist");
        plan["points"].as_array_mut().expect("points").push(point);
    }
    table += "BM,down,A1,1100.3,0.4,2031-04-02T06:59:00-05:00\n";
    plan["fixtures"] = json!([{ "kind": "toilet", "from": [300, 300], "to": [600, 500] }]);
    let _ = bench.write(room, "plan-set", &json!({ "plan": plan }));
    let (first, second) = (bench.id(), bench.id());
    let body = |id: &str, csv: &str| json!({ "id": id, "room": room, "csv": csv });
    let _ = bench.ask("readings-look", &body(&first, &table));
    let _ = bench.ask("readings-import", &body(&first, &table));
    let _ = bench.ask("readings-look", &body(&second, &table));
    for wrong in [
        "",
        "point,height\nA,1\n",
        "point,sense,setup,reading_mm\nA0,down,Z9,1\n",
        "point,sense,setup,reading_mm\nBM,down,Z9,1\nA0,down,Z9,x\n",
    ] {
        let _ = bench.ask("readings-look", &body(&second, wrong));
        let _ = bench.ask("readings-import", &body(&second, wrong));
    }
}
