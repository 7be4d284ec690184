//! The tables that the journal fills: how to reach them, empty them, and compare them.

use rusqlite::Connection;
use rusqlite::types::ValueRef;

use crate::access::{Read, ReadOnly, ReadWrite, Rows, Tx};
use crate::error::StoreError;
use crate::{Answer, Approval, Document, Photograph, Reading, Room, Setup, Tick};

macro_rules! tables {
    ($($table:ident: $row:ident),+ $(,)?) => {
        /// Every table that the journal fills, parents first.
        const TABLES: &[&str] = &[$(stringify!($table)),+];

        impl<'c> Read<'c> {
            $(pub fn $table(&self) -> Rows<'c, $row, ReadOnly> {
                Rows::new(self.connection)
            })+
        }

        impl<'c> Tx<'c> {
            $(pub fn $table(&self) -> Rows<'c, $row, ReadWrite> {
                Rows::new(self.connection)
            })+
        }
    };
}

tables! {
    rooms: Room,
    documents: Document,
    setups: Setup,
    readings: Reading,
    answers: Answer,
    approvals: Approval,
    ticks: Tick,
    photographs: Photograph,
}

/// Empties every table that the journal fills.
pub(crate) fn empty(connection: &Connection) -> Result<(), StoreError> {
    for table in TABLES.iter().rev() {
        connection.execute(&format!("DELETE FROM {table}"), [])?;
    }
    Ok(())
}

impl Read<'_> {
    /// Every row of every table that the journal fills, a line each in the order of arrival or of their key: two
    /// stores with the same content give the same text.
    pub fn tables_as_text(&self) -> Result<String, StoreError> {
        let mut lines = Vec::new();
        for table in TABLES {
            lines.extend(self.lines_of(table)?);
        }
        Ok(lines.concat())
    }

    fn lines_of(&self, table: &str) -> Result<Vec<String>, StoreError> {
        let mut statement = self.connection.prepare(&format!("SELECT * FROM {table} ORDER BY 1, 2, 3"))?;
        let compared = compared_columns(&statement);
        let mut rows = statement.query([])?;
        let mut lines = Vec::new();
        while let Some(row) = rows.next()? {
            let cells: Result<Vec<_>, _> = compared.iter().map(|&column| row.get_ref(column).map(cell)).collect();
            lines.push(format!("{table}\t{}\n", cells?.join("\t")));
        }
        Ok(lines)
    }
}

/// All columns but the count of arrivals, which has gaps where rows were removed.
fn compared_columns(statement: &rusqlite::Statement<'_>) -> Vec<usize> {
    let names = statement.column_names().enumerate();
    names.filter(|&(_, name)| name != "arrival").map(|(column, _)| column).collect()
}

fn cell(value: ValueRef<'_>) -> String {
    match value {
        ValueRef::Null => "-".into(),
        ValueRef::Integer(whole) => whole.to_string(),
        ValueRef::Real(real) => format!("{real:?}"),
        ValueRef::Text(text) => format!("{:?}", String::from_utf8_lossy(text)),
        ValueRef::Blob(bytes) => format!("{bytes:02x?}"),
    }
}
