//! What a file is, and whether it is whole, seen without writing anything.

use std::path::Path;

use rusqlite::{Connection, OpenFlags};

use crate::check;
use crate::error::StoreError;
use crate::migrate::MIGRATIONS;

/// Marks a file as Truefall's: "True" in ASCII.
pub(crate) const APPLICATION_ID: u32 = 0x5472_7565;

/// The pages up to which a file is looked over whole before it is opened: 32 MiB, some 90,000 readings. A larger one
/// would keep the reader waiting.
const LOOKED_OVER: u32 = 8192;

/// What a file turned out to be.
#[derive(Debug, PartialEq, Eq)]
pub(crate) enum Kind {
    /// Nothing is in it yet.
    Empty,
    /// Ours, in the form of this version.
    Ours(u32),
}

/// A second connection that cannot write, for long looks that must not keep readings waiting.
pub(crate) fn look(path: &Path) -> Result<Connection, StoreError> {
    Ok(Connection::open_with_flags(path, OpenFlags::SQLITE_OPEN_READ_ONLY)?)
}

/// Whether a file is ours and whole. Nothing is written.
pub(crate) fn inspect(path: &Path) -> Result<(), StoreError> {
    match examine(&look(path)?, MIGRATIONS).map_err(as_damage)? {
        Kind::Empty => Err(StoreError::damaged("it is empty")),
        Kind::Ours(_) => Ok(()),
    }
}

/// What a file is, and whether it is whole.
pub(crate) fn examine(connection: &Connection, migrations: &[&str]) -> Result<Kind, StoreError> {
    let kind = identify(connection, migrations.len() as u32)?;
    if let Kind::Ours(version) = kind {
        if pages(connection)? <= LOOKED_OVER {
            check::quick(connection)?;
        }
        check::form(connection, migrations.get(..version as usize).unwrap_or(migrations))?;
    }
    Ok(kind)
}

fn pages(connection: &Connection) -> Result<u32, StoreError> {
    Ok(connection.pragma_query_value(None, "page_count", |row| row.get(0))?)
}

/// What makes no sense in a file that was found is the file's damage, not a mistake of this program.
pub(crate) fn as_damage(error: StoreError) -> StoreError {
    match error {
        StoreError::Internal { what } => StoreError::damaged(what),
        other => other,
    }
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
