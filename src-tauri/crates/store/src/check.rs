//! Whether a file is whole: its pages, its tables, its chains, its private texts.

use rusqlite::{Connection, Transaction, TransactionBehavior};

use crate::access::Read;
use crate::error::StoreError;
use crate::journal::Chain;
use crate::migrate::{self, MIGRATIONS};

/// Goes through everything of a file that can be checked without knowing any command.
pub(crate) fn everything(connection: &Connection) -> Result<(), StoreError> {
    let snapshot = Transaction::new_unchecked(connection, TransactionBehavior::Deferred)?;
    let read = Read { connection: &snapshot };
    healthy(read.connection, "integrity_check")?;
    form(read.connection, MIGRATIONS)?;
    references(read.connection)?;
    chains(&read)?;
    private_texts(&read)
}

/// Whether the pages and rows of the file can be read.
pub(crate) fn quick(connection: &Connection) -> Result<(), StoreError> {
    healthy(connection, "quick_check")
}

fn healthy(connection: &Connection, pragma: &str) -> Result<(), StoreError> {
    let found: String = connection.query_row(&format!("PRAGMA {pragma}(1)"), [], |row| row.get(0))?;
    if found == "ok" { Ok(()) } else { Err(StoreError::damaged(found.replace('\n', " "))) }
}

/// Whether tables, indexes and triggers are those that the steps make.
pub(crate) fn form(connection: &Connection, migrations: &[&str]) -> Result<(), StoreError> {
    let mut made = Connection::open_in_memory()?;
    migrate::bring_up_to_date(&mut made, migrations)?;
    if statements(connection)? == statements(&made)? {
        Ok(())
    } else {
        Err(StoreError::damaged("its tables have another form than they should"))
    }
}

/// What made each table, index and trigger; those that the database keeps for itself aside.
fn statements(connection: &Connection) -> Result<Vec<String>, StoreError> {
    let mut statement = connection
        .prepare("SELECT sql FROM sqlite_schema WHERE sql NOT NULL AND name NOT LIKE 'sqlite%' ORDER BY sql")?;
    let rows = statement.query_map([], |row| row.get(0))?;
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::examples::{entry, reading, store};

    #[test]
    fn every_fault_is_named() {
        let check = |spoil: &str, want: &str| {
            let store = store();
            let digest = store.write(|tx| -> Result<_, StoreError> {
                tx.append(&entry("e1"))?;
                tx.append(&entry("e2"))?;
                tx.readings().insert(&reading("a"))?;
                tx.keep_private(b"sixteen of these", "Ann")
            });
            assert_eq!(store.check(), Ok(()));
            store.connection().execute_batch(&format!("PRAGMA foreign_keys = OFF; {spoil}")).unwrap();
            match store.check() {
                Err(StoreError::Damaged { found }) => {
                    assert_eq!(found, want.replace("DIGEST", &digest.unwrap()), "{spoil}");
                }
                other => panic!("{spoil}: {other:?}"),
            }
        };
        let altering = |change: &str| format!("{LOOSEN} {change}; {TIGHTEN}");
        let entry_2 = "entry 2 (e2) of room r1 does not fit the journal before it";
        check(&altering("UPDATE journal SET payload = x'00' WHERE id = 'e2'"), entry_2);
        check(&altering("UPDATE journal SET at = replace(at, '07:', '08:') WHERE id = 'e2'"), entry_2);
        check(&altering("UPDATE journal SET id = CAST(x'ff' AS TEXT) WHERE seq = 2"), &entry_2.replace(" (e2)", ""));
        check(&altering("DELETE FROM journal WHERE seq = 1"), &entry_2.replace("entry 2", "entry 1"));
        check("UPDATE private SET value = 'Bea'", "the private text DIGEST was changed");
        check("DELETE FROM setups", "a row of readings has lost its row of setups");
        check("DROP TRIGGER journal_keeps_every_entry", "its tables have another form than they should");
        check("CREATE TABLE further (a)", "its tables have another form than they should");
    }

    const LOOSEN: &str = "DROP TRIGGER journal_keeps_what_it_says; DROP TRIGGER journal_keeps_every_entry;";
    const TIGHTEN: &str = "
CREATE TRIGGER journal_keeps_what_it_says BEFORE UPDATE ON journal
BEGIN
    SELECT RAISE(ABORT, 'an entry of the journal is never changed');
END;
CREATE TRIGGER journal_keeps_every_entry BEFORE DELETE ON journal
BEGIN
    SELECT RAISE(ABORT, 'an entry of the journal is never removed');
END;";
}
