//! Reading JSON so that a refusal names the field and the remedy.

use crate::forms::refusal::{Kind, Refusal};
use serde::Serialize;
use serde::de::DeserializeOwned;

/// The value in `text`.
///
/// # Errors
/// `not-finite` for NaN, Infinity and numbers too large to hold, `unknown-field`, `missing-field`, `wrong-type`, and
/// `not-json` for text that is none; each with the path of the field where there is one.
pub fn read<T: DeserializeOwned>(text: &str) -> Result<T, Refusal> {
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let mut reader = serde_json::Deserializer::from_str(text);
    let value = serde_path_to_error::deserialize(&mut reader).map_err(|error| refusal(text, &error))?;
    reader
        .end()
        .map_err(|error| Refusal::new(Kind::NotJson, format!("There is more after the end of the JSON: {error}.")))?;
    Ok(value)
}

/// The JSON of a value that is known to have one.
pub fn write<T: Serialize>(value: &T) -> Result<String, Refusal> {
    serde_json::to_string(value)
        .map_err(|error| Refusal::new(Kind::Io, format!("The answer could not be written: {error}.")))
}

fn refusal(text: &str, error: &serde_path_to_error::Error<serde_json::Error>) -> Refusal {
    let cause = error.inner();
    let said = cause.to_string();
    let path = error.path().to_string();
    let refusal = Refusal::new(kind(text, cause, &said), sentence(&path, &said));
    match named_field(&said, &path) {
        Some(field) => refusal.field(field),
        None => refusal,
    }
}

fn kind(text: &str, cause: &serde_json::Error, said: &str) -> Kind {
    if said.starts_with("number out of range") || (cause.is_syntax() && not_a_number_at(text, cause)) {
        return Kind::NotFinite;
    }
    if said.starts_with("unknown field") || said.starts_with("unknown variant") {
        return Kind::UnknownField;
    }
    if said.starts_with("missing field") {
        return Kind::MissingField;
    }
    if cause.is_data() { Kind::WrongType } else { Kind::NotJson }
}

/// Whether the parser stopped at one of the words other languages write for numbers that are none.
fn not_a_number_at(text: &str, cause: &serde_json::Error) -> bool {
    let Some(line) = text.lines().nth(cause.line().saturating_sub(1)) else { return false };
    let before = cause.column().saturating_sub(1).min(line.len());
    let word = |c: char| c.is_ascii_alphabetic() || c == '-' || c == '+';
    let start = line.get(..before).map_or(before, |head| head.trim_end_matches(word).len());
    let rest = line.get(start..).unwrap_or_default().trim_start_matches(['-', '+']);
    ["NaN", "nan", "Infinity", "inf", "Inf"].iter().any(|name| rest.starts_with(name))
}

fn sentence(path: &str, said: &str) -> String {
    let said = plain(said);
    if path.is_empty() || path == "." || path == "?" { format!("{said}.") } else { format!("{path}: {said}.") }
}

/// What only a programmer calls so, and what a person does.
const PLAIN: [(&str, &str); 6] = [
    ("struct variant ", "an object"),
    ("struct ", "an object"),
    ("tuple variant ", "a list"),
    ("tuple struct ", "a list"),
    ("enum ", "one of its names"),
    ("unit variant ", "its name alone"),
];

/// A message of the parser without the names that things have in the program.
fn plain(said: &str) -> String {
    let said = said.replacen("unknown variant", "unknown name", 1).replacen("a tuple of size", "a list of", 1);
    let Some((before, expected)) = said.rsplit_once("expected ") else { return said };
    let called = PLAIN.iter().find_map(|(start, word)| Some((expected.strip_prefix(start)?, word)));
    match called {
        Some((rest, word)) => {
            let after = rest.split_once(' ').map(|(_, after)| format!(" {after}")).unwrap_or_default();
            format!("{before}expected {word}{after}")
        }
        None => said,
    }
}

/// The field a message is about: the unknown or missing one it quotes, else the path it stopped at.
fn named_field(said: &str, path: &str) -> Option<String> {
    let quoted =
        said.split('`').nth(1).filter(|_| said.starts_with("unknown field") || said.starts_with("missing field"));
    let root = path.is_empty() || path == "." || path == "?";
    match (quoted, root) {
        (Some(name), true) => Some(name.to_string()),
        (Some(name), false) if path.ends_with(name) => Some(path.to_string()),
        (Some(name), false) => Some(format!("{path}.{name}")),
        (None, true) => None,
        (None, false) => Some(path.to_string()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde::Deserialize;

    #[derive(Debug, Deserialize)]
    #[serde(deny_unknown_fields)]
    struct Input {
        #[allow(dead_code)]
        points: Vec<(f64, f64, Option<f64>)>,
    }

    fn check(text: &str, kind: Kind, field: Option<&str>) {
        let refusal = read::<Input>(text).expect_err(text);
        assert_eq!((refusal.kind, refusal.field.as_deref()), (kind, field), "{text}: {refusal}");
    }

    #[test]
    fn every_way_to_be_wrong_has_its_kind_and_field() {
        check(r#"{"points":[[0,0,NaN]]}"#, Kind::NotFinite, Some("points[0][2]"));
        check(r#"{"points":[[0,-Infinity,1]]}"#, Kind::NotFinite, Some("points[0][1]"));
        check("{\"points\":[[0,0,1],\n[0,Infinity,1]]}", Kind::NotFinite, Some("points[1][1]"));
        check(r#"{"points":[[0,0,1e999]]}"#, Kind::NotFinite, Some("points[0][2]"));
        check(r#"{"points":[],"pionts":[]}"#, Kind::UnknownField, Some("pionts"));
        check(r#"{}"#, Kind::MissingField, Some("points"));
        check(r#"{"points":[["a",0,1]]}"#, Kind::WrongType, Some("points[0][0]"));
        check(r#"{"points":[[0,0,1]"#, Kind::NotJson, Some("points"));
        check("nonsense", Kind::NotJson, None);
    }

    #[test]
    fn nothing_is_called_by_its_name_in_the_program() {
        #[derive(Debug, Deserialize)]
        #[serde(rename_all = "kebab-case")]
        #[allow(dead_code)]
        enum Way {
            Line((f64, f64), (f64, f64)),
            Spot { at: f64 },
        }
        let said = |text: &str| read::<Way>(text).expect_err(text).message;
        assert_eq!(said(r#"{"line":5}"#), "line: invalid type: integer `5`, expected a list at line 1 column 9.");
        assert_eq!(said(r#"{"spot":5}"#), "spot: invalid type: integer `5`, expected an object at line 1 column 9.");
        assert_eq!(said(r#"{"spit":5}"#), "unknown name `spit`, expected `line` or `spot` at line 1 column 7.");
        let said = read::<Input>("5").expect_err("a number").message;
        assert_eq!(said, "invalid type: integer `5`, expected an object at line 1 column 1.");
    }

    #[test]
    fn numbers_are_read_to_the_last_bit() {
        // Positions far off on a map, where readings stand a few metres apart.
        for k in 0..1000 {
            let place = 4.5e9 + (f64::from(k) * 0.618_033_988_75).fract() * 3000.0;
            assert_eq!(read::<f64>(&format!("{place}")).ok(), Some(place), "{place}");
        }
    }

    #[test]
    fn a_byte_order_mark_is_no_mistake() {
        assert!(read::<Input>("\u{feff}{\"points\":[[0,0,null]]}").is_ok());
    }
}
