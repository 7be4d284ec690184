//! Whether a file is whole: its pages, its tables, its chains, its private texts.

use rusqlite::{Connection, Transaction, TransactionBehavior};

use crate::access::Read;
use crate::error::StoreError;
use crate::journal::Chain;
use crate::opening;
use crate::store::Store;

impl Store {
    /// Goes through everything that can be checked without knowing any command: pages and indexes, the form of the
    /// tables, references between rows, every hash chain, the digest of every private text. That the tables are what
    /// the journal makes of them shows only in a rebuild.
    ///
    /// # Errors
    /// [`StoreError::Damaged`] with the first fault found.
    pub fn check(&self) -> Result<(), StoreError> {
        self.look_aside(|connection| {
            let snapshot = Transaction::new_unchecked(connection, TransactionBehavior::Deferred)?;
            let read = Read { connection: &snapshot };
            healthy(read.connection, "integrity_check")?;
            same_form(read.connection)?;
            references(read.connection)?;
            chains(&read)?;
            private_texts(&read)
        })
    }
}

/// Whether the pages and rows of the file can be read.
pub(crate) fn quick(connection: &Connection) -> Result<(), StoreError> {
    healthy(connection, "quick_check")
}

fn healthy(connection: &Connection, pragma: &str) -> Result<(), StoreError> {
    let found: String = connection.query_row(&format!("PRAGMA {pragma}(1)"), [], |row| row.get(0))?;
    if found == "ok" { Ok(()) } else { Err(StoreError::damaged(found.replace('\n', " "))) }
}

fn same_form(connection: &Connection) -> Result<(), StoreError> {
    if form(connection)? == form(&opening::in_memory()?)? {
        Ok(())
    } else {
        Err(StoreError::damaged("its tables have another form than they should"))
    }
}

/// The tables, indexes and triggers as they were made.
fn form(connection: &Connection) -> Result<Vec<(String, Option<String>)>, StoreError> {
    let mut statement = connection.prepare("SELECT name, sql FROM sqlite_schema ORDER BY type, name")?;
    let rows = statement.query_map([], |row| Ok((row.get(0)?, row.get(1)?)))?;
    Ok(rows.collect::<rusqlite::Result<_>>()?)
}

fn references(connection: &Connection) -> Result<(), StoreError> {
    let mut statement = connection.prepare("PRAGMA foreign_key_check")?;
    let mut rows = statement.query([])?;
    match rows.next()? {
        None => Ok(()),
        Some(row) => {
            let (table, parent): (String, String) = (row.get(0)?, row.get(2)?);
            Err(StoreError::damaged(format!("a row of {table} has lost its row of {parent}")))
        }
    }
}

fn chains(read: &Read<'_>) -> Result<(), StoreError> {
    for room in read.chains()? {
        if let Chain::Breaks { seq, id } = read.verify(room.as_ref())? {
            let of = room.map_or("the settings".into(), |room| format!("room {room}"));
            let id = id.map_or(String::new(), |id| format!(" ({id})"));
            return Err(StoreError::damaged(format!("entry {seq}{id} of {of} does not fit the journal before it")));
        }
    }
    Ok(())
}

fn private_texts(read: &Read<'_>) -> Result<(), StoreError> {
    match read.changed_private_texts()?.first() {
        None => Ok(()),
        Some(digest) => Err(StoreError::damaged(format!("the private text {digest} was changed"))),
    }
}
