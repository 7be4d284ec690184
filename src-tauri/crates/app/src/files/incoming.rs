//! A file that comes in: a room file, or a record that carries one.

use crate::files::drawing;
use crate::files::room_zip::unpacked;
use crate::forms::*;
use judge::forms::json;
use judge::{Kind, Refusal};
use report::{Carried, NotCarried};
use serde::de::IgnoredAny;

/// The largest room file that is read.
const MOST_TEXT: usize = 256 << 20;

/// What a file holds.
pub(crate) struct Incoming {
    /// The text of its room file.
    pub(crate) room: String,
    /// Everything it carries, by name; nothing where it is the room file itself.
    pub(crate) files: Vec<(String, Vec<u8>)>,
    /// Whether it has pages that are seen: a record.
    pub(crate) printed: bool,
    /// What is taken of it where it is a drawing.
    pub(crate) drawing: Option<DrawingLook>,
}

/// The room file in bytes of any kind; a room that is drawn is made at `now`.
///
/// # Errors
/// `not-ours` for a PDF that carries no room and for a file of another kind, `damaged` for one that cannot be read or
/// was cut off, `not-json` for anything else.
pub(crate) fn read_incoming(bytes: &[u8], now: &str) -> Result<Incoming, Refusal> {
    if let Some(files) = unpacked(bytes) {
        return of_record(files?.into_iter().map(|(name, bytes)| Carried { name, bytes }).collect(), false);
    }
    match report::carried(bytes) {
        Ok(files) => of_record(files, true),
        Err(NotCarried::NotPdf) => of_text(text(bytes)?, now),
        Err(error) => Err(Refusal::new(Kind::Damaged, format!("{error} Ask for the file again.")).field("file")),
    }
}

/// A room file, or a drawing of a room.
fn of_text(text: String, now: &str) -> Result<Incoming, Refusal> {
    match drawing::read::room(&text, now) {
        Some(drawn) => {
            let (file, look) = drawn?;
            Ok(Incoming { room: json::write(&file)?, files: Vec::new(), printed: false, drawing: Some(look) })
        }
        None => Ok(Incoming { room: whole(text)?, files: Vec::new(), printed: false, drawing: None }),
    }
}

/// The text of a room file; one of another kind, or cut off, is told as what it is.
fn whole(text: String) -> Result<String, Refusal> {
    let body = text.trim_start_matches('\u{feff}').trim_start();
    if !body.starts_with('{') {
        return Err(not_ours());
    }
    if serde_json::from_str::<IgnoredAny>(body).is_err_and(|error| error.is_eof()) {
        let message = "This file ends in the middle: it was cut off on its way. Ask for it again.";
        return Err(Refusal::new(Kind::Damaged, message).field("file"));
    }
    Ok(text)
}

fn not_ours() -> Refusal {
    let message = "This file is neither a room file nor a record of Truefall. Choose one that Truefall wrote.";
    Refusal::new(Kind::NotOurs, message).field("file")
}

fn of_record(files: Vec<Carried>, printed: bool) -> Result<Incoming, Refusal> {
    let mut rooms = files.iter().filter(|file| file.name.ends_with(".room.json"));
    match (rooms.next(), rooms.next()) {
        (Some(room), None) => {
            let room = text(&room.bytes)?;
            let files = files.into_iter().map(|file| (file.name, file.bytes)).collect();
            Ok(Incoming { room, files, printed, drawing: None })
        }
        _ => {
            let message = "This file is not a record of Truefall: it carries no room. Choose the record itself, not a print of it.";
            Err(Refusal::new(Kind::NotOurs, message).field("file"))
        }
    }
}

fn text(bytes: &[u8]) -> Result<String, Refusal> {
    if bytes.len() > MOST_TEXT {
        return Err(Refusal::out_of_range("file", "a room file of at most 256 MiB"));
    }
    let text = std::str::from_utf8(bytes).map_err(|_| not_ours())?;
    Ok(text.to_string())
}

#[cfg(test)]
mod tests {
    use super::*;

    const NOW: &str = "2031-04-02T07:31:05-05:00";

    #[test]
    fn a_file_of_another_kind_and_one_cut_off_are_told_apart() {
        for text in ["", "not a picture", "[1, 2]", "\u{feff}hello"] {
            let refusal = read_incoming(text.as_bytes(), NOW).err().unwrap();
            assert_eq!(refusal.kind, Kind::NotOurs, "{text}");
            assert!(refusal.message.contains("Choose one that Truefall wrote"), "{refusal}");
        }
        let refusal = read_incoming(br#"{"schema": "truefall.room", "room": {"#, NOW).err().unwrap();
        assert_eq!(refusal.kind, Kind::Damaged);
        assert!(refusal.message.contains("Ask for it again"), "{refusal}");
        assert!(read_incoming(b"{}", NOW).is_ok());
    }
}
