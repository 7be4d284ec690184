//! Whether a table of readings that lies beside a room says what the room says.

use super::write::write;
use crate::forms::RoomFile;
use csv::StringRecord;
use judge::{Kind, Refusal};

/// Compares a table, cell by cell, with the one that the room gives.
///
/// # Errors
/// `does-not-fit`, naming the file and the first line in which they differ.
pub(crate) fn check_against(file: &RoomFile, name: &str, table: &[u8]) -> Result<(), Refusal> {
    let ours = write(file)?;
    let (mut theirs, mut ours) = (records(table), records(ours.as_bytes()));
    for line in 1usize.. {
        match (theirs.next(), ours.next()) {
            (None, None) => break,
            (Some(Ok(one)), Some(Ok(other))) if one == other => {}
            _ => {
                let message = format!(
                    "{name:?} does not say what the room beside it says, first in line {line}. One of them was altered: \
                     ask for the record again."
                );
                return Err(Refusal::new(Kind::DoesNotFit, message).field(name));
            }
        }
    }
    Ok(())
}

fn records(table: &[u8]) -> impl Iterator<Item = csv::Result<StringRecord>> + '_ {
    csv::ReaderBuilder::new().has_headers(false).flexible(true).from_reader(table).into_records()
}
