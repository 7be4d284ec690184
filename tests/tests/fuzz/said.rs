//! What is said of an input: it was read, or a sentence for a person on site.

use app::{Kind, Refusal};

/// How an input was answered, without what differs from one input to the next; two of the same are nothing new.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub(crate) enum Heard {
    Read(String),
    Refused(String),
}

/// The longest sentence: the names of all fields that are known may stand in it, a whole file may not.
const LONGEST: usize = 2000;

/// What only a programmer writes.
const DUMPS: [&str; 14] = [
    "Some(", "None", "Ok(", "Err(", "Error {", "struct ", " variant", "tuple", "panicked", "unwrap", "called `",
    "RefCell", "src/", "0x7f",
];

/// Kinds that are about one field of what was sent.
const OF_A_FIELD: [Kind; 5] =
    [Kind::UnknownField, Kind::MissingField, Kind::NotFinite, Kind::OutOfRange, Kind::NotUnderstood];

/// Checks a refusal and gives its shape.
pub(crate) fn refused(refusal: &Refusal, input: &[u8]) -> Heard {
    sentence(&refusal.message, input);
    let Refusal { kind, message, field, .. } = refusal;
    assert!(!matches!(kind, Kind::Internal | Kind::Io), "{kind:?}: {message}");
    let place = field.is_some() || message.contains(" column ");
    assert!(place || !OF_A_FIELD.contains(kind), "{kind:?} names no field: {message}");
    assert!(message.ends_with(['.', '?', '!', ')']), "no sentence: {message}");
    Heard::Refused(format!("{kind:?} {}", shape(field.as_deref().unwrap_or(message))))
}

/// Checks what is said to a person.
pub(crate) fn sentence(said: &str, input: &[u8]) {
    assert!(!said.trim().is_empty(), "nothing is said");
    let length = said.chars().count();
    assert!(length <= LONGEST, "{length} letters are no sentence: {}", said.chars().take(200).collect::<String>());
    let input = String::from_utf8_lossy(input);
    let dump = DUMPS.iter().find(|dump| said.contains(**dump) && !input.contains(**dump));
    assert!(dump.is_none(), "{dump:?} is for programmers: {said}");
    let path = said.split("::").skip(1).any(|rest| rest.starts_with(char::is_alphabetic));
    assert!(!path || input.contains("::"), "a path is for programmers: {said}");
}

/// A text with its numbers and names left out.
pub(crate) fn shape(text: &str) -> String {
    let quoted = |c: char| c == '"' || c == '`';
    let outside = text.split(quoted).step_by(2).collect::<Vec<_>>().join("_");
    outside.chars().filter(|c| !c.is_ascii_digit()).take(80).collect()
}
