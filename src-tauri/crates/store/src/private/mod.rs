//! Private texts: people, addresses, notes. Everything else holds only their digest, so the journal verifies where a
//! text is missing, too.

use data_encoding::HEXLOWER;
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
    format!("sha256:{}", HEXLOWER.encode(&digest))
}

impl Read<'_> {
    /// The private text of a digest; none where it is not kept.
    pub fn private_text(&self, digest: &str) -> Result<Option<PrivateText>, StoreError> {
        first(self.connection, include_str!("get.sql"), [digest], take_private)
    }

    /// The text a person may read: a digest gives its private text, none where it is not kept; any other text is
    /// itself.
    pub fn reveal(&self, text: &str) -> Result<Option<String>, StoreError> {
        if !is_digest(text) {
            return Ok(Some(text.to_owned()));
        }
        Ok(self.private_text(text)?.map(|private| private.value))
    }

    /// The digests of the private texts in which this text stands; ASCII letters of either case.
    pub fn private_with(&self, text: &str) -> Result<Vec<String>, StoreError> {
        let pattern = crate::documents::like(text);
        let found = list(self.connection, include_str!("holding.sql"), [pattern], take_private)?;
        Ok(found.into_iter().map(|text| text.digest).collect())
    }

    /// Every private text whose digest is no longer that of its salt and value.
    pub(crate) fn changed_private_texts(&self) -> Result<Vec<String>, StoreError> {
        let all = list(self.connection, include_str!("all.sql"), [], take_private)?;
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
}

/// Whether a text is the digest that stands for another.
pub fn is_digest(text: &str) -> bool {
    let bytes = text.strip_prefix("sha256:").and_then(|digits| HEXLOWER.decode(digits.as_bytes()).ok());
    bytes.is_some_and(|bytes| bytes.len() == 32)
}

pub(crate) fn take_private(columns: &mut Columns<'_>) -> rusqlite::Result<PrivateText> {
    Ok(PrivateText { digest: columns.take()?, salt: columns.take()?, value: columns.take()? })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::examples::{entry, room};
    use crate::journal::{Chain, Entry};
    use crate::{Room, Store, Units};

    const SALT: [u8; SALT_BYTES] = *b"sixteen of these";

    #[test]
    fn a_missing_text_leaves_the_journal_verifying() {
        let store = Store::in_memory().unwrap();
        let digest = store
            .write(|tx| -> Result<_, StoreError> {
                let digest = tx.keep_private(&SALT, "12 Kestrel Lane")?;
                tx.append(&Entry { payload: format!("{{\"place\":\"{digest}\"}}").into(), ..entry("e1") })?;
                let room = Room::new("r1", "Hall bath", Units::Inches, "2031-04-02T07:31:05-05:00");
                tx.rooms().insert(&Room { place: Some(digest.clone()), ..room })?;
                Ok(digest)
            })
            .unwrap();
        let kept = PrivateText { digest: digest.clone(), salt: SALT, value: "12 Kestrel Lane".into() };
        assert_eq!(store.read(|read| read.private_text(&digest)).unwrap(), Some(kept));
        assert_eq!(store.read(|read| read.reveal(&digest)).unwrap().as_deref(), Some("12 Kestrel Lane"));

        store.connection().execute("DELETE FROM private", []).unwrap();
        assert_eq!(store.read(|read| read.reveal(&digest)).unwrap(), None);
        assert!(matches!(store.read(|read| read.verify(Some(&room()))).unwrap(), Chain::Fits(head) if head.seq == 1));
        assert_eq!(store.read(|read| read.rooms().get(&room())).unwrap().unwrap().place, Some(digest));
        assert_eq!(store.check(), Ok(()));
    }

    #[test]
    fn a_text_is_kept_once_and_comes_back_when_kept_again() {
        let store = Store::in_memory().unwrap();
        let keep = || store.write(|tx| tx.keep_private(&SALT, "Ann")).unwrap();
        let digest = keep();
        assert_eq!(keep(), digest);
        store.connection().execute("DELETE FROM private", []).unwrap();
        keep();
        assert_eq!(store.read(|read| read.reveal(&digest)).unwrap().as_deref(), Some("Ann"));
    }

    #[test]
    fn only_a_digest_stands_for_another_text() {
        let store = Store::in_memory().unwrap();
        let upper = private_digest(&SALT, "Ann").to_uppercase();
        for text in ["", "Ann", "sha256:", "sha256:abc", &upper] {
            assert_eq!(store.read(|read| read.reveal(text)).unwrap().as_deref(), Some(text));
        }
    }
}
