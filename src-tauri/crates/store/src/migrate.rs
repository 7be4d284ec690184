//! Bringing an older file up to date, one numbered step after the other, each kept whole or not at all.

use rusqlite::{Connection, TransactionBehavior};

use crate::error::StoreError;

/// The steps in their order. A released step never changes; what is to be different comes as a further one.
pub(crate) const MIGRATIONS: &[&str] = &[
    include_str!("../migrations/0001_journal_and_tables.sql"),
    include_str!("../migrations/0002_instrument_of_a_reading.sql"),
];

/// The form of the tables this program writes.
pub const VERSION: u32 = MIGRATIONS.len() as u32;

/// Runs the steps the file has not seen.
pub(crate) fn bring_up_to_date(connection: &mut Connection, migrations: &[&str]) -> Result<(), StoreError> {
    let found = version(connection)?;
    for (step, sql) in (1_u32..).zip(migrations).skip(found as usize) {
        run(connection, step, sql)?;
    }
    Ok(())
}

pub(crate) fn version(connection: &Connection) -> Result<u32, StoreError> {
    Ok(connection.pragma_query_value(None, "user_version", |row| row.get(0))?)
}

/// One step, unless another program has done it meanwhile.
fn run(connection: &mut Connection, step: u32, sql: &str) -> Result<(), StoreError> {
    let transaction = connection.transaction_with_behavior(TransactionBehavior::Immediate)?;
    if version(&transaction)? < step {
        transaction.execute_batch(sql)?;
        transaction.pragma_update(None, "user_version", step)?;
    }
    Ok(transaction.commit()?)
}

#[cfg(test)]
mod tests {
    use std::fs;
    use std::path::{Path, PathBuf};
    use std::time::Duration;

    use data_encoding::HEXLOWER;
    use rusqlite::OpenFlags;
    use sha2::{Digest, Sha256};

    use super::*;
    use crate::Store;
    use crate::examples::entry;
    use crate::opening::open_as;

    /// The digest of each step: it follows a step that is being written, and never changes once that is released.
    const RELEASED: &[&str] = &[
        "a6ca1ba5dc2d68ccea96e7a82a2a2b3108846a08c2f933717dc1258c1f5c783c",
        "e3ef04a763d992da4d27fa56ac879a7b835fcb24b5efa700a8d93d2d8931e0d1",
    ];

    #[test]
    fn a_released_step_never_changes() {
        let digests: Vec<String> = MIGRATIONS.iter().map(|sql| HEXLOWER.encode(&Sha256::digest(sql))).collect();
        assert_eq!(digests, RELEASED, "add the digest of a new step to RELEASED; a released one never changes");
    }

    #[test]
    fn every_step_in_the_folder_is_taken() {
        let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/migrations");
        let mut files: Vec<_> = fs::read_dir(folder).unwrap().map(|file| file.unwrap().path()).collect();
        files.sort();
        let steps: Vec<String> = files.iter().map(|file| fs::read_to_string(file).unwrap()).collect();
        assert_eq!(steps, MIGRATIONS, "name the new file of {folder} in MIGRATIONS");
    }

    const NEXT: &str =
        "ALTER TABLE rooms ADD COLUMN not_yet_there TEXT; INSERT INTO documents VALUES (NULL, 'new', '1');";
    const FAILING: &str = "CREATE TABLE half (a TEXT) STRICT; INSERT INTO nowhere VALUES (1);";

    /// A folder with a file of the form before the next that holds one entry and the room `r1`.
    fn older() -> (tempfile::TempDir, PathBuf) {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("rooms.sqlite");
        let store = Store::open(&path).unwrap();
        store.write(|tx| tx.append(&entry("e1"))).unwrap();
        store
            .connection()
            .execute("INSERT INTO rooms (id, name, units, created_at) VALUES ('r1', 'Hall bath', 'in', '')", [])
            .unwrap();
        (folder, path)
    }

    fn migrate(path: &Path, next: &str) -> Result<Connection, StoreError> {
        let access = OpenFlags::SQLITE_OPEN_READ_WRITE | OpenFlags::SQLITE_OPEN_CREATE;
        open_as(path, Duration::ZERO, access, &[MIGRATIONS, &[next]].concat())
    }

    fn names(folder: &tempfile::TempDir) -> Vec<String> {
        let files = fs::read_dir(folder.path()).unwrap();
        let mut names: Vec<_> = files.map(|file| file.unwrap().file_name().into_string().unwrap()).collect();
        names.retain(|name| !name.ends_with("-wal") && !name.ends_with("-shm"));
        names.sort();
        names
    }

    #[test]
    fn an_older_file_is_copied_aside_and_brought_up_to_date() {
        let (folder, path) = older();
        let migrated = migrate(&path, NEXT).unwrap();
        assert_eq!(version(&migrated), Ok(VERSION + 1));
        assert_eq!(migrated.query_row("SELECT body FROM documents", [], |row| row.get(0)), Ok("1".to_owned()));
        let aside = format!("rooms.before-{}.sqlite", VERSION + 1);
        assert_eq!(names(&folder), [aside.as_str(), "rooms.sqlite"]);
        let copy = Store::open(folder.path().join(aside)).unwrap();
        assert_eq!(copy.read(|read| read.entry(&"e1".into())).unwrap().unwrap().entry, entry("e1"));
        assert_eq!(copy.read(|read| read.rooms().all()).unwrap().len(), 1);
        assert_eq!(copy.check(), Ok(()));
        drop(migrated);
        migrate(&path, NEXT).unwrap();
        assert_eq!(names(&folder).len(), 2, "a file of today is not copied again");
        assert_eq!(Store::open(&path).unwrap_err(), StoreError::Newer { found: VERSION + 1, known: VERSION });
    }

    #[test]
    fn a_step_that_fails_leaves_the_file_in_its_older_form() {
        let (folder, path) = older();
        for _ in 0..2 {
            assert_eq!(migrate(&path, FAILING).unwrap_err().kind(), "internal");
        }
        let [first, second] = ["", ".1"].map(|again| format!("rooms.before-{}{again}.sqlite", VERSION + 1));
        assert_eq!(names(&folder), [second.as_str(), &first, "rooms.sqlite"]);
        let store = Store::open(&path).unwrap();
        assert_eq!(store.check(), Ok(()));
        assert_eq!(store.read(|read| read.entry(&"e1".into())).unwrap().unwrap().entry, entry("e1"));
    }

    #[test]
    fn a_new_file_has_nothing_to_copy() {
        let folder = tempfile::tempdir().unwrap();
        migrate(&folder.path().join("rooms.sqlite"), "CREATE TABLE further (a TEXT) STRICT").unwrap();
        assert_eq!(names(&folder), ["rooms.sqlite"]);
    }
}
