//! A room goes out as one file and comes in again.

use crate::app::{App, apply, record};
use crate::commands::check_file;
use crate::fault::Fault;
use crate::files::file_name::file_name;
use crate::files::journal_check::verify_room;
use crate::files::journal_entries::{chain_hash, entry_out, recorded};
use crate::forms::*;
use crate::rooms::private::each_of_room;
use crate::rooms::redact::black_out;
use crate::rooms::salt::salt;
use crate::rooms::sealing::Sealing;
use crate::rooms::{read_private, read_room, read_sealed};
use judge::forms::json;
use judge::{Kind, Refusal};
use store::{ChainHash, Entry, Read, RoomId, Tx};

impl App {
    /// The room as one JSON document, with its journal.
    ///
    /// # Errors
    /// `not-found` if there is no such room.
    pub fn export_room(&self, room: &str) -> Result<FileText, Refusal> {
        written(&self.room_file(room)?)
    }

    /// The same, without its private texts where that is asked for.
    ///
    /// # Errors
    /// As [`App::export_room`], and `not-ready` where something private stands in the journal in plain words.
    pub fn export_file(&self, ask: &ExportAsk) -> Result<FileText, Refusal> {
        written(&self.file_as_asked(&ask.room, ask.black_out)?)
    }

    pub(crate) fn file_as_asked(&self, room: &str, blacked_out: bool) -> Result<RoomFile, Refusal> {
        if !blacked_out {
            return self.room_file(room);
        }
        let id = RoomId::from(room);
        let (sealed, journal) = self.read(|read| Ok((read_sealed(read, &id)?, journal(read, &id)?)))?;
        black_out(RoomFile { journal: Some(journal), ..sealed })
    }
}

/// The text of a room file, and its name.
pub(crate) fn written(file: &RoomFile) -> Result<FileText, Refusal> {
    let text = serde_json::to_string_pretty(file)
        .map_err(|error| Refusal::new(Kind::Internal, format!("The room could not be written: {error}.")))?;
    Ok(FileText { name: format!("{}.room.json", file_name(&file.room.name)), text: text + "\n" })
}

impl App {
    /// The room with its journal and private texts.
    ///
    /// # Errors
    /// `not-found` if there is no such room.
    pub fn room_file(&self, room: &str) -> Result<RoomFile, Refusal> {
        let id = RoomId::from(room);
        self.read(|read| {
            let file = read_room(read, &id)?;
            let journal = journal(read, &id)?;
            let private = read_private(read, &journal)?;
            Ok(RoomFile { journal: Some(journal), private, ..file })
        })
    }

    /// Takes a room file in: with its journal entry by entry, without one as a single change.
    ///
    /// # Errors
    /// `newer-version`, `already-there`, `does-not-fit` where journal and statement disagree, also of a file that is to
    /// be a second room, or what is wrong with the file's form; nothing was changed then.
    pub fn import_room(&self, ask: &ImportAsk) -> Result<Imported, Refusal> {
        let file = RoomFile::read(&ask.file)?;
        check_file(&file)?;
        let room = ask.as_room.clone().unwrap_or_else(|| file.room.id.clone());
        let readings = file.readings.len() as u32;
        match (&file.journal, &ask.as_room) {
            (Some(_), None) => self.replay(&file)?,
            (Some(journal), Some(_)) => {
                verify_room(&ask.file)?;
                let origin = journal.last().map(|last| chain_hash(last.seq, &last.hash)).transpose()?;
                self.import_as_stated(&ask.id, &room, file, origin)?;
            }
            (None, _) => self.import_as_stated(&ask.id, &room, file, None)?,
        }
        Ok(Imported { room, readings })
    }

    /// Opens a copy of a demo room under a new id.
    ///
    /// # Errors
    /// `not-found` where there is no such demo room.
    pub fn open_demo(&self, ask: &DemoAsk) -> Result<Imported, Refusal> {
        let file = judge::demo::text(&ask.name)?.to_string();
        self.import_room(&ImportAsk { id: ask.id.clone(), file, as_room: Some(format!("room-{}", ask.id)) })
    }

    /// Takes the room of a file in as one change, its private texts sealed; `origin` is where another journal ended.
    fn import_as_stated(&self, id: &str, room: &str, file: RoomFile, origin: Option<ChainHash>) -> Result<(), Refusal> {
        let mut stated = RoomFile { journal: None, private: Vec::new(), ..file };
        let mut sealing = Sealing::of(self, id)?;
        each_of_room(&mut stated, &mut |_, text| sealing.seal(text))?;
        let payload = json::write(&RoomImport { file: json::write(&stated)? })?;
        let entry = Entry::new(id, &self.clock.now(), self.device(), "room-import", payload);
        let entry = Entry { origin, ..entry.in_room(&RoomId::from(room)) };
        let written = self.change(|tx| {
            sealing.keep(tx)?;
            record(tx, entry)
        })?;
        self.tell(room, written);
        Ok(())
    }

    /// Takes over the entries of a file that are not here yet.
    ///
    /// # Errors
    /// As [`App::import_room`].
    pub(crate) fn replay(&self, file: &RoomFile) -> Result<(), Refusal> {
        let journal = file.journal.as_deref().unwrap_or_default();
        let id = RoomId::from(file.room.id.as_str());
        let seq = self.change(|tx| {
            check_not_diverged(tx, &id, journal)?;
            for text in &file.private {
                tx.keep_private(&salt(&text.salt)?, &text.value)?;
            }
            for entry in journal {
                let recorded = recorded(entry, &id)?;
                if !tx.append_as_is(&recorded)?.repeat {
                    apply(tx, &recorded.entry, false)?;
                }
            }
            check_as_stated(tx, &id, file)?;
            Ok(tx.head(Some(&id))?.seq)
        })?;
        self.tell(&file.room.id, Written { id: String::new(), seq, repeat: false });
        Ok(())
    }
}

/// A room that is here already may only be continued, not contradicted.
fn check_not_diverged(tx: &Tx<'_>, id: &RoomId, journal: &[JournalEntry]) -> Result<(), Fault> {
    let ours = tx.history(Some(id))?;
    let same = ours.iter().zip(journal).all(|(ours, theirs)| ours.hash.to_string() == theirs.hash);
    if same && ours.len() <= journal.len() {
        return Ok(());
    }
    let message = match same {
        true => "This room is already here, with everything in the file and more.",
        false => "This room is already here and went another way than the file. Import the file as a second room.",
    };
    Err(Refusal::new(Kind::AlreadyThere, message).field("room.id").into())
}

fn check_as_stated(tx: &Tx<'_>, id: &RoomId, file: &RoomFile) -> Result<(), Fault> {
    let stated = RoomFile { journal: None, private: Vec::new(), ..file.clone() };
    if read_room(tx, id)? == stated {
        return Ok(());
    }
    let message =
        "The room that the file states is not the one its journal leads to. The file was altered: ask for it again.";
    Err(Refusal::new(Kind::DoesNotFit, message).field("journal").into())
}

fn journal(read: &Read<'_>, room: &RoomId) -> Result<Vec<JournalEntry>, Fault> {
    Ok(read.history(Some(room))?.into_iter().map(entry_out).collect())
}
