//! The tables made anew from the journal.

use crate::access::Tx;
use crate::columns::Columns;
use crate::error::StoreError;
use crate::journal::entry::{Recorded, take};
use crate::store::Store;
use crate::tables;

impl Store {
    /// Empties every table that the journal fills and hands over each entry in the order of arrival, in one
    /// transaction. Journal and private texts stay as they are; `apply` changes tables and appends nothing.
    ///
    /// # Errors
    /// Whatever `apply` refuses with; the tables are then as they were.
    pub fn rebuild<E: From<StoreError>>(
        &self,
        mut apply: impl FnMut(&Tx<'_>, &Recorded) -> Result<(), E>,
    ) -> Result<(), E> {
        self.write(|tx| {
            tables::empty(tx.connection)?;
            let mut statement = tx.connection.prepare(include_str!("arrivals.sql")).map_err(StoreError::from)?;
            let mut rows = statement.query([]).map_err(StoreError::from)?;
            while let Some(row) = rows.next().map_err(StoreError::from)? {
                apply(tx, &take(&mut Columns::new(row)).map_err(StoreError::from)?)?;
            }
            Ok(())
        })
    }
}
