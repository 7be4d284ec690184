//! Where two answers differ first: by the path in their JSON, else by the character.

use serde_json::Value;

/// So much of a value is shown.
const SHOWN: usize = 160;

/// The place of the first difference, and what is there before and after.
pub(crate) fn difference(before: &str, after: &str) -> String {
    let marks = (before.get(..2), after.get(..2));
    if let (true, [Ok(left), Ok(right)]) = (marks.0 == marks.1, [before, after].map(json))
        && let Some(said) = in_values("", &left, &right)
    {
        return said;
    }
    let at = before.chars().zip(after.chars()).take_while(|(left, right)| left == right).count();
    let shown = |text: &str| text.chars().skip(at.saturating_sub(40)).take(SHOWN).collect::<String>();
    format!("    at character {at}\n      before: {:?}\n      now:    {:?}", shown(before), shown(after))
}

fn json(answer: &str) -> serde_json::Result<Value> {
    serde_json::from_str(answer.get(2..).unwrap_or_default())
}

fn in_values(path: &str, before: &Value, after: &Value) -> Option<String> {
    match (before, after) {
        (Value::Object(left), Value::Object(right)) => {
            let mut names: Vec<&String> = left.keys().chain(right.keys()).collect();
            names.dedup();
            names.into_iter().find_map(|name| of_two(&format!("{path}.{name}"), left.get(name), right.get(name)))
        }
        (Value::Array(left), Value::Array(right)) => {
            let most = left.len().max(right.len());
            (0..most).find_map(|k| of_two(&format!("{path}[{k}]"), left.get(k), right.get(k)))
        }
        _ if before == after => None,
        _ => Some(said_at(path, &before.to_string(), &after.to_string())),
    }
}

fn of_two(path: &str, before: Option<&Value>, after: Option<&Value>) -> Option<String> {
    let said = |value: Option<&Value>| value.map_or("nothing".to_string(), Value::to_string);
    match (before, after) {
        (Some(left), Some(right)) => in_values(path, left, right),
        _ => (before != after).then(|| said_at(path, &said(before), &said(after))),
    }
}

fn said_at(path: &str, before: &str, after: &str) -> String {
    let short = |text: &str| text.chars().take(SHOWN).collect::<String>();
    format!("    at {path}\n      before: {}\n      now:    {}", short(before), short(after))
}

#[test]
fn the_first_difference_is_found() {
    let check = |before: &str, after: &str, says: &str| {
        let said = difference(before, after);
        assert!(said.contains(says), "{said}");
    };
    check(r#"= {"a":[1,{"b":2}]}"#, r#"= {"a":[1,{"b":3}]}"#, "at .a[1].b");
    check(r#"= {"a":1}"#, r#"= {"a":1,"c":2}"#, "at .c");
    check(r#"= [1,2]"#, r#"= [1]"#, "at [1]");
    // The same values written otherwise: what is kept is the bytes.
    check(r#"= {"a":1,"b":2}"#, r#"= {"b":2,"a":1}"#, "at character 4");
    check("= height", "= heighT", "at character 7");
    check("= {}", "! {}", "at character 0");
}
