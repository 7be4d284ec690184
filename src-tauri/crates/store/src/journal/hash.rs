//! The hash of an entry, as bytes, as a column and as text.

use std::fmt;
use std::str::FromStr;

use data_encoding::{HEXLOWER, HEXLOWER_PERMISSIVE};
use rusqlite::types::{FromSql, FromSqlResult, ToSql, ToSqlOutput, ValueRef};
use sha2::{Digest, Sha256};

/// The hash of an entry, which vouches for the whole chain up to it. Shown as 64 lower-case hexadecimal digits.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub struct ChainHash([u8; 32]);

impl ChainHash {
    /// The hash of what was digested.
    pub(super) fn of(digest: Sha256) -> Self {
        Self(digest.finalize().into())
    }

    pub fn as_bytes(&self) -> &[u8; 32] {
        &self.0
    }
}

impl fmt::Display for ChainHash {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&HEXLOWER.encode(&self.0))
    }
}

/// The text is not a hash of 64 hexadecimal digits.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct NotAHash;

impl fmt::Display for NotAHash {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a hash has 64 hexadecimal digits")
    }
}

impl std::error::Error for NotAHash {}

impl FromStr for ChainHash {
    type Err = NotAHash;

    fn from_str(text: &str) -> Result<Self, NotAHash> {
        let bytes = HEXLOWER_PERMISSIVE.decode(text.as_bytes()).map_err(|_| NotAHash)?;
        bytes.try_into().map(Self).map_err(|_| NotAHash)
    }
}

impl ToSql for ChainHash {
    fn to_sql(&self) -> rusqlite::Result<ToSqlOutput<'_>> {
        self.0.to_sql()
    }
}

impl FromSql for ChainHash {
    fn column_result(value: ValueRef<'_>) -> FromSqlResult<Self> {
        FromSql::column_result(value).map(Self)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const FIRST: &str = "c9d0158b3865cd744f97edb71eead6cb8852224e741130385d081f363c169e95";

    #[test]
    fn a_hash_reads_back_and_nothing_else_does() {
        assert_eq!(FIRST.parse::<ChainHash>().unwrap().to_string(), FIRST);
        let long = format!("{FIRST}00");
        for bad in ["", "c9", &FIRST[1..], &long, &FIRST.replace('c', "g"), &FIRST.replace("c9", "é")] {
            assert_eq!(bad.parse::<ChainHash>(), Err(NotAHash), "{bad}");
        }
    }
}
