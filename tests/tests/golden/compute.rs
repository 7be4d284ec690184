//! The core without any room: each operation on its good question, bent in every way, and on what cannot be computed.

use crate::bench::written;
use crate::bent::bent;
use crate::book::Book;
use serde_json::{Value, json};
use site_tests::questions;

/// An answer longer than this is kept as its digest, where the question was bent.
const LONGEST: usize = 6_000;

fn ask(book: &mut Book, operation: &str, question: &str) {
    ask_as(book, &format!("compute {operation} {question}"), operation, question);
}

fn ask_as(book: &mut Book, said: &str, operation: &str, question: &str) {
    let answer = app::compute(operation, question).map_err(|why| serde_json::to_string(&why).expect("JSON"));
    book.put(said, answer.as_deref().map_err(String::as_str));
}

#[test]
fn operations_answer_as_before() {
    let mut book = Book::new("compute", LONGEST);
    for (operation, question) in questions::all() {
        ask(&mut book, operation, &written(&question));
        for text in ["", "{", "{}", "[]", "null"] {
            ask(&mut book, operation, text);
        }
        let text = written(&question);
        ask(&mut book, operation, &(text.clone() + "x"));
        for (from, to) in [("0.5", "NaN"), ("0.5", "1e999"), ("0.5", "-Infinity"), ("300.0", "1e308")] {
            ask(&mut book, operation, &text.replacen(from, to, 1));
        }
        for other in otherwise(&question) {
            ask(&mut book, operation, &written(&other));
        }
    }
    ask(&mut book, "no-such-operation", "{}");
    book.close();
}

#[test]
fn bent_operations_answer_as_before() {
    let mut book = Book::new("bent-compute", 200);
    for (operation, question) in questions::all() {
        for (said, question) in bent(&question) {
            ask_as(&mut book, &format!("bent {operation} where {said}"), operation, &written(&question));
        }
    }
    book.close();
}

/// The same question with other points, other places, other choices.
fn otherwise(question: &Value) -> Vec<Value> {
    let mut all = Vec::new();
    let mut with = |field: &str, values: &[Value]| {
        if question.get(field).is_some() || ["boundary", "triangles", "reading_sd"].contains(&field) {
            all.extend(values.iter().map(|value| {
                let mut other = question.clone();
                other[field] = value.clone();
                other
            }));
        }
    };
    let line: Value = (0..5).map(|k| json!([k as f64 * 100.0, k as f64 * 70.0, 1.0])).collect();
    let heap: Value = (0..4).map(|k| json!([5.0, 5.0, k])).collect();
    let far: Value =
        (0..12).map(|k| json!([4.5e9 + (k % 4 * 300) as f64, 2.7e9 + (k / 4 * 300) as f64, k % 5])).collect();
    let mut missing = questions::grid();
    missing[5][2] = Value::Null;
    let mut twice = questions::grid();
    twice.as_array_mut().expect("points").push(json!([300.0, 300.0, 4.0]));
    with("points", &[line, heap, far, missing, twice, json!([]), json!([[0, 0, 0], [1, 0, 0]])]);
    let square = json!([[0, 0], [900, 0], [900, 600], [0, 600]]);
    let crossed = json!([[0, 0], [900, 600], [900, 0], [0, 600]]);
    with("boundary", &[square, crossed, json!([[5000, 0], [6000, 0], [6000, 900]])]);
    with("triangles", &[json!([[0, 1, 4], [1, 5, 4]]), json!([[0, 1, 99]]), json!([[0, 1, 4], [0, 1, 5]])]);
    with(
        "drain",
        &[
            json!({ "point": [100, 100] }),
            json!({ "vertices": [0] }),
            json!({ "vertices": [] }),
            json!({ "point": [5000, 0] }),
        ],
    );
    with("reading_sd", &[json!(0.5), json!(0), json!(-1)]);
    with("rule", &["path", "square-to-drain", "simple", "guarded"].map(|rule| json!(rule)));
    with("definition", &["resting", "supported", "end-supported"].map(|one| json!(one)));
    with("estimator", &["least-squares", "huber", "orthogonal"].map(|one| json!(one)));
    with("method", &["linear", "nearest"].map(|one| json!(one)));
    with("spacing", &[json!(300), json!(305.1), json!(914.4)]);
    with("fixed", &[json!({}), json!({ "A": { "height": 0, "sd": 0 }, "B": { "height": 9, "sd": 0.2 } })]);
    with("text", &crate::forms::LENGTHS.map(|text| json!(text)));
    with("default_unit", &["mm", "cm", "m", "ft"].map(|unit| json!(unit)));
    all
}
