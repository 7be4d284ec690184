//! Opening a file: what it is, whether it is whole, and how it is to be kept. Nothing is written before that is known.

use std::ffi::OsString;
use std::fs;
use std::io;
use std::path::{Path, PathBuf};
use std::time::Duration;

use rusqlite::config::DbConfig;
use rusqlite::{Connection, OpenFlags};

use crate::check;
use crate::error::StoreError;
use crate::migrate::{self, MIGRATIONS};

/// Marks a file as Truefall's: "True" in ASCII.
pub(crate) const APPLICATION_ID: u32 = 0x5472_7565;

/// What a file turned out to be.
#[derive(Debug, PartialEq, Eq)]
enum Kind {
    /// Nothing is in it yet.
    Empty,
    /// Ours, in the form of this version.
    Ours(u32),
}

pub(crate) fn open(path: &Path, patience: Duration) -> Result<Connection, StoreError> {
    let access = OpenFlags::SQLITE_OPEN_READ_WRITE | OpenFlags::SQLITE_OPEN_CREATE;
    open_as(path, patience, access, MIGRATIONS).map_err(|error| why_not_opened(path, error))
}

fn open_as(path: &Path, patience: Duration, access: OpenFlags, migrations: &[&str]) -> Result<Connection, StoreError> {
    refuse_orphaned_log(path)?;
    let mut connection = Connection::open_with_flags(path, access | OpenFlags::SQLITE_OPEN_NO_MUTEX)?;
    connection.busy_timeout(patience)?;
    write_nothing_on_close(&connection, true)?;
    let kind = identify(&connection, migrations.len() as u32)?;
    if connection.is_readonly(rusqlite::MAIN_DB)? {
        return Err(StoreError::ReadOnly);
    }
    check::quick(&connection)?;
    prepare(&connection, &kind)?;
    migrate::bring_up_to_date(&mut connection, Some(path), migrations)?;
    write_nothing_on_close(&connection, false)?;
    Ok(connection)
}

pub(crate) fn in_memory() -> Result<Connection, StoreError> {
    let mut connection = Connection::open_in_memory()?;
    prepare(&connection, &Kind::Empty)?;
    migrate::bring_up_to_date(&mut connection, None, MIGRATIONS)?;
    Ok(connection)
}

/// A second connection that cannot write, for long looks that must not keep readings waiting.
pub(crate) fn look(path: &Path) -> Result<Connection, StoreError> {
    Ok(Connection::open_with_flags(path, OpenFlags::SQLITE_OPEN_READ_ONLY)?)
}

/// Whether a file is ours and whole. Nothing is written.
pub(crate) fn inspect(path: &Path) -> Result<(), StoreError> {
    let connection = look(path)?;
    match identify(&connection, MIGRATIONS.len() as u32)? {
        Kind::Empty => Err(StoreError::damaged("it is empty")),
        Kind::Ours(_) => check::quick(&connection),
    }
}

/// Changes still in the log would be thrown away if its database were made anew.
fn refuse_orphaned_log(path: &Path) -> Result<(), StoreError> {
    let bytes = |path: &Path| fs::metadata(path).map_or(0, |metadata| metadata.len());
    match (bytes(path), bytes(&beside(path, "-wal"))) {
        (0, 1..) => Err(StoreError::damaged("it is empty, and its log is not")),
        _ => Ok(()),
    }
}

/// The path with text added to the file's name.
pub(crate) fn beside(path: &Path, suffix: &str) -> PathBuf {
    let mut name = OsString::from(path);
    name.push(suffix);
    PathBuf::from(name)
}

/// Until a file is known to be whole, closing must not move its log into it.
fn write_nothing_on_close(connection: &Connection, nothing: bool) -> Result<(), StoreError> {
    connection.set_db_config(DbConfig::SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, nothing)?;
    Ok(())
}

fn identify(connection: &Connection, known: u32) -> Result<Kind, StoreError> {
    let application: u32 = connection.pragma_query_value(None, "application_id", |row| row.get(0))?;
    let version: u32 = connection.pragma_query_value(None, "user_version", |row| row.get(0))?;
    let things: u32 = connection.query_row("SELECT count(*) FROM sqlite_schema", [], |row| row.get(0))?;
    match (application, version, things) {
        (0 | APPLICATION_ID, 0, 0) => Ok(Kind::Empty),
        (APPLICATION_ID, 0, _) | (APPLICATION_ID, 1.., 0) => Err(StoreError::damaged("its tables are missing")),
        (APPLICATION_ID, found, _) if found > known => Err(StoreError::Newer { found, known }),
        (APPLICATION_ID, found, _) => Ok(Kind::Ours(found)),
        _ => Err(StoreError::NotOurs),
    }
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
