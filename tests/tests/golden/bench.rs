//! Rooms that are asked by name and JSON alone, and the book that their answers go into.

use crate::book::{Book, digest};
use app::{App, Clock};
use serde_json::{Value, json};
use std::path::Path;

/// The time of all books.
pub(crate) const NOW: &str = "2031-04-02T07:31:05-05:00";

/// A text longer than this is shown in a question by its digest.
const LONGEST_TEXT: usize = 400;

/// Rooms with their book.
pub(crate) struct Bench {
    app: App,
    pub(crate) book: Book,
    count: usize,
    /// A folder that is not to be named in the book.
    folder: Option<String>,
}

impl Bench {
    /// Rooms in memory.
    pub(crate) fn new(name: &'static str, longest: usize) -> Self {
        let app = App::in_memory(Clock::fixed(NOW, "golden")).expect("rooms in memory");
        Self { app, book: Book::new(name, longest), count: 0, folder: None }
    }

    /// Rooms in a folder.
    pub(crate) fn at(name: &'static str, longest: usize, folder: &Path) -> Self {
        let app = App::open(folder, Clock::fixed(NOW, "golden")).expect("the rooms open");
        Self { app, book: Book::new(name, longest), count: 0, folder: Some(folder.display().to_string()) }
    }

    /// A new id.
    pub(crate) fn id(&mut self) -> String {
        self.count += 1;
        format!("golden-{:04}", self.count)
    }

    /// The answer to a request, which goes into the book.
    pub(crate) fn ask(&mut self, name: &str, body: &Value) -> Result<Value, Value> {
        self.ask_as(&question(name, body), name, body)
    }

    /// The same, where the book has these words for the question.
    pub(crate) fn ask_as(&mut self, question: &str, name: &str, body: &Value) -> Result<Value, Value> {
        let answer = self.app.dispatch(name, &written(body));
        let answer = answer.map_err(|refusal| serde_json::to_string(&refusal).expect("JSON"));
        let show = |text: &String| self.shown(name, text);
        let (good, bad) = (answer.as_ref().ok().map(show), answer.as_ref().err().map(show));
        let shown = good.as_deref().ok_or(bad.as_deref().unwrap_or_default());
        self.book.put(question, shown);
        let value = |text: &str| serde_json::from_str(text).expect("an answer is JSON");
        answer.as_deref().map(value).map_err(|text| value(text))
    }

    /// The answer to a request of which the book has no more than a digest, unless it is short.
    pub(crate) fn ask_shortly(&mut self, name: &str, body: &Value) {
        let before = self.book.shorten(1_500);
        let _ = self.ask(name, body);
        self.book.shorten(before);
    }

    /// The answer to a request that is not refused; the book has no word of it.
    pub(crate) fn look(&self, name: &str, body: &Value) -> Value {
        let answer = self.app.dispatch(name, &body.to_string()).unwrap_or_else(|why| panic!("{name} {body}: {why}"));
        serde_json::from_str(&answer).expect("an answer is JSON")
    }

    /// Makes a change of a room.
    pub(crate) fn write(&mut self, room: &str, command: &str, payload: &Value) -> Result<Value, Value> {
        let id = self.id();
        self.ask("write", &json!({ "id": id, "room": room, "command": command, "payload": written(payload) }))
    }

    /// Takes a room file in as the room of this name.
    pub(crate) fn take_in(&mut self, file: &Value, room: &str) {
        let id = self.id();
        let body = json!({ "id": id, "file": written(file), "as_room": room });
        self.ask("room-import", &body).unwrap_or_else(|why| panic!("{room}: {why}"));
    }

    /// An answer as the book tells it: files by their digests, no folder of this run, nothing that another test or the
    /// machine's clock has a hand in.
    fn shown(&self, name: &str, text: &str) -> String {
        let text = self.folder.as_ref().map_or(text.to_string(), |folder| text.replace(folder, "FOLDER"));
        match serde_json::from_str::<Value>(&text) {
            Ok(answer) if name == "findings" => without_noise(&answer).to_string(),
            Ok(mut answer) if answer["drawing"].is_object() => {
                answer["room"]["created"] = json!("by the clock");
                short(&answer).to_string()
            }
            Ok(Value::Object(mut fields)) if fields.contains_key("base64") => {
                let bytes = fields.get("base64").and_then(Value::as_str).map(bytes_of).expect("base 64");
                fields.insert("base64".into(), json!(digest(&bytes)));
                in_order(fields.into_iter()).to_string()
            }
            _ => text,
        }
    }
}

/// What noise alone shows is in an answer at once where any room of this process had it drawn, so only the request that draws
/// it is held to it.
fn without_noise(value: &Value) -> Value {
    match value {
        Value::Array(all) => all.iter().map(without_noise).collect(),
        Value::Object(fields) => {
            let kept = fields.iter().filter(|(name, _)| *name != "noise_alone");
            in_order(kept.map(|(name, value)| (name.clone(), without_noise(value))))
        }
        other => other.clone(),
    }
}

/// A question as it is in a book: long texts by their digests.
pub(crate) fn question(name: &str, body: &Value) -> String {
    format!("{name} {}", short(body))
}

fn short(value: &Value) -> Value {
    match value {
        Value::String(text) if text.len() > LONGEST_TEXT => json!(digest(text.as_bytes())),
        Value::Array(all) => all.iter().map(short).collect(),
        Value::Object(fields) => in_order(fields.iter().map(|(name, value)| (name.clone(), short(value)))),
        other => other.clone(),
    }
}

/// JSON as text: its fields by their names.
pub(crate) fn written(value: &Value) -> String {
    sorted(value).to_string()
}

/// The same JSON, its fields by their names.
pub(crate) fn sorted(value: &Value) -> Value {
    match value {
        Value::Array(all) => all.iter().map(sorted).collect(),
        Value::Object(fields) => in_order(fields.iter().map(|(name, value)| (name.clone(), sorted(value)))),
        other => other.clone(),
    }
}

/// Fields by their names, whatever order the build keeps them in.
fn in_order(fields: impl Iterator<Item = (String, Value)>) -> Value {
    let mut fields: Vec<_> = fields.collect();
    fields.sort_by(|(left, _), (right, _)| left.cmp(right));
    Value::Object(fields.into_iter().collect())
}

const LETTERS: &[u8] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";

/// The bytes that base 64 stands for (RFC 4648, section 4, recalled).
pub(crate) fn bytes_of(text: &str) -> Vec<u8> {
    let digits = text.bytes().filter_map(|byte| LETTERS.iter().position(|letter| *letter == byte));
    let digits: Vec<usize> = digits.collect();
    let group = |four: &[usize]| {
        let word = four.iter().fold(0, |word, digit| word << 6 | digit) << (6 * (4 - four.len()));
        (0..four.len() - 1).map(|k| (word >> (16 - 8 * k) & 255) as u8).collect::<Vec<_>>()
    };
    digits.chunks(4).flat_map(group).collect()
}

/// The bytes in base 64.
pub(crate) fn base64(bytes: &[u8]) -> String {
    let group = |three: &[u8]| {
        let word = three.iter().fold(0, |word, byte| word << 8 | usize::from(*byte)) << (8 * (3 - three.len()));
        let letter = |k: usize| if k <= three.len() { LETTERS[word >> (18 - 6 * k) & 63] as char } else { '=' };
        [0, 1, 2, 3].map(letter)
    };
    bytes.chunks(3).flat_map(group).collect()
}

#[test]
fn bytes_come_back_from_base_64() {
    for (bytes, text) in [("", ""), ("f", "Zg=="), ("fo", "Zm8="), ("foo", "Zm9v"), ("foob", "Zm9vYg==")] {
        assert_eq!((base64(bytes.as_bytes()).as_str(), bytes_of(text)), (text, bytes.as_bytes().to_vec()));
    }
}
