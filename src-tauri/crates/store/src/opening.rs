//! Opening a file: what it is, whether it is whole, and how it is to be kept. Nothing is written before that is known.

use std::fs;
use std::io;
use std::path::{Path, PathBuf};
use std::time::Duration;

use rusqlite::config::DbConfig;
use rusqlite::{Connection, OpenFlags};

use crate::backup;
use crate::error::StoreError;
use crate::examine::{APPLICATION_ID, Kind, as_damage, examine};
use crate::migrate::{self, MIGRATIONS};
use crate::place::beside;

pub(crate) fn open(path: &Path, patience: Duration) -> Result<Connection, StoreError> {
    let access = OpenFlags::SQLITE_OPEN_READ_WRITE | OpenFlags::SQLITE_OPEN_CREATE;
    open_as(path, patience, access, MIGRATIONS).map_err(|error| why_not_opened(path, error))
}

pub(crate) fn open_as(
    path: &Path,
    patience: Duration,
    access: OpenFlags,
    migrations: &[&str],
) -> Result<Connection, StoreError> {
    refuse_orphaned_log(path)?;
    refuse_read_only(path)?;
    let mut connection = Connection::open_with_flags(path, access | OpenFlags::SQLITE_OPEN_NO_MUTEX)?;
    connection.busy_timeout(patience)?;
    write_nothing_on_close(&connection, true)?;
    let kind = examine(&connection, migrations).map_err(as_damage)?;
    // A file that may be written but is opened for reading only claims a form that is nobody's.
    if connection.is_readonly(rusqlite::MAIN_DB)? {
        return Err(StoreError::damaged("its header is not one of a database"));
    }
    prepare(&connection, &kind)?;
    copy_aside_if_older(&connection, path, migrations.len() as u32)?;
    migrate::bring_up_to_date(&mut connection, migrations)?;
    write_nothing_on_close(&connection, false)?;
    Ok(connection)
}

/// A file of an older form is kept as it was under a name beside its own.
fn copy_aside_if_older(connection: &Connection, path: &Path, newest: u32) -> Result<(), StoreError> {
    let found = migrate::version(connection)?;
    if 0 < found && found < newest { backup::copy(connection, &aside(path, newest)) } else { Ok(()) }
}

/// A free name for the copy: `rooms.before-2.sqlite`, and if an earlier try left one, `rooms.before-2.1.sqlite`.
fn aside(path: &Path, newest: u32) -> PathBuf {
    let extension = path.extension().map_or("sqlite".into(), |extension| extension.to_string_lossy());
    let first = path.with_extension(format!("before-{newest}.{extension}"));
    let further = (1_u32..).map(|try_number| path.with_extension(format!("before-{newest}.{try_number}.{extension}")));
    std::iter::once(first).chain(further).find(|name| !name.exists()).unwrap_or_else(|| path.to_owned())
}

pub(crate) fn in_memory(migrations: &[&str]) -> Result<Connection, StoreError> {
    let mut connection = Connection::open_in_memory()?;
    prepare(&connection, &Kind::Empty)?;
    migrate::bring_up_to_date(&mut connection, migrations)?;
    Ok(connection)
}

/// Changes still in the log would be thrown away if its database were made anew.
fn refuse_orphaned_log(path: &Path) -> Result<(), StoreError> {
    let bytes = |path: &Path| fs::metadata(path).map_or(0, |metadata| metadata.len());
    match (bytes(path), bytes(&beside(path, "-wal"))) {
        (0, 1..) => Err(StoreError::damaged("it is empty, and its log is not")),
        _ => Ok(()),
    }
}

/// A file that may be read but not written is named at once: the database would wait for a lock that nobody can take.
fn refuse_read_only(path: &Path) -> Result<(), StoreError> {
    match fs::OpenOptions::new().write(true).open(path).map_err(|error| error.kind()) {
        Err(io::ErrorKind::PermissionDenied | io::ErrorKind::ReadOnlyFilesystem) if fs::File::open(path).is_ok() => {
            Err(StoreError::ReadOnly)
        }
        _ => Ok(()),
    }
}

/// Until a file is known to be whole, closing must not move its log into it.
fn write_nothing_on_close(connection: &Connection, nothing: bool) -> Result<(), StoreError> {
    connection.set_db_config(DbConfig::SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, nothing)?;
    Ok(())
}

/// Marks a new file, and sets how every file is kept: a log synced at each commit, references checked, removed texts
/// wiped.
fn prepare(connection: &Connection, kind: &Kind) -> Result<(), StoreError> {
    if *kind == Kind::Empty {
        connection.pragma_update(None, "application_id", APPLICATION_ID)?;
    }
    let _mode: String = connection.pragma_update_and_check(None, "journal_mode", "wal", |row| row.get(0))?;
    connection.execute_batch(include_str!("pragmas.sql"))?;
    connection.set_db_config(DbConfig::SQLITE_DBCONFIG_DEFENSIVE, true)?;
    connection.set_prepared_statement_cache_capacity(128);
    Ok(())
}

/// A file that cannot be opened does not say why; its folder does.
fn why_not_opened(path: &Path, error: StoreError) -> StoreError {
    if !matches!(error, StoreError::Io { .. }) {
        return error;
    }
    let probe = beside(path, ".probe");
    let made = fs::File::create_new(&probe);
    let removed = made.and_then(|_| fs::remove_file(&probe));
    removed.err().filter(|reason| reason.kind() != io::ErrorKind::AlreadyExists).map_or(error, StoreError::from)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::examples::entry;
    use crate::{Store, VERSION};

    const AT_ONCE: Duration = Duration::ZERO;

    /// A folder with a file `rooms.sqlite` that another program has worked on.
    fn file(work: &str) -> (tempfile::TempDir, PathBuf) {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("rooms.sqlite");
        Connection::open(&path).unwrap().execute_batch(work).unwrap();
        (folder, path)
    }

    /// A folder with a file of ours that holds one entry.
    fn ours() -> (tempfile::TempDir, PathBuf) {
        let (folder, path) = file("");
        Store::open(&path).unwrap().write(|tx| tx.append(&entry("e1"))).unwrap();
        (folder, path)
    }

    fn kind(opened: Result<impl Sized, StoreError>) -> &'static str {
        opened.err().map_or("opened", |error| error.kind())
    }

    #[test]
    fn a_file_is_kept_as_the_evidence_asks() {
        let (_folder, path) = ours();
        let store = Store::open(&path).unwrap();
        let check = |pragma: &str, want: &str| {
            let value: String = store
                .connection()
                .query_row(&format!("SELECT CAST({pragma} AS TEXT) FROM pragma_{pragma}"), [], |row| row.get(0))
                .unwrap();
            assert_eq!(value, want, "{pragma}");
        };
        check("journal_mode", "wal");
        check("synchronous", "2");
        check("foreign_keys", "1");
        check("secure_delete", "1");
        check("application_id", &APPLICATION_ID.to_string());
        check("user_version", &VERSION.to_string());
    }

    #[test]
    fn a_file_that_was_never_finished_is_begun_anew() {
        let check = |work: &str| {
            let (_folder, path) = file(work);
            let store = Store::open(&path).unwrap();
            store.write(|tx| tx.append(&entry("e1"))).unwrap();
            assert_eq!(store.check(), Ok(()), "{work}");
        };
        check("");
        check(&format!("PRAGMA application_id = {APPLICATION_ID}"));
        check(&format!("PRAGMA application_id = {APPLICATION_ID}; PRAGMA journal_mode = wal"));
    }

    #[test]
    fn what_is_not_to_be_opened_stays_byte_for_byte() {
        let check = |what: &str, spoil: &dyn Fn(&Path), want: &str| {
            let (_folder, path) = ours();
            spoil(&path);
            let before = fs::read(&path).unwrap();
            let refused = Store::open_within(&path, AT_ONCE);
            assert_eq!(kind(refused), want, "{what}");
            assert!(fs::read(&path).unwrap() == before, "{what}: the file was written to");
        };
        let sql = |work: &'static str| move |path: &Path| Connection::open(path).unwrap().execute_batch(work).unwrap();
        let bytes = |change: fn(&mut Vec<u8>)| {
            move |path: &Path| {
                let mut bytes = fs::read(path).unwrap();
                change(&mut bytes);
                fs::write(path, bytes).unwrap();
            }
        };
        check("newer", &sql("PRAGMA user_version = 99"), "newer");
        check("another's", &sql("PRAGMA application_id = 1"), "not-ours");
        check("nobody's", &sql("PRAGMA application_id = 0"), "not-ours");
        check("no version", &sql("PRAGMA user_version = 0"), "damaged");
        check("text", &bytes(|bytes| *bytes = b"J1 44-1/8\n".repeat(800)), "damaged");
        check("short text", &bytes(|bytes| *bytes = b"J1".to_vec()), "damaged");
        check("first bytes", &bytes(|bytes| bytes[..16].fill(0)), "damaged");
        check("a form of writing to come", &bytes(|bytes| bytes[18] = 3), "damaged");
        check("a form of reading to come", &bytes(|bytes| bytes[19] = 3), "damaged");
        check("a form of tables to come", &bytes(|bytes| bytes[47] = 12), "damaged");
        check("cut off", &bytes(|bytes| bytes.truncate(bytes.len() / 2)), "damaged");
        check("one page", &bytes(|bytes| bytes.truncate(4096)), "damaged");
        check("zeros inside", &bytes(|bytes| bytes[4096..20_000].fill(0)), "damaged");
        check("other tables", &sql("CREATE TABLE further (a)"), "damaged");
        check("schema", &bytes(|bytes| bytes[100..108].fill(0xff)), "damaged");
    }

    #[test]
    fn a_large_file_opens_at_once_and_is_checked_apart() {
        let (_folder, path) = ours();
        let check = |size: usize, want_opened: &str| {
            let store = Store::open(&path).unwrap();
            store.write(|tx| tx.append(&crate::Entry { payload: vec![b' '; size], ..entry(want_opened) })).unwrap();
            drop(store);
            let ticks: u32 = Connection::open(&path)
                .and_then(|file| {
                    file.query_row("SELECT rootpage FROM sqlite_schema WHERE name = 'ticks'", [], |row| row.get(0))
                })
                .unwrap();
            let whole = fs::read(&path).unwrap();
            let mut spoilt = whole.clone();
            spoilt[(ticks as usize - 1) * 4096] = 0xff;
            fs::write(&path, spoilt).unwrap();
            let opened = Store::open(&path);
            let checked = opened.as_ref().map(|store| kind(store.check())).unwrap_or("damaged");
            assert_eq!((kind(opened), checked), (want_opened, "damaged"));
            fs::write(&path, whole).unwrap();
        };
        check(1 << 20, "damaged");
        check(33 << 20, "opened");
    }

    #[test]
    fn a_log_without_its_file_is_not_thrown_away() {
        for emptied in [true, false] {
            let (folder, path) = file("");
            let log = beside(&path, "-wal");
            fs::write(&log, [7; 64]).unwrap();
            if emptied {
                fs::write(&path, "").unwrap()
            } else {
                fs::remove_file(&path).unwrap()
            }
            assert_eq!(kind(Store::open(&path)), "damaged");
            assert_eq!(fs::read(&log).unwrap(), [7; 64]);
            assert_eq!(fs::read_dir(folder.path()).unwrap().count(), if emptied { 2 } else { 1 });
        }
    }

    #[test]
    fn a_file_another_program_holds_is_locked() {
        let (_folder, path) = ours();
        let other = Connection::open(&path).unwrap();
        other.execute_batch("BEGIN IMMEDIATE").unwrap();
        let store = Store::open_within(&path, AT_ONCE).unwrap();
        assert_eq!(kind(store.write(|tx| tx.append(&entry("e2")))), "locked");
        assert_eq!(store.read(|read| read.entry(&"e1".into())).unwrap().unwrap().seq, 1);
        other.execute_batch("COMMIT").unwrap();
        store.write(|tx| tx.append(&entry("e2"))).unwrap();
        drop(store);
        other
            .execute_batch(&format!(
                "PRAGMA locking_mode = EXCLUSIVE; BEGIN IMMEDIATE; PRAGMA user_version = {VERSION}; COMMIT"
            ))
            .unwrap();
        assert_eq!(kind(Store::open_within(&path, AT_ONCE)), "locked");
        drop(other);
        assert_eq!(kind(Store::open_within(&path, AT_ONCE)), "opened");
    }

    #[test]
    fn a_full_disk_keeps_what_was_there() {
        let (_folder, path) = ours();
        let store = Store::open(&path).unwrap();
        store.connection().execute_batch("PRAGMA max_page_count = 1").unwrap();
        let large = crate::Entry { payload: vec![b'x'; 1 << 20], ..entry("e2") };
        assert_eq!(store.write(|tx| tx.append(&large)), Err(StoreError::Full));
        assert_eq!(store.read(|read| read.history(large.room.as_ref())).unwrap().len(), 1);
        assert_eq!(store.check(), Ok(()));
    }

    #[test]
    fn a_place_that_is_not_there_is_said_so() {
        let (folder, path) = ours();
        let missing = Store::open(folder.path().join("gone").join("rooms.sqlite")).unwrap_err();
        assert!(matches!(&missing, StoreError::Io { what } if what.contains("No such file")), "{missing:?}");
        assert_eq!(kind(Store::open(folder.path())), "io");
        assert_eq!(kind(Store::open(path.join("rooms.sqlite"))), "io");
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1, "no probe is left behind");
    }
}
