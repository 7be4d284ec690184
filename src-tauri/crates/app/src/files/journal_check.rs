//! Whether the journal of a room file holds together and leads to the room that the file states.

use crate::app::App;
use crate::clock::Clock;
use crate::files::journal_entries::recorded;
use crate::forms::*;
use judge::{Kind, Refusal};
use store::{Chain, RoomId, private_digest, verify_chain};

/// Goes through the journal of a room file, its private texts and its statement.
///
/// # Errors
/// As [`verify`](crate::verify()).
pub(crate) fn verify_room(text: &str) -> Result<RoomFile, Refusal> {
    let file = RoomFile::read(text)?;
    let Some(journal) = &file.journal else {
        let message = "This room file has no journal: it was written by hand, and nothing in it can be proved.";
        return Err(Refusal::new(Kind::NotReady, message).field("journal"));
    };
    verify_journal(&file.room.id, journal)?;
    verify_private(journal, &file.private)?;
    let app = App::in_memory(Clock::fixed("1970-01-01T00:00:00Z", "verify"))?;
    app.import_room(&ImportAsk { id: "verify".to_string(), file: text.to_string(), as_room: None })?;
    Ok(file)
}

fn verify_journal(room: &str, journal: &[JournalEntry]) -> Result<(), Refusal> {
    let id = RoomId::from(room);
    let chain = journal.iter().map(|entry| recorded(entry, &id)).collect::<Result<Vec<_>, _>>()?;
    match verify_chain(&chain) {
        Chain::Fits(_) => Ok(()),
        Chain::Breaks { seq, .. } => Err(broken(journal, seq)),
    }
}

fn broken(journal: &[JournalEntry], seq: u32) -> Refusal {
    let entry = journal.get(seq.saturating_sub(1) as usize);
    let what = entry.map(|entry| format!(" ({}, {}, {})", entry.command, entry.at, entry.id)).unwrap_or_default();
    let before = match seq {
        0 | 1 => "Nothing before it can be relied on.".to_string(),
        _ => format!("The {} before it hold.", seq - 1),
    };
    let message =
        format!("Entry {seq}{what} does not fit the journal before it. {before} The file was altered or damaged.");
    Refusal::new(Kind::DoesNotFit, message).field(format!("journal[{}]", seq.saturating_sub(1)))
}

/// A private text may be missing, blacked out; one that is there must be the one that the journal names.
fn verify_private(journal: &[JournalEntry], private: &[PrivateText]) -> Result<(), Refusal> {
    for (k, text) in private.iter().enumerate() {
        let digest = private_digest(&crate::rooms::salt::salt(&text.salt)?, &text.value);
        let named = |entry: &JournalEntry| {
            entry.payload.contains(&digest) || entry.person.as_ref().is_some_and(|person| *person == digest)
        };
        if !journal.iter().any(named) {
            let message = "A private text is not the one whose digest stands in the journal. It was altered: ask for the file again.";
            return Err(Refusal::new(Kind::DoesNotFit, message).field(format!("private[{k}]")));
        }
    }
    Ok(())
}
