//! Whether a file is what it was when it was written: its chain, its private texts, its statement, its attachments.

use crate::commands::Command;
use crate::files::attachments;
use crate::files::incoming::read_incoming;
use crate::files::journal_check::verify_room;
use crate::forms::{CopyOf, JournalEntry, RoomFile, RoomImport, Verified};
use judge::Refusal;
use judge::forms::json;

/// What a record or a room file proves.
///
/// # Errors
/// `does-not-fit`, naming the first entry of the journal that does not follow from the one before it, or the file,
/// text or field that is not what it was; `not-ready` for a room file without a journal; else what is wrong with the
/// bytes.
pub fn verify(bytes: &[u8]) -> Result<Verified, Refusal> {
    // A drawing has no journal, so when its room is made does not matter.
    let incoming = read_incoming(bytes, "")?;
    let file = verify_room(&incoming.room)?;
    attachments::check(&incoming, &file)?;
    let journal = file.journal.as_deref().unwrap_or_default();
    Ok(Verified {
        room: file.room.name.clone(),
        entries: journal.len() as u32,
        first: journal.first().map(|entry| entry.at.clone()),
        last: journal.last().map(|entry| entry.at.clone()),
        head: journal.last().map(|entry| entry.hash.clone()).unwrap_or_default(),
        files: incoming.files.iter().map(|(name, _)| name.clone()).collect(),
        not_covered: attachments::not_covered(&incoming),
        copy_of: copy_of(journal),
    })
}

/// The room that a journal says it began as a copy of.
fn copy_of(journal: &[JournalEntry]) -> Option<CopyOf> {
    let first = journal.first().filter(|entry| entry.command == RoomImport::NAME)?;
    let import: RoomImport = json::read(&first.payload).ok()?;
    Some(CopyOf { room: RoomFile::read(&import.file).ok()?.room.id, head: first.origin.clone()? })
}
