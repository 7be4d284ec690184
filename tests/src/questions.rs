//! One good question for every operation, to be bent by the tests.

use app::compute;
use serde_json::{Value, json};

/// A room of four by three readings with a little of everything.
pub fn grid() -> Value {
    let point = |k: usize| json!([(k % 4) as f64 * 300.0, (k / 4) as f64 * 300.0, 0.1 * (k * k % 7) as f64]);
    (0..12).map(point).collect()
}

fn joist(id: &str, x: f64, tops: Value) -> Value {
    json!({
        "id": id, "x": x, "tops": tops, "kind": "sawn", "depth": 235.0, "span": 3500.0, "first_bearing": -600.0,
        "sound": true, "approval": {"depth": 3.0, "from": 0.0, "to": 900.0},
    })
}

/// Every operation with a question it answers.
pub fn all() -> Vec<(&'static str, Value)> {
    let joists = json!({
        "station_y": [0.0, 700.0, 1400.0], "u": 0.5, "max_tilt": 0.01, "height": 4.0,
        "doorway": {"from": 0.0, "to": 300.0}, "door_budget": 6.0,
        "joists": [joist("J1", 0.0, json!([0.0, 2.0, 1.0])), joist("J2", 400.0, json!([1.0, null, -1.0])),
                   joist("J3", 800.0, json!([3.0, 0.0, 0.5]))],
    });
    let water = json!({
        "points": grid(), "drain": {"line": [[50.0, 50.0], [50.0, 500.0]]}, "open_edges": [[3, 11]],
        "minimum_fall": 0.0125, "maximum_fall": 0.02, "rule": "square-to-drain",
    });
    let mut ponds = water.clone();
    for (name, value) in [
        ("reading_sd", json!(0.5)),
        ("draws", json!(20)),
        ("seed", json!(1)),
        ("depths", json!([1, 2.5])),
        ("drain_exact", json!(true)),
    ] {
        ponds[name] = value;
    }
    let mut water = water;
    water["from"] = json!([[300.0, 200.0], [9000.0, 0.0]]);
    let sight =
        |setup: &str, point: &str, reading: f64| json!({"setup": setup, "point": point, "reading": reading, "sd": 0.5});
    vec![
        ("plane", json!({"points": grid(), "reading_sd": 0.5, "predict_at": [[100.0, 100.0]], "estimator": "huber"})),
        ("blunders", json!({"points": grid(), "reading_sd": 0.05, "significance": 0.001})),
        (
            "straightedge-line",
            json!({
                "line": [[0.0, 0.0], [300.0, 2.0], [600.0, 0.0], [900.0, 3.0], [1200.0, 1.0]], "length": 700.0,
                "definition": "resting", "limit": 2.0, "bar_sd": 0.1, "rule": "simple",
            }),
        ),
        ("straightedge-surface", json!({"points": grid(), "length": 600.0})),
        ("flatness-zone", json!({"points": grid()})),
        (
            "f-numbers",
            json!({
                "lines": [[0.0, 1.0, 2.0, 0.5, 1.0, 0.0, 3.0, 1.0, 0.0, 2.0, 1.0, 0.0, 1.5]], "spacing": 304.8,
                "reading_sd": 0.2, "confidence": 0.9,
            }),
        ),
        ("verdict", json!({"value": 1.0, "u": 0.5, "upper": 2.0, "lower": -2.0, "sd": 0.5, "margin": 0.4})),
        (
            "level-net",
            json!({
                "observations": [sight("S1", "A", 1000.0), sight("S1", "B", 1010.0), sight("S2", "B", 900.0), sight("S2", "A", 891.0)],
                "fixed": {"A": {"height": 0.0, "sd": 0.1}}, "significance": 0.001, "differences_of": [["A", "B"]],
            }),
        ),
        ("framing-plan", joists.clone()),
        ("joists", joists),
        ("drainage", water),
        ("pond-probability", ponds),
        (
            "surface",
            json!({
                "points": grid(), "at": [[100.0, 100.0], [450.0, 250.0]], "limit": 0.3,
                "method": {"kriging": {"sf": 1.5, "ell": 500.0, "sn": 0.5}},
            }),
        ),
        (
            "fill",
            json!({
                "points": grid(), "plane": {"height": 3.0, "slope_x": 0.001, "slope_y": 0.0, "at": [0.0, 0.0]},
                "density": 1.9, "reading_sd": 0.5, "level_sd": 0.2, "yield_litres": 12.0, "waste": 0.1,
            }),
        ),
        ("length", json!({"text": "44-3/16 strong", "default_unit": "in", "strong": 0.03125})),
    ]
}

/// The answer to a question that has one.
pub fn answer(operation: &str, question: &Value) -> Value {
    let said = compute(operation, &question.to_string()).unwrap_or_else(|why| panic!("{operation} {question}: {why}"));
    serde_json::from_str(&said).expect("an answer is JSON")
}

/// A number of an answer, by its path.
pub fn number(answer: &Value, path: &str) -> f64 {
    answer.pointer(path).and_then(Value::as_f64).unwrap_or_else(|| panic!("{path} in {answer}"))
}
