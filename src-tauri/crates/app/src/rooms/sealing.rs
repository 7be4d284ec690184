//! Private texts sealed: the journal gets their digests.

use super::private::in_clear;
use super::salt::salt;
use super::state::read_private;
use crate::app::App;
use crate::fault::Fault;
use crate::files::journal_entries::entry_out;
use crate::files::sha256sums::sha256;
use crate::forms::{PrivateText, Sealed};
use judge::Refusal;
use std::collections::HashMap;
use store::{EntryId, SALT_BYTES, Tx, private_digest};

/// Seals the private texts of one change, each under a salt of its own.
pub(crate) struct Sealing {
    drawn: String,
    digests: HashMap<String, String>,
    sealed: Vec<PrivateText>,
}

impl Sealing {
    /// For the change of an id: a repeat is sealed as it was the first time, so that it is the same change.
    ///
    /// # Errors
    /// Whatever keeps the rooms from being read.
    pub(crate) fn of(app: &App, id: &str) -> Result<Self, Refusal> {
        let before = app.store.read(|read| match read.entry(&EntryId::from(id))? {
            Some(entry) => read_private(read, &[entry_out(entry)]),
            None => Ok(Vec::new()),
        })?;
        let digests = before.into_iter().map(|text| Ok((digest(&text)?, text.value)));
        let digests = digests.map(|pair| pair.map(|(digest, value)| (value, digest)));
        let digests = digests.collect::<Result<_, Refusal>>()?;
        Ok(Self { drawn: format!("{}{}", app.new_id(), app.new_id()), digests, sealed: Vec::new() })
    }

    /// Puts its digest in the place of a text.
    ///
    /// # Errors
    /// None in practice: the salt is made here.
    pub(crate) fn seal(&mut self, text: &mut String) -> Result<(), Refusal> {
        if !in_clear(text) {
            return Ok(());
        }
        if let Some(known) = self.digests.get(text) {
            text.clone_from(known);
            return Ok(());
        }
        let salt: String =
            sha256(format!("{}{}", self.drawn, self.sealed.len()).as_bytes()).chars().take(2 * SALT_BYTES).collect();
        let private = PrivateText { salt, value: std::mem::take(text) };
        *text = digest(&private)?;
        self.digests.insert(private.value.clone(), text.clone());
        self.sealed.push(private);
        Ok(())
    }

    /// Keeps what was sealed beside the journal.
    ///
    /// # Errors
    /// Whatever keeps it from being written.
    pub(crate) fn keep(&self, tx: &Tx<'_>) -> Result<(), Fault> {
        self.sealed
            .iter()
            .try_for_each(|text| tx.keep_private(&salt(&text.salt)?, &text.value).map(drop).map_err(Into::into))
    }
}

fn digest(text: &PrivateText) -> Result<String, Refusal> {
    Ok(private_digest(&salt(&text.salt)?, &text.value))
}

impl App {
    /// A fresh salt for a private text, and the digest that takes its place.
    pub fn seal(&self, value: &str) -> Sealed {
        let drawn = sha256(format!("{}{}", self.new_id(), self.new_id()).as_bytes());
        let digits: String = drawn.chars().take(2 * SALT_BYTES).collect();
        let bytes = salt(&digits).unwrap_or_default();
        Sealed { digest: private_digest(&bytes, value), salt: digits }
    }
}
