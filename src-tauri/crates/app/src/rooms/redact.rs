//! A room without its private texts: only their digests stay, and the journal still verifies.

use crate::commands::{Command, to_present};
use crate::forms::*;
use crate::rooms::private::{each_of_entry, each_of_readings, each_of_room, in_clear};
use judge::forms::json;
use judge::{Kind, Refusal};
use store::is_digest;

/// The file of a room whose private texts are digests, without what they stand for.
///
/// # Errors
/// `not-ready` where a name, a place or a note stands in the journal in plain words, which cannot be taken out.
pub(crate) fn black_out(mut sealed: RoomFile) -> Result<RoomFile, Refusal> {
    each_of_room(&mut sealed, &mut |spot, text| if in_clear(text) { Err(in_plain(&spot.field())) } else { Ok(()) })?;
    for (k, entry) in sealed.journal.iter().flatten().enumerate() {
        let inverse = entry.inverse.iter().map(|inverse| (&inverse.command, inverse.form, &inverse.payload));
        for (command, form, payload) in std::iter::once((&entry.command, entry.form, &entry.payload)).chain(inverse) {
            if holds_plain(command, form, payload)? {
                return Err(in_plain(&format!("journal[{k}].payload")));
            }
        }
        if entry.person.as_deref().is_some_and(|person| !is_digest(person)) {
            return Err(in_plain(&format!("journal[{k}].person")));
        }
    }
    Ok(RoomFile { room: RoomHead { place: None, ..sealed.room }, private: Vec::new(), ..sealed })
}

/// Whether a change tells a private text to everybody.
fn holds_plain(command: &str, form: u32, payload: &str) -> Result<bool, Refusal> {
    let payload = to_present(command, form, payload)?;
    let mut plain = false;
    let mut look = |_: &_, text: &mut String| {
        plain |= in_clear(text);
        Ok(())
    };
    match command {
        RoomNew::NAME => return Ok(json::read::<RoomNew>(&payload)?.place.is_some_and(|place| in_clear(&place))),
        RoomImport::NAME => each_of_room(&mut json::read(&json::read::<RoomImport>(&payload)?.file)?, &mut look)?,
        ReadingAdd::NAME => each_of_readings(&mut [json::read(&payload)?], &mut look)?,
        ReadingsImport::NAME => each_of_readings(&mut json::read::<ReadingsImport>(&payload)?.readings, &mut look)?,
        EntryPut::NAME => each_of_entry(0, &mut json::read::<EntryPut>(&payload)?.entry, &mut look)?,
        _ => {}
    }
    Ok(plain)
}

fn in_plain(field: &str) -> Refusal {
    let message = format!(
        "{field} was written into the journal in plain words, and a journal is never changed, so this room cannot be \
         blacked out. Export it, take the file in as a second room, where names, places and notes are kept apart, and \
         black that one out."
    );
    Refusal::new(Kind::NotReady, message).field(field)
}
