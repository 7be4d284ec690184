//! No input of any kind breaks an operation: it answers with finite numbers, or refuses by kind.

use app::compute::{OPERATIONS, compute};
use proptest::prelude::*;
use serde_json::{Value, json};
use site_tests::questions;

#[test]
fn every_operation_has_a_good_question() {
    let mut asked: Vec<&str> = questions::all().iter().map(|(operation, _)| *operation).collect();
    let mut known = OPERATIONS.to_vec();
    asked.sort_unstable();
    known.sort_unstable();
    assert_eq!(asked, known, "tests/src/questions.rs has one question for each operation");
    for (operation, question) in questions::all() {
        questions::answer(operation, &question);
    }
}

/// Something that does not belong where it is put.
fn odd() -> impl Strategy<Value = Value> {
    prop_oneof![
        Just(Value::Null),
        Just(json!(true)),
        Just(json!([])),
        Just(json!({})),
        Just(json!("")),
        Just(json!("sawn")),
        Just(json!([[0, 0], [1, 1]])),
        prop_oneof![Just(0.0), Just(-0.0), Just(1e-300), Just(-1.0), Just(1e15), Just(-1e15), Just(4.5e9), Just(1e300)]
            .prop_map(|x| json!(x)),
        (-1000.0f64..1000.0).prop_map(|x| json!(x)),
        (-3i64..14).prop_map(|k| json!(k)),
        prop::num::f64::NORMAL.prop_map(|x| json!(x)),
    ]
}

/// The places of a value: itself and everything inside.
fn places(value: &Value, path: String, all: &mut Vec<String>) {
    match value {
        Value::Array(inside) => inside.iter().enumerate().for_each(|(k, one)| places(one, format!("{path}/{k}"), all)),
        Value::Object(inside) => inside.iter().for_each(|(name, one)| places(one, format!("{path}/{name}"), all)),
        _ => {}
    }
    all.push(path);
}

/// The question with one place put odd, or left out.
fn bent(question: &mut Value, at: prop::sample::Index, odd: Value, gone: bool) {
    let mut all = Vec::new();
    places(question, String::new(), &mut all);
    let path = all[at.index(all.len())].clone();
    // So many draws would only take long.
    if path == "/draws" {
        return;
    }
    let (parent, name) = path.rsplit_once('/').unwrap_or(("", ""));
    match (gone, question.pointer_mut(parent)) {
        (true, Some(Value::Object(inside))) => drop(inside.remove(name)),
        (true, Some(Value::Array(inside))) => drop(name.parse().map(|k: usize| inside.remove(k))),
        _ => *question.pointer_mut(&path).expect("a place of it") = odd,
    }
}

fn check(operation: &str, text: &str) {
    match compute(operation, text) {
        Ok(answer) => {
            let answer: Value = serde_json::from_str(&answer).expect("an answer is JSON");
            assert!(answer.is_object(), "{operation} {text}: {answer}");
        }
        Err(refusal) => assert!(!refusal.message.is_empty(), "{operation} {text}"),
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(1500))]

    #[test]
    fn bent_questions(
        which in any::<prop::sample::Index>(),
        bends in prop::collection::vec((any::<prop::sample::Index>(), odd(), any::<bool>()), 1..4),
    ) {
        let all = questions::all();
        let (operation, mut question) = all[which.index(all.len())].clone();
        for (at, odd, gone) in bends {
            bent(&mut question, at, odd, gone);
        }
        check(operation, &question.to_string());
    }

    #[test]
    fn any_text(text in "\\PC{0,60}") {
        for operation in OPERATIONS {
            check(operation, &text);
            check(operation, &json!({"points": text, "text": text}).to_string());
        }
    }
}

/// Readings anywhere: on one another, in rows, far off, of any height.
fn readings() -> impl Strategy<Value = Value> {
    let place = prop_oneof![
        (0i32..4).prop_map(|k| f64::from(k) * 300.0),
        (0i32..4).prop_map(|k| 4.5e9 + f64::from(k) * 300.0),
        -2000.0f64..2000.0,
        Just(1e-4),
        Just(1e15),
    ];
    let height = prop_oneof![(-4i32..4).prop_map(f64::from), -5.0f64..5.0, Just(1e15), Just(-1e15), Just(1e-300)];
    let reading = (place.clone(), place, prop::option::weighted(0.9, height)).prop_map(|(x, y, z)| json!([x, y, z]));
    prop::collection::vec(reading, 0..20).prop_map(Value::from)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    #[test]
    fn readings_of_any_kind(points in readings(), length in prop_oneof![1.0f64..5000.0, Just(1e15), Just(1e-300)]) {
        for (operation, mut question) in questions::all() {
            if question.get("points").is_some() {
                question["points"] = points.clone();
                if question.get("length").is_some() {
                    question["length"] = json!(length);
                }
                if question.get("drain").is_some() {
                    question["drain"] = json!({"vertices": [0]});
                    question["open_edges"] = json!([]);
                    question["rule"] = json!("path");
                }
                check(operation, &question.to_string());
            }
        }
        let line: Vec<Value> = points.as_array().into_iter().flatten().map(|p| json!([p[0], p[2]])).collect();
        for definition in ["supported", "resting", "end-supported"] {
            let question = json!({"line": line, "length": length, "definition": definition, "limit": 3.0, "rule": "simple"});
            check("straightedge-line", &question.to_string());
        }
        let tops: Vec<Value> = points.as_array().into_iter().flatten().map(|p| p[2].clone()).collect();
        check("f-numbers", &json!({"lines": [tops]}).to_string());
    }
}
