//! What can still be read of a damaged file, row by row.

use std::path::Path;

use rusqlite::{Connection, OpenFlags};

use crate::access::first;
use crate::columns::Columns;
use crate::journal::{Recorded, take_entry};
use crate::private::{PrivateText, private_digest, take_private};

/// So many rows in a row may be unreadable before the rest counts as lost: one damaged page of the tree hides some
/// thousand entries.
const MOST_MISSED: u32 = 20_000;

/// What could be read, each row by itself. Nothing says that the entries fit together: their hashes do.
#[derive(Debug, Default)]
pub struct Salvaged {
    /// In the order in which they arrived.
    pub entries: Vec<Recorded>,
    /// Only those whose digest is that of their salt and value.
    pub private: Vec<PrivateText>,
}

/// Reads what can be read of a copy of a damaged file. What was in the copy's log is moved into it.
pub fn salvage(copy: &Path) -> Salvaged {
    let Ok(connection) = Connection::open_with_flags(copy, OpenFlags::SQLITE_OPEN_READ_WRITE) else {
        return Salvaged::default();
    };
    let private = each(&connection, include_str!("private/at_row.sql"), take_private);
    let is_itself = |text: &PrivateText| private_digest(&text.salt, &text.value) == text.digest;
    Salvaged {
        entries: each(&connection, include_str!("journal/at_row.sql"), take_entry),
        private: private.into_iter().filter(is_itself).collect(),
    }
}

/// Every row that can be read, asked for one by one, so that a damaged page costs no more than is on it.
fn each<T>(connection: &Connection, sql: &str, take: fn(&mut Columns<'_>) -> rusqlite::Result<T>) -> Vec<T> {
    let (mut found, mut missed) = (Vec::new(), 0);
    for row in 1_i64.. {
        match first(connection, sql, [row], take) {
            Ok(Some(one)) => {
                found.push(one);
                missed = 0;
            }
            _ => missed += 1,
        }
        if missed > MOST_MISSED {
            break;
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::examples::entry;
    use crate::{Entry, Store, StoreError};
    use std::fs;

    /// A file with 60 entries of some length and a private text.
    fn file() -> (tempfile::TempDir, std::path::PathBuf) {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("rooms.sqlite");
        let store = Store::open(&path).unwrap();
        let kept = store.write(|tx| -> Result<_, StoreError> {
            for n in 0..60 {
                tx.append(&Entry { payload: vec![b'x'; 900], ..entry(&format!("e{n}")) })?;
            }
            tx.keep_private(b"sixteen of these", "Ann")
        });
        kept.unwrap();
        (folder, path)
    }

    #[test]
    fn a_whole_file_is_read_whole() {
        let (_folder, path) = file();
        let salvaged = salvage(&path);
        assert_eq!((salvaged.entries.len(), salvaged.private.len()), (60, 1));
        assert_eq!(salvaged.entries[59].entry.id.as_str(), "e59");
    }

    #[test]
    fn a_damaged_page_costs_what_is_on_it() {
        let (_folder, path) = file();
        let mut bytes = fs::read(&path).unwrap();
        let at = bytes.windows(50).position(|part| part == [b'x'; 50]).unwrap() / 4096 * 4096;
        bytes[at..at + 4096].fill(0xff);
        fs::write(&path, bytes).unwrap();
        assert_eq!(Store::open(&path).unwrap_err().kind(), "damaged");
        let salvaged = salvage(&path);
        assert!((50..60).contains(&salvaged.entries.len()), "{}", salvaged.entries.len());
        assert_eq!(salvaged.private[0].value, "Ann");
    }

    #[test]
    fn what_is_no_database_gives_nothing() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("rooms.sqlite");
        fs::write(&path, b"J1 44-1/8\n".repeat(800)).unwrap();
        assert!(salvage(&path).entries.is_empty());
        assert!(salvage(&folder.path().join("gone")).entries.is_empty());
    }
}
