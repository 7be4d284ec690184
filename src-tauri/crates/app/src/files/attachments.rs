//! What a record carries beside its room: whether each file is in the list of digests, and says what the room says.

use crate::files::csv_readings;
use crate::files::incoming::{Incoming, read_incoming};
use crate::files::sha256sums;
use crate::forms::RoomFile;
use judge::{Kind, Refusal};

/// Checks every file against the list and, where it repeats what the room says, against the room.
///
/// # Errors
/// `does-not-fit`, naming the file that is not what it was.
pub(crate) fn check(incoming: &Incoming, room: &RoomFile) -> Result<(), Refusal> {
    let (lists, files): (Vec<_>, Vec<_>) = incoming.files.iter().partition(|(name, _)| name == sha256sums::NAME);
    match lists.as_slice() {
        [] if files.is_empty() => Ok(()),
        [(_, list)] => {
            let bytes: Vec<(&str, &[u8])> =
                files.iter().map(|(name, bytes)| (name.as_str(), bytes.as_slice())).collect();
            sha256sums::check(&String::from_utf8_lossy(list), &bytes)?;
            files.iter().try_for_each(|(name, bytes)| check_beside(name, bytes, incoming, room))
        }
        _ => {
            let message = format!(
                "The record has no list of its files ({}), so only its journal can be checked: it holds. Ask for the record again.",
                sha256sums::NAME
            );
            Err(Refusal::new(Kind::DoesNotFit, message).field(sha256sums::NAME))
        }
    }
}

/// The list can be altered together with a file, the room cannot: so they are compared.
fn check_beside(name: &str, bytes: &[u8], incoming: &Incoming, room: &RoomFile) -> Result<(), Refusal> {
    match ending(name) {
        "csv" => csv_readings::check_against(room, name, bytes),
        "pdf" if read_incoming(bytes, "")?.room != incoming.room => {
            Err(altered(name, "carries another room than the one beside it"))
        }
        "jpg" | "png" => {
            let digest = sha256sums::sha256(bytes);
            match room.photographs().any(|photograph| photograph.sha256 == digest) {
                true => Ok(()),
                false => Err(altered(name, "is none of the photographs that the room names")),
            }
        }
        _ => Ok(()),
    }
}

/// What is there and cannot be proved: what is drawn or printed from the room.
pub(crate) fn not_covered(incoming: &Incoming) -> Vec<String> {
    let drawn = |name: &&str| ["dxf", "svg", "pdf"].contains(&ending(name));
    let drawn: Vec<String> =
        incoming.files.iter().map(|(name, _)| name.as_str()).filter(drawn).map(str::to_string).collect();
    match incoming.printed {
        true => vec!["pages".to_string()],
        false => drawn,
    }
}

fn ending(name: &str) -> &str {
    name.rsplit_once('.').map_or("", |(_, ending)| ending)
}

fn altered(name: &str, what: &str) -> Refusal {
    let message = format!("{name:?} {what}. The record was altered or damaged: ask for it again.");
    Refusal::new(Kind::DoesNotFit, message).field(name)
}
