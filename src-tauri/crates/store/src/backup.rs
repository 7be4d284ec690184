//! A copy under its final name only once it is whole, checked and on disk.

use std::fs::{self, File, OpenOptions};
use std::io;
use std::path::Path;

use rusqlite::Connection;

use crate::error::StoreError;
use crate::examine::inspect;
use crate::place::beside;

/// Copies a database to a free name by way of a temporary one; nothing is under the name until the copy is whole.
pub(crate) fn copy(connection: &Connection, to: &Path) -> Result<(), StoreError> {
    if to.try_exists()? {
        return Err(io::Error::new(io::ErrorKind::AlreadyExists, format!("{} exists already", to.display())).into());
    }
    let part = beside(to, ".part");
    let whole = write(connection, &part).and_then(|()| inspect(&part)).and_then(|()| put(&part, to));
    if whole.is_err() {
        remove_if_any(&part)?;
    }
    whole
}

fn write(connection: &Connection, part: &Path) -> Result<(), StoreError> {
    remove_if_any(part)?;
    let name = part.to_str().ok_or(StoreError::Io { what: "the path is not readable text".into() })?;
    connection.execute("VACUUM INTO ?1", [name])?;
    Ok(())
}

/// Syncs the copy, gives it its name, and syncs the name.
fn put(part: &Path, to: &Path) -> Result<(), StoreError> {
    OpenOptions::new().write(true).open(part)?.sync_all()?;
    fs::rename(part, to)?;
    sync_folder(to)
}

#[cfg(unix)]
fn sync_folder(of: &Path) -> Result<(), StoreError> {
    let folder = of.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    Ok(File::open(folder)?.sync_all()?)
}

#[cfg(not(unix))]
fn sync_folder(_of: &Path) -> Result<(), StoreError> {
    Ok(())
}

fn remove_if_any(path: &Path) -> Result<(), StoreError> {
    match fs::remove_file(path) {
        Err(error) if error.kind() != io::ErrorKind::NotFound => Err(error.into()),
        _ => Ok(()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Store;
    use crate::examples::{entry, reading, room, store};

    #[test]
    fn a_backup_opens_and_is_equal() {
        let folder = tempfile::tempdir().unwrap();
        let (from, to) = (folder.path().join("rooms.sqlite"), folder.path().join("copy.sqlite"));
        fs::write(beside(&to, ".part"), "left by a killed try").unwrap();
        for store in [Store::open(from).unwrap(), store()] {
            store.write(|tx| tx.append(&entry("e1"))).unwrap();
            store.backup(&to).unwrap();
            let copy = Store::open(&to).unwrap();
            assert_eq!(copy.check(), Ok(()));
            assert_eq!(copy.read(|read| read.tables_as_text()), store.read(|read| read.tables_as_text()));
            assert_eq!(copy.read(|read| read.history(Some(&room()))), store.read(|read| read.history(Some(&room()))));
            drop(copy);
            assert!(!beside(&to, ".part").exists());
            fs::remove_file(&to).unwrap();
        }
    }

    #[test]
    fn a_backup_never_takes_the_place_of_a_file() {
        let folder = tempfile::tempdir().unwrap();
        let to = folder.path().join("copy.sqlite");
        fs::write(&to, "an older backup").unwrap();
        assert_eq!(store().backup(&to).unwrap_err().kind(), "io");
        assert_eq!(fs::read_to_string(&to).unwrap(), "an older backup");
        assert_eq!(store().backup(folder.path().join("gone").join("copy.sqlite")).unwrap_err().kind(), "io");
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1);
    }

    #[test]
    fn a_backup_holds_a_moment_while_readings_go_on() {
        let folder = tempfile::tempdir().unwrap();
        let (from, to) = (folder.path().join("rooms.sqlite"), folder.path().join("copy.sqlite"));
        let store = Store::open(from).unwrap();
        store.write(|tx| tx.append(&entry("e1"))).unwrap();
        let backed_up = store.write(|tx| -> Result<_, StoreError> {
            tx.append(&entry("e2"))?;
            Ok(store.backup(&to))
        });
        assert_eq!(backed_up, Ok(Ok(())), "the copy does not wait for the writer");
        let copy = Store::open(&to).unwrap();
        assert_eq!(copy.read(|read| read.history(Some(&room()))).unwrap().len(), 1);
        assert_eq!(copy.write(|tx| tx.readings().insert(&reading("a"))).unwrap_err().kind(), "refused");
    }
}
