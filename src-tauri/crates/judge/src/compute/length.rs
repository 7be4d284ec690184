//! A length as typed on site.

use super::Answer;
use crate::forms::fields;
use crate::forms::refusal::{Kind, Refusal};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use survey::length_text::{DefaultUnit, Echo, parse};
use survey::units::Length;

#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Input {
    /// As typed: `44-3/16`, `3'-4 5/8"`, `43 7/8 strong`, `1122,5 mm`.
    text: String,
    /// The unit of a number that carries none.
    #[serde(default)]
    default_unit: Unit,
    /// How much strong adds and shy takes off, in inches.
    #[serde(default = "thirty_second")]
    strong: f64,
}

#[derive(Debug, Clone, Copy, Default, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
enum Unit {
    #[default]
    In,
    Mm,
}

#[derive(Debug, Serialize, JsonSchema)]
pub struct Output {
    mm: f64,
    echo: WireEcho,
}

/// The length said back in three ways.
#[derive(Debug, Serialize, JsonSchema)]
struct WireEcho {
    fraction: String,
    decimal_in: String,
    mm: String,
}

fn thirty_second() -> f64 {
    1.0 / 32.0
}

/// # Errors
/// `not-understood` with what was not understood and where; `not-finite`, `out-of-range` for `strong`.
pub fn run(input: Input) -> Result<Answer<Output>, Refusal> {
    let unit = match input.default_unit {
        Unit::In => DefaultUnit::Inch,
        Unit::Mm => DefaultUnit::Millimetre,
    };
    fields::not_negative("strong", input.strong)?;
    let not_understood =
        |why: survey::length_text::NotUnderstood| Refusal::new(Kind::NotUnderstood, format!("{why}.")).field("text");
    let length = parse(&input.text, unit, Length::inches(input.strong)).map_err(not_understood)?;
    let echo = Echo::of(length);
    let echo = WireEcho { fraction: echo.fraction, decimal_in: echo.decimal_in, mm: echo.mm };
    Ok(Answer::new(Output { mm: length.to_mm(), echo }, Vec::new()))
}

#[cfg(test)]
mod tests {
    use crate::compute::compute;
    use crate::forms::refusal::Kind;
    use serde_json::{Value, json};

    fn mm(input: Value) -> f64 {
        let answer: Value = serde_json::from_str(&compute("length", &input.to_string()).unwrap()).unwrap();
        answer["mm"].as_f64().unwrap()
    }

    fn check_refused(input: Value, kind: Kind, field: &str) {
        let refusal = compute("length", &input.to_string()).unwrap_err();
        assert_eq!((refusal.kind, refusal.field.as_deref()), (kind, Some(field)), "{refusal}");
    }

    #[test]
    fn a_length_in_and_its_echo_out() {
        let answer = compute("length", r#"{"text":"43 7/8 strong","default_unit":"in"}"#).unwrap();
        let expected = json!({
            "mm": 43.90625 * 25.4,
            "echo": {"fraction": "43-29/32\"", "decimal_in": "43.906", "mm": "1115.2"},
            "problems": [],
        });
        assert_eq!(serde_json::from_str::<Value>(&answer).unwrap(), expected);
        assert_eq!(mm(json!({"text": "1122,5", "default_unit": "mm"})), 1122.5);
        assert_eq!(mm(json!({"text": "1 strong", "default_unit": "in", "strong": 0.0625})), 1.0625 * 25.4);
    }

    #[test]
    fn refusals_name_the_field_and_the_place() {
        check_refused(json!({"text": "44-", "default_unit": "yd"}), Kind::UnknownField, "default_unit");
        check_refused(json!({"text": "3'-14\"", "default_unit": "in"}), Kind::NotUnderstood, "text");
        check_refused(json!({"text": "44", "strong": -1.0}), Kind::OutOfRange, "strong");
        check_refused(json!({"text": "44", "sturdy": 1.0}), Kind::UnknownField, "sturdy");
        let refusal = compute("length", r#"{"text":"44 3/0","default_unit":"in"}"#).unwrap_err();
        assert_eq!(refusal.message, "“0” at character 6 was not understood: nothing can be divided into zero parts.");
    }
}
