//! Rooms drawn by a seed: every reading moved, figures changed, parts of the plan taken away or turned.

use crate::bench::Bench;
use crate::{forms, rooms, views};
use rand::{Rng, RngExt, SeedableRng};
use rand_chacha::ChaCha8Rng;
use serde_json::{Value, json};

const ROOMS: u64 = 30;

#[test]
fn weathered_rooms_answer_as_before() {
    let mut bench = Bench::new("weathered", 250);
    for seed in 0..ROOMS {
        let room = format!("weathered-{seed}");
        bench.take_in(&weathered(seed), &room);
        views::opened(&mut bench, &room);
    }
    bench.book.close();
}

/// The room of a seed.
fn weathered(seed: u64) -> Value {
    let mut draw = ChaCha8Rng::seed_from_u64(seed);
    let mut file = match seed % 6 {
        0 => rooms::file("kestrel"),
        1 => rooms::file("rowan"),
        2 => rooms::file("banksia"),
        3 => rooms::deck(),
        4 => rooms::bed(),
        _ => rooms::crooked(),
    };
    let spread = [0.5, 2.0, 6.0][draw.random_range(0..3)];
    rooms::read_otherwise(&mut file, |_, value| ((value + draw.random_range(-spread..spread)) * 100.0).round() / 100.0);
    ruled(&mut file, &mut draw);
    planned(&mut file, &mut draw);
    if draw.random_bool(0.3) { rooms::in_other_units(file) } else { file }
}

fn ruled(file: &mut Value, draw: &mut impl Rng) {
    let mut changed = serde_json::Map::new();
    for (rule, least, most) in [
        ("closing", 0.2, 3.0),
        ("framing-flat", 1.0, 9.0),
        ("level", 2.0, 20.0),
        ("fall-least", 0.005, 0.02),
        ("pond-depth", 0.5, 3.0),
        ("confidence", 0.8, 0.99),
        ("strip-most", 10.0, 30.0),
        ("max-tilt", 0.001, 0.02),
    ] {
        if draw.random_bool(0.3) {
            changed.insert(rule.to_string(), json!(draw.random_range(least..most)));
        }
    }
    let falls = [
        Value::Null,
        json!("United States, accessible roll-in"),
        json!("Australia, shower"),
        json!("Australia, older: shower"),
    ];
    file["rules"] = json!({ "changed": changed, "decision": if draw.random_bool(0.4) { "simple" } else { "guarded" },
        "falls": falls[draw.random_range(0..4)], "tile": { "name": "tile", "longest_edge": draw.random_range(100.0..700.0) } });
}

fn planned(file: &mut Value, draw: &mut impl Rng) {
    let mut pick = |all: Vec<Value>| all[draw.random_range(0..all.len())].clone();
    let works = json!({ "pour": pick(forms::pours()[..4].to_vec()), "fall": pick(forms::fall_plans()[..16].to_vec()),
        "ledges": pick(forms::ledges()[..2].to_vec()), "tiling": pick(forms::tilings()[..4].to_vec()),
        "stock": pick(forms::stocks()[..3].to_vec()) });
    file["layers"] = pick(forms::layers()[..5].to_vec());
    file["works"] = works;
    if draw.random_bool(0.5) {
        file["target"] = json!({ "alternative": "held", "height": draw.random_range(-12.0..12.0) });
    }
    for joist in file["plan"]["joists"].as_array_mut().into_iter().flatten() {
        joist["sound"] = [json!(true), json!(false), Value::Null, Value::Null][draw.random_range(0..4)].clone();
    }
    if file["plan"]["drain"].is_object() && draw.random_bool(0.4) {
        let (x, y) = (draw.random_range(100.0..1400.0), draw.random_range(100.0..800.0));
        file["plan"]["drain"] = json!({ "from": [x, y], "grate": 100 });
    }
    if draw.random_bool(0.3) {
        file["plan"].as_object_mut().expect("a plan").remove("entry");
    }
    let setups = file["setups"].as_array_mut().expect("set-ups");
    if draw.random_bool(0.4) {
        setups[0].as_object_mut().expect("a set-up").remove("closing");
    }
    if draw.random_bool(0.4) {
        file["readings"].as_array_mut().expect("readings").retain(|_| draw.random_bool(0.8));
        let known: Vec<Value> =
            file["readings"].as_array().expect("readings").iter().map(|one| one["id"].clone()).collect();
        for reading in file["readings"].as_array_mut().expect("readings") {
            if reading.get("supersedes").is_some_and(|before| !known.contains(before)) {
                reading.as_object_mut().expect("a reading").remove("supersedes");
            }
        }
    }
}
