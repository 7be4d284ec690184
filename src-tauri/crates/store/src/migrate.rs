//! Bringing an older file up to date, one numbered step after the other, each kept whole or not at all.

use std::path::{Path, PathBuf};

use rusqlite::{Connection, TransactionBehavior};

use crate::backup;
use crate::error::StoreError;

/// The steps in their order. A released step never changes; what is to be different comes as a further one.
pub(crate) const MIGRATIONS: &[&str] = &[include_str!("../migrations/0001_journal_and_tables.sql")];

/// The form of the tables this program writes.
pub const VERSION: u32 = MIGRATIONS.len() as u32;

/// Runs the steps the file has not seen. An older file is copied aside first.
pub(crate) fn bring_up_to_date(
    connection: &mut Connection,
    path: Option<&Path>,
    migrations: &[&str],
) -> Result<(), StoreError> {
    let newest = migrations.len() as u32;
    let found = version(connection)?;
    if let Some(path) = path.filter(|_| 0 < found && found < newest) {
        backup::copy(connection, &aside(path, newest))?;
    }
    for (step, sql) in (1..=newest).zip(migrations) {
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

/// A free name for the copy: `rooms.before-2.sqlite`, and if an earlier try left one, `rooms.before-2.1.sqlite`.
fn aside(path: &Path, newest: u32) -> PathBuf {
    let extension = path.extension().map_or("sqlite".into(), |extension| extension.to_string_lossy());
    let first = path.with_extension(format!("before-{newest}.{extension}"));
    let further = (1_u32..).map(|try_number| path.with_extension(format!("before-{newest}.{try_number}.{extension}")));
    std::iter::once(first).chain(further).find(|name| !name.exists()).unwrap_or_else(|| path.to_owned())
}
