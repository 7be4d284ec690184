//! A room or a record that comes in: looked at, then taken.

use super::incoming::{Incoming, read_incoming};
use super::journal_check::verify_room;
use crate::app::App;
use crate::forms::*;
use data_encoding::BASE64;
use judge::Refusal;
use store::RoomId;

impl App {
    /// What a file would bring in, before anything is done.
    ///
    /// # Errors
    /// Whatever is wrong with the file.
    pub fn look_at_file(&self, ask: &FileAsk) -> Result<FileLook, Refusal> {
        let Incoming { room: text, drawing, .. } = read_incoming(&decoded(&ask.base64)?, &self.now())?;
        let file = RoomFile::read(&text)?;
        let fault = match &file.journal {
            Some(_) => verify_room(&text).err().map(|refusal| refusal.message),
            None => None,
        };
        let journal = file.journal.as_deref().unwrap_or_default();
        Ok(FileLook {
            here: self.standing(&file.room.id, journal)?,
            readings: file.readings.len() as u32,
            entries: journal.len() as u32,
            last: journal.last().map(|entry| entry.at.clone()),
            room: file.room,
            drawing,
            fault,
        })
    }

    /// Takes in what a file holds.
    ///
    /// # Errors
    /// As [`App::import_room`].
    pub fn import_file(&self, ask: &FileAsk) -> Result<Imported, Refusal> {
        self.import_bytes(&ask.id, &decoded(&ask.base64)?, ask.as_room.clone())
    }

    /// The same from bytes.
    ///
    /// # Errors
    /// As [`App::import_room`].
    pub fn import_bytes(&self, id: &str, bytes: &[u8], as_room: Option<String>) -> Result<Imported, Refusal> {
        let incoming = read_incoming(bytes, &self.now())?;
        self.take_carried(&RoomFile::read(&incoming.room)?, &incoming.files)?;
        let file = incoming.room;
        self.import_room(&ImportAsk { id: id.to_string(), file, as_room })
    }

    /// How the room of a journal stands to the one that is here.
    pub(crate) fn standing(&self, room: &str, journal: &[JournalEntry]) -> Result<Here, Refusal> {
        let id = RoomId::from(room);
        self.read(|read| {
            if read.rooms().get(&id)?.is_none() {
                return Ok(Here::No);
            }
            let ours = read.history(Some(&id))?;
            let same = ours.iter().zip(journal).all(|(ours, theirs)| ours.hash.to_string() == theirs.hash);
            Ok(match (same, journal.len().cmp(&ours.len())) {
                (false, _) => Here::Differs,
                (true, std::cmp::Ordering::Greater) => Here::Behind,
                (true, std::cmp::Ordering::Equal) => Here::Same,
                (true, std::cmp::Ordering::Less) => Here::Ahead,
            })
        })
    }
}

fn decoded(text: &str) -> Result<Vec<u8>, Refusal> {
    BASE64.decode(text.as_bytes()).ok().ok_or_else(|| Refusal::out_of_range("base64", "bytes in base 64"))
}
