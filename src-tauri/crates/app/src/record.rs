//! The sheets of a room as one PDF.

use crate::app::App;
use crate::refusal::{Kind, Refusal};
use crate::wire::FileBytes;

impl App {
    /// The findings and the cut list of a room as a PDF.
    ///
    /// # Errors
    /// `not-found` if there is no such room.
    pub fn record(&self, _room: &str) -> Result<FileBytes, Refusal> {
        Err(Refusal::new(Kind::NotReady, "The sheets cannot be printed yet."))
    }

    /// The same as bytes.
    ///
    /// # Errors
    /// As [`App::record`].
    pub fn record_pdf(&self, _room: &str) -> Result<Vec<u8>, Refusal> {
        Err(Refusal::new(Kind::NotReady, "The sheets cannot be printed yet."))
    }
}
