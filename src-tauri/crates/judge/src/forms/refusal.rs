//! How a request is refused: a kind the caller can act on, and a sentence for a person on site.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use std::fmt;
use ts_rs::TS;

/// Why something was not done, and what to do about it. Nothing was changed.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema, TS)]
pub struct Refusal {
    pub kind: Kind,
    /// A sentence that says what is wrong and how to put it right.
    pub message: String,
    /// The field of the input it is about: `points[3][2]`.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    #[ts(optional)]
    pub field: Option<String>,
    /// Whether the same request may succeed if it is sent again.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    #[ts(optional)]
    pub retry: Option<bool>,
}

/// What kind of refusal it is. A kind exists only where a caller acts on it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema, TS)]
#[serde(rename_all = "kebab-case")]
pub enum Kind {
    // the input as text
    NotJson,
    UnknownField,
    MissingField,
    WrongType,
    NotUnderstood,
    // numbers
    NotFinite,
    OutOfRange,
    // geometry
    TooFewPoints,
    CoincidentPoints,
    CollinearPoints,
    DuplicatePoint,
    BadTriangle,
    NotSimple,
    OutsideBoundary,
    RuleNeedsALine,
    SpacingNotAccepted,
    // levelling
    DatumOrLinkMissing,
    // names that lead nowhere
    UnknownOperation,
    UnknownCommand,
    NotFound,
    /// The name leads to more than one.
    Ambiguous,
    // rooms and files
    AlreadyThere,
    IdReused,
    DoesNotFit,
    NewerVersion,
    WrongHeader,
    TooManyRows,
    NotReady,
    // other devices at the same rooms
    /// The device has not joined, or was turned away.
    NotJoined,
    /// The device may look, not do this.
    NotAllowed,
    /// Too much at once: a little later it may be done.
    TooOften,
    // the place where rooms are kept
    Damaged,
    NotOurs,
    Locked,
    ReadOnly,
    Full,
    Io,
    /// A mistake of the program itself.
    Internal,
}

impl Refusal {
    pub fn new(kind: Kind, message: impl Into<String>) -> Self {
        Self { kind, message: brief(message.into()), field: None, retry: None }
    }

    /// The same refusal, about this field.
    pub fn field(mut self, field: impl Into<String>) -> Self {
        self.field = Some(brief(field.into()));
        self
    }

    /// The same refusal, worth another try.
    pub fn worth_a_retry(mut self) -> Self {
        self.retry = Some(true);
        self
    }

    /// A number that cannot be a measurement.
    pub fn not_finite(field: impl Into<String>) -> Self {
        let field = field.into();
        let message = format!("{} must be a finite number that a measurement can have. Type it again.", spoken(&field));
        Self::new(Kind::NotFinite, message).field(field)
    }

    /// A number outside what the field accepts; `must` completes "must be …".
    pub fn out_of_range(field: impl Into<String>, must: &str) -> Self {
        let field = field.into();
        Self::new(Kind::OutOfRange, format!("{} must be {must}.", spoken(&field))).field(field)
    }

    /// Something the request names is not there.
    pub fn not_found(what: &str, name: &str) -> Self {
        Self::new(Kind::NotFound, format!("There is no {what} named {name:?} here."))
    }
}

/// A field as a person calls it: `entry.what.layers[2].at_drain` is "layers 3: at drain". What holds a space is spoken
/// already.
pub fn spoken(field: &str) -> String {
    if field.contains(' ') {
        return field.to_string();
    }
    let path = ["entry.what.", "entry."].iter().find_map(|outer| field.strip_prefix(outer)).unwrap_or(field);
    path.split('.').map(part).collect::<Vec<_>>().join(": ")
}

/// One step of a path, its places counted from one.
fn part(step: &str) -> String {
    let (name, places) = step.split_once('[').unwrap_or((step, ""));
    let places = places.split('[').filter_map(|place| place.strip_suffix(']')?.parse::<usize>().ok());
    let counted = places.map(|place| format!(" {}", place.saturating_add(1))).collect::<Vec<_>>().join(",");
    name.replace('_', " ") + &counted
}

/// The most letters of a sentence; the names of all requests fit in.
const MOST_LETTERS: usize = 1600;

/// A sentence of a length that can be read: of one that quotes far too much the middle is left out, since what is
/// wrong stands first and the remedy last.
fn brief(said: String) -> String {
    let length = said.chars().count();
    if length <= MOST_LETTERS {
        return said;
    }
    let (head, tail) = (MOST_LETTERS / 2, length - MOST_LETTERS / 2);
    let start: String = said.chars().take(head).collect();
    let end: String = said.chars().skip(tail).collect();
    format!("{start} \u{2026} {end}")
}

impl fmt::Display for Refusal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.message)
    }
}

impl std::error::Error for Refusal {}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_sentence_names_its_field_as_a_person_would() {
        let check = |field: &str, said: &str| {
            let refused = Refusal::out_of_range(field, "more than zero");
            assert_eq!(refused.message, format!("{said} must be more than zero."));
            assert_eq!(refused.field.as_deref(), Some(field), "the path stays beside it");
        };
        check("tile.longest_edge", "tile: longest edge");
        check("readings[3].value", "readings 4: value");
        check("entry.what.layers[2].at_drain", "layers 3: at drain");
        check("points[3][2]", "points 4, 3");
        check("Bench no. 2: depth", "Bench no. 2: depth");
        check("value", "value");
    }

    #[test]
    fn what_is_quoted_at_length_leaves_the_remedy_readable() {
        let text = "\u{bd}".repeat(50_000);
        let refusal = Refusal::new(Kind::NotUnderstood, format!("{text} is no length. Type it again.")).field(text);
        assert!(refusal.message.chars().count() < MOST_LETTERS + 4 && refusal.message.ends_with(" Type it again."));
        assert!(refusal.field.is_some_and(|field| field.chars().count() < MOST_LETTERS + 4));
        let short = "There is no room. Make one.";
        assert_eq!(Refusal::new(Kind::NotFound, short).message, short);
    }
}
