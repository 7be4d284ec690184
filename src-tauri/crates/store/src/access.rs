//! The two ways in: a reader over one unchanging state, and a transaction that reads and writes.

use std::marker::PhantomData;
use std::ops::Deref;

use rusqlite::{Connection, Params};

use crate::columns::Columns;
use crate::error::StoreError;

/// A look at the store as it stood when the look began.
pub struct Read<'c> {
    pub(crate) connection: &'c Connection,
}

/// One transaction: it is kept whole or not at all. Everything of [`Read`] is at hand too.
pub struct Tx<'c> {
    pub(crate) read: Read<'c>,
}

impl<'c> Tx<'c> {
    pub(crate) fn new(connection: &'c Connection) -> Self {
        Self { read: Read { connection } }
    }
}

impl<'c> Deref for Tx<'c> {
    type Target = Read<'c>;

    fn deref(&self) -> &Read<'c> {
        &self.read
    }
}

/// Rows may be looked at.
#[derive(Debug)]
pub enum ReadOnly {}

/// Rows may be looked at and changed.
#[derive(Debug)]
pub enum ReadWrite {}

/// The rows of one table, with what may be asked of them.
pub struct Rows<'c, Row, Access = ReadOnly> {
    connection: &'c Connection,
    kind: PhantomData<(Row, Access)>,
}

impl<'c, Row, Access> Rows<'c, Row, Access> {
    pub(crate) fn new(connection: &'c Connection) -> Self {
        Self { connection, kind: PhantomData }
    }

    /// Every row of a statement, in its order.
    pub(crate) fn list<T>(
        &self,
        sql: &str,
        params: impl Params,
        take: fn(&mut Columns<'_>) -> rusqlite::Result<T>,
    ) -> Result<Vec<T>, StoreError> {
        list(self.connection, sql, params, take)
    }

    /// The first row of a statement.
    pub(crate) fn first<T>(
        &self,
        sql: &str,
        params: impl Params,
        take: fn(&mut Columns<'_>) -> rusqlite::Result<T>,
    ) -> Result<Option<T>, StoreError> {
        first(self.connection, sql, params, take)
    }
}

impl<Row> Rows<'_, Row, ReadWrite> {
    /// Runs a change and says how many rows it touched.
    pub(crate) fn change(&self, sql: &str, params: impl Params) -> Result<usize, StoreError> {
        Ok(self.connection.prepare_cached(sql)?.execute(params)?)
    }

    /// Runs a change of one row that must be there.
    pub(crate) fn change_one(&self, sql: &str, params: impl Params, what: &str) -> Result<(), StoreError> {
        match self.change(sql, params)? {
            0 => Err(StoreError::refused(format!("there is no such {what}"))),
            _ => Ok(()),
        }
    }
}

/// Every row of a statement, in its order.
pub(crate) fn list<T>(
    connection: &Connection,
    sql: &str,
    params: impl Params,
    take: fn(&mut Columns<'_>) -> rusqlite::Result<T>,
) -> Result<Vec<T>, StoreError> {
    let mut statement = connection.prepare_cached(sql)?;
    let rows = statement.query_map(params, |row| take(&mut Columns::new(row)))?;
    Ok(rows.collect::<rusqlite::Result<_>>()?)
}

/// The first row of a statement.
pub(crate) fn first<T>(
    connection: &Connection,
    sql: &str,
    params: impl Params,
    take: fn(&mut Columns<'_>) -> rusqlite::Result<T>,
) -> Result<Option<T>, StoreError> {
    let mut statement = connection.prepare_cached(sql)?;
    let mut rows = statement.query(params)?;
    Ok(rows.next()?.map(|row| take(&mut Columns::new(row))).transpose()?)
}
