//! Private texts: people, addresses, notes. Everything else holds only their digest, so a text can be forgotten and
//! the journal still verifies.

use rusqlite::params;
use sha2::{Digest, Sha256};

use crate::access::{Read, Tx, first, list};
use crate::columns::Columns;
use crate::error::StoreError;

/// The length of a salt. It is fixed, so that no part of a salt can be passed off as text.
pub const SALT_BYTES: usize = 16;

/// A private text and the salt it is kept under.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PrivateText {
    pub digest: String,
    pub salt: [u8; SALT_BYTES],
    pub value: String,
}

/// The name of a private text: `sha256:` and SHA-256(salt ‖ value) in 64 hexadecimal digits.
///
/// ```
/// # use store::private_digest;
/// let digest = private_digest(&[0; 16], "");
/// assert_eq!(digest, "sha256:374708fff7719dd5979ec875d56cd2286f6d3cf7ec317a3b25632aab28ec37bb");
/// ```
pub fn private_digest(salt: &[u8; SALT_BYTES], value: &str) -> String {
    let digest = Sha256::new().chain_update(salt).chain_update(value).finalize();
    digest.iter().fold("sha256:".to_owned(), |hex, byte| format!("{hex}{byte:02x}"))
}

impl Read<'_> {
    /// The private text of a digest; none once it was forgotten.
    pub fn private_text(&self, digest: &str) -> Result<Option<PrivateText>, StoreError> {
        first(self.connection, include_str!("get.sql"), [digest], take)
    }

    /// The text a person may read: a digest gives its private text, none once it was forgotten; any other text is
    /// itself.
    pub fn reveal(&self, text: &str) -> Result<Option<String>, StoreError> {
        if !is_digest(text) {
            return Ok(Some(text.to_owned()));
        }
        Ok(self.private_text(text)?.map(|private| private.value))
    }

    /// Every private text whose digest is no longer that of its salt and value.
    pub(crate) fn changed_private_texts(&self) -> Result<Vec<String>, StoreError> {
        let all = list(self.connection, include_str!("all.sql"), [], take)?;
        let changed = all.into_iter().filter(|text| private_digest(&text.salt, &text.value) != text.digest);
        Ok(changed.map(|text| text.digest).collect())
    }
}

impl Tx<'_> {
    /// Keeps a private text and gives the digest that stands for it everywhere else.
    ///
    /// The salt must be drawn afresh for each text: without it a guessed address can be confirmed by its digest.
    pub fn keep_private(&self, salt: &[u8; SALT_BYTES], value: &str) -> Result<String, StoreError> {
        let digest = private_digest(salt, value);
        self.connection.prepare_cached(include_str!("keep.sql"))?.execute(params![digest, salt, value])?;
        Ok(digest)
    }

    /// Forgets a private text for good; its digest stays wherever it stands, and the journal still verifies.
    pub fn forget_private(&self, digest: &str) -> Result<(), StoreError> {
        self.connection.prepare_cached(include_str!("forget.sql"))?.execute([digest])?;
        Ok(())
    }
}

fn is_digest(text: &str) -> bool {
    text.strip_prefix("sha256:")
        .is_some_and(|hex| hex.len() == 64 && hex.bytes().all(|byte| matches!(byte, b'0'..=b'9' | b'a'..=b'f')))
}

fn take(columns: &mut Columns<'_>) -> rusqlite::Result<PrivateText> {
    Ok(PrivateText { digest: columns.take()?, salt: columns.take()?, value: columns.take()? })
}
