//! A row taken column by column, in the order its statement names them.

use rusqlite::Row;
use rusqlite::types::{FromSql, Type};
use survey::units::{Length, NotFinite};

/// The columns of a row still to be taken.
pub(crate) struct Columns<'r> {
    row: &'r Row<'r>,
    next: usize,
}

impl<'r> Columns<'r> {
    pub(crate) fn new(row: &'r Row<'r>) -> Self {
        Self { row, next: 0 }
    }

    /// The next column.
    pub(crate) fn take<T: FromSql>(&mut self) -> rusqlite::Result<T> {
        self.next += 1;
        self.row.get(self.next - 1)
    }

    /// The next column, in millimetres.
    pub(crate) fn length(&mut self) -> rusqlite::Result<Length> {
        let mm = self.take()?;
        Length::try_mm(mm).map_err(|error| self.unreadable(Type::Real, error))
    }

    /// The next column, in millimetres where it is filled.
    pub(crate) fn length_if_any(&mut self) -> rusqlite::Result<Option<Length>> {
        let mm: Option<f64> = self.take()?;
        mm.map(Length::try_mm).transpose().map_err(|error: NotFinite| self.unreadable(Type::Real, error))
    }

    /// What to say of the column just taken when it holds what it should not.
    pub(crate) fn unreadable(
        &self,
        kind: Type,
        error: impl Into<Box<dyn std::error::Error + Send + Sync>>,
    ) -> rusqlite::Error {
        rusqlite::Error::FromSqlConversionFailure(self.next - 1, kind, error.into())
    }
}
