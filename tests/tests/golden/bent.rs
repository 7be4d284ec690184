//! Questions with one thing wrong in each: a field that is missing, null, of another type, or beyond all measure.

use crate::bench::{Bench, sorted, written};
use crate::{forms, rooms, works};
use serde_json::{Value, json};
use std::collections::BTreeSet;

/// Of a list so many elements are bent.
const FIRST: usize = 1;

/// Each way to bend a question at one place: what was done to it, and the question then.
pub(crate) fn bent(question: &Value) -> Vec<(String, Value)> {
    let question = &sorted(question);
    let mut all = Vec::new();
    for path in paths(question, String::new()) {
        for value in [Value::Null, json!(-1.0), json!(1e9), json!("x")] {
            let (said, mut other) = (format!("{path} is {value}"), question.clone());
            *other.pointer_mut(&path).expect("a place") = value;
            all.push((said, other));
        }
        all.extend(without(question, &path).map(|other| (format!("{path} is missing"), other)));
    }
    if let Value::Object(fields) = question {
        let more = fields.clone().into_iter().chain([("reeding".to_string(), json!(1))]);
        all.push(("/reeding is 1".to_string(), Value::Object(more.collect())));
    }
    all.retain(|(_, one)| one != question);
    all
}

/// Every place of a question but its top, as JSON pointers.
fn paths(value: &Value, here: String) -> Vec<String> {
    let below = match value {
        Value::Object(fields) => fields.iter().map(|(name, value)| (format!("{here}/{name}"), value)).collect(),
        Value::Array(all) => {
            all.iter().take(FIRST).enumerate().map(|(k, value)| (format!("{here}/{k}"), value)).collect()
        }
        _ => Vec::new(),
    };
    below.into_iter().flat_map(|(path, value)| [path.clone()].into_iter().chain(paths(value, path))).collect()
}

/// The question without one of its fields.
fn without(question: &Value, path: &str) -> Option<Value> {
    let (parent, name) = path.rsplit_once('/')?;
    let mut other = question.clone();
    other.pointer_mut(parent)?.as_object_mut()?.remove(name)?;
    Some(other)
}

/// Changes that are bent are refused as before, or taken and taken back.
#[test]
fn bent_changes_are_answered_as_before() {
    let mut bench = Bench::new("bent-changes", 300);
    let mut seen = BTreeSet::new();
    for room in ["kestrel", "rowan", "banksia"] {
        bench.take_in(&rooms::file(room), room);
        let before = ("room-new", json!({ "name": "Bath", "units": "in", "created": crate::bench::NOW }));
        for (command, payload) in [before].into_iter().chain(works::changes(room)) {
            // Each command is bent once, each kind of entry too.
            let what = format!("{command} {}", payload["entry"]["what"]["kind"]);
            let bent = if seen.insert(what.clone()) { bent(&payload) } else { Vec::new() };
            for (said, payload) in bent {
                let (id, again, payload) = (bench.id(), bench.id(), written(&payload));
                let body = json!({ "id": id, "room": room, "command": command, "payload": payload });
                if bench.ask_as(&format!("bent write {what} where {said}"), "write", &body).is_ok() {
                    let _ = bench.ask("undo", &json!({ "id": again, "room": room }));
                }
            }
            let begun = format!("{room}-begun");
            let _ = bench.write(if command == "room-new" { &begun } else { room }, command, &payload);
        }
    }
    for nonsense in ["no-such-command", "room-import", "readings-import", "import-withdraw"] {
        for payload in [json!({}), json!({ "file": "{}" }), json!({ "setups": [], "readings": [] }), json!([])] {
            let _ = bench.write("kestrel", nonsense, &payload);
        }
    }
    bench.book.close();
}

/// Requests that are bent.
#[test]
fn bent_questions_are_answered_as_before() {
    let mut bench = Bench::new("bent-questions", 250);
    for room in ["kestrel", "rowan"] {
        bench.take_in(&rooms::file(room), room);
    }
    for (name, body) in questions() {
        let _ = bench.ask(name, &body);
        for (said, body) in bent(&body) {
            let _ = bench.ask_as(&format!("bent {name} where {said}"), name, &body);
        }
    }
    for (name, body) in plain_questions() {
        let _ = bench.ask(name, &body);
    }
    bench.book.close();
}

/// Room files with one thing wrong in each, taken in as a second room or refused.
#[test]
fn bent_room_files_are_answered_as_before() {
    let mut bench = Bench::new("bent-rooms", 300);
    for room in ["kestrel", "rowan"] {
        let mut file = rooms::file(room);
        let mut seen = BTreeSet::new();
        let kept = works::changes(room).into_iter().filter(|(command, _)| *command == "entry-put");
        let first = kept.filter(|(_, payload)| seen.insert(payload["entry"]["what"]["kind"].to_string()));
        let entries: Vec<Value> = first.map(|(_, payload)| payload["entry"].clone()).collect();
        file["entries"] = entries.iter().take(1).cloned().collect();
        file["works"] = json!({ "pour": forms::pours()[1], "fall": forms::fall_plans()[16], "tiling": forms::tilings()[0],
            "ledges": forms::ledges()[0], "stock": forms::stocks()[0] });
        file["rules"] = json!({ "changed": { "closing": 2.0 }, "decision": "simple", "falls": "Australia, shower" });
        file["approvals"] = json!([{ "id": "a1", "joist": "J2", "depth": 3.175, "from": 0, "to": 900, "by": "the engineer",
            "date": "2031-04-03", "reference": "sheet 2" }]);
        file["gate"] = json!([{ "question": "cut", "subject": "", "answer": "sound" }]);
        let mut all = if room == "kestrel" { bent(&file) } else { Vec::new() };
        for entry in &entries {
            file["entries"] = json!([entry]);
            let told = bent(&file).into_iter().filter(|(said, _)| room == "rowan" && said.starts_with("/entries"));
            all.extend(told.map(|(said, file)| (format!("{said} of {}", entry["what"]["kind"]), file)));
        }
        for (k, (said, file)) in all.into_iter().enumerate() {
            let body = json!({ "id": format!("{room}-{k}"), "file": written(&file), "as_room": format!("{room}-{k}") });
            let _ = bench.ask_as(&format!("bent {room} where {said}"), "room-import", &body);
        }
    }
    bench.book.close();
}

fn questions() -> Vec<(&'static str, Value)> {
    let (kestrel, rowan) = ("kestrel", "rowan");
    vec![
        ("findings", json!({ "room": kestrel, "survey": "joists" })),
        ("height", json!({ "room": kestrel, "height": 1.0 })),
        ("entry", json!({ "room": kestrel, "setup": "S1", "point": "J1@0", "text": "44" })),
        ("length", json!({ "room": kestrel, "text": "44", "units": "in" })),
        ("build-up", json!({ "room": rowan, "layers": forms::layers()[1] })),
        ("pour", json!({ "room": kestrel, "survey": "joists", "pour": forms::pours()[3] })),
        ("fall", json!({ "room": rowan, "plan": forms::fall_plans()[16] })),
        ("drain", json!({ "room": rowan, "linear": true, "at": [762, 457.2], "plan": forms::fall_plans()[17] })),
        ("cutting", json!({ "room": kestrel, "alternative": "level-nothing-cut", "stock": forms::stocks()[0] })),
        ("ledges", json!({ "room": rowan, "ledges": forms::ledges()[0] })),
        ("tiling", json!({ "room": rowan, "tiling": forms::tilings()[0] })),
        ("method-check", json!({ "room": kestrel, "survey": "joists", "sd_mm": 0.4 })),
        (
            "two-peg",
            json!({ "room": kestrel, "middle": ["44", "44 1/2"], "beside": ["40", "40 1/2"], "apart": "30 ft",
            "sd_mm": 0.8, "reach": "10 ft" }),
        ),
        ("tilt", json!({ "room": kestrel, "text": "0.5", "unit": "degrees", "foot": 600, "sd_degrees": 0.05 })),
        ("repeatability", json!({ "room": kestrel, "texts": ["44", "44 1/16", "44 1/32"] })),
        ("comparison", json!({ "room": kestrel, "before": "joists", "after": "joists" })),
        ("engineer", json!({ "room": kestrel, "joist": "J4", "alternative": "level-by-approval", "height": 1.0 })),
        ("places", json!({ "room": kestrel, "places": [[0, 0], [100, 250]] })),
        ("record", json!({ "room": "no-such-room", "contents": "full", "black_out": false })),
        ("drawing", json!({ "room": kestrel, "kind": "csv" })),
    ]
}

/// What is asked once as it is: the other devices that are not there, and names that lead nowhere.
fn plain_questions() -> Vec<(&'static str, Value)> {
    vec![
        ("recover", json!({})),
        ("crew", json!({})),
        ("crew-open", json!({ "at": [], "minutes": 60, "role": "read" })),
        ("crew-close", json!({})),
        ("crew-draw", json!({ "role": "read" })),
        ("crew-change", json!({ "member": "m", "role": "read" })),
        ("crew-revoke", json!({ "member": "m" })),
        ("crew-here", json!({})),
        ("demo", json!({ "name": "no-such-demo", "id": "d" })),
        ("no-such-request", json!({})),
    ]
}

#[test]
fn a_question_is_bent_at_every_place() {
    let all = bent(&json!({ "a": [1, 2, 3], "b": { "c": "y" } }));
    assert_eq!(all.len(), 4 * 4 + 3 + 1, "four places, three fields, one field too many: {all:?}");
    let contains =
        |said: &str, question: Value| assert!(all.contains(&(said.to_string(), question)), "{said}: {all:?}");
    contains("/b/c is missing", json!({ "a": [1, 2, 3], "b": {} }));
    contains("/a/0 is null", json!({ "a": [null, 2, 3], "b": { "c": "y" } }));
}
