//! The hash chain of a room, or of the settings.
//!
//! The hash of an entry is SHA-256 over three parts, one after the other:
//!
//! 1. the 32 bytes of the hash of the entry before it in the same chain; 32 zero bytes before the first;
//! 2. the header line, UTF-8;
//! 3. the payload, byte for byte as stored.
//!
//! The header line holds thirteen fields, joined by one tab and ended by one line feed:
//!
//! | | field | |
//! |---|---|---|
//! | 1 | `truefall-1` | the form of this line |
//! | 2 | number in the chain | decimal, from 1 |
//! | 3 | id | |
//! | 4 | room | `\N` in the chain of the settings |
//! | 5 | time | as stored, RFC 3339 with offset |
//! | 6 | device | |
//! | 7 | person | `\N` if none |
//! | 8 | command | |
//! | 9 | form of the payload | decimal |
//! | 10 | id of the entry it undoes | `\N` if none |
//! | 11 | inverse command | `\N` if none |
//! | 12 | form and SHA-256 of the inverse payload | decimal, a colon, 64 hexadecimal digits; `\N` if none |
//! | 13 | hash it had in another chain | 64 hexadecimal digits; `\N` if none |
//!
//! In fields of text a backslash is written `\\`, a tab `\t`, a line feed `\n` and a carriage return `\r`, so that no
//! text can be mistaken for a border between fields, nor for `\N`. The first line feed therefore ends the header.
//!
//! A chain shows that nothing in it was altered, left out or moved. That nothing was cut off its end shows only
//! against a head hash noted elsewhere, as every printed page does.

use std::fmt;
use std::str::FromStr;

use rusqlite::types::{FromSql, FromSqlResult, ToSql, ToSqlOutput, ValueRef};
use sha2::{Digest, Sha256};

use crate::id::EntryId;
use crate::journal::entry::{Entry, Head, Inverse, Recorded};

/// The hash of an entry, which vouches for the whole chain up to it. Shown as 64 lower-case hexadecimal digits.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub struct ChainHash([u8; 32]);

impl ChainHash {
    /// The hash of an entry that follows `previous` as number `seq`.
    pub fn following(previous: &ChainHash, seq: u32, entry: &Entry) -> Self {
        let header = entry.header_line(seq);
        Self(Sha256::new().chain_update(previous.0).chain_update(header).chain_update(&entry.payload).finalize().into())
    }

    pub fn as_bytes(&self) -> &[u8; 32] {
        &self.0
    }
}

impl fmt::Display for ChainHash {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.iter().try_for_each(|byte| write!(f, "{byte:02x}"))
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
        let digits: Option<Vec<u8>> = text.chars().map(|digit| digit.to_digit(16).map(|digit| digit as u8)).collect();
        let bytes: Vec<u8> = digits
            .ok_or(NotAHash)?
            .chunks(2)
            .map(|pair| pair.iter().fold(0, |byte, digit| byte << 4 | digit))
            .collect();
        if text.len() == 64 { bytes.try_into().map(Self).map_err(|_| NotAHash) } else { Err(NotAHash) }
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

impl Entry {
    /// The line that enters the hash before the payload, as number `seq` of the chain.
    pub fn header_line(&self, seq: u32) -> String {
        let fields = [
            "truefall-1".to_owned(),
            seq.to_string(),
            escaped(self.id.as_str()),
            field(self.room.as_ref().map(|room| room.as_str())),
            escaped(&self.at),
            escaped(&self.device),
            field(self.person.as_deref()),
            escaped(&self.command),
            self.form.to_string(),
            field(self.undoes.as_ref().map(EntryId::as_str)),
            field(self.inverse.as_ref().map(|inverse| inverse.command.as_str())),
            self.inverse.as_ref().map_or(NONE.to_owned(), Inverse::seal),
            self.origin.as_ref().map_or(NONE.to_owned(), ChainHash::to_string),
        ];
        fields.join("\t") + "\n"
    }
}

impl Inverse {
    fn seal(&self) -> String {
        format!("{}:{}", self.form, ChainHash(Sha256::digest(&self.payload).into()))
    }
}

const NONE: &str = "\\N";

fn field(text: Option<&str>) -> String {
    text.map_or(NONE.to_owned(), escaped)
}

fn escaped(text: &str) -> String {
    text.replace('\\', "\\\\").replace('\t', "\\t").replace('\n', "\\n").replace('\r', "\\r")
}

/// What checking a chain came to.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Chain {
    /// Every entry fits the one before it.
    Fits(Head),
    /// The entry at this place of the chain, counted from 1, does not fit the one before it; its id if it can be read.
    Breaks { seq: u32, id: Option<EntryId> },
}

impl Head {
    /// The head after one more entry; none if the entry does not continue the chain.
    pub(super) fn continued_by(self, next: &Recorded) -> Option<Self> {
        let seq = self.seq.checked_add(1)?;
        let fits = next.seq == seq && next.hash == ChainHash::following(&self.hash, seq, &next.entry);
        fits.then_some(Self { seq, hash: next.hash })
    }
}

/// Whether entries make one unbroken chain from its beginning; if not, the first that does not fit.
pub fn verify_chain<'e>(entries: impl IntoIterator<Item = &'e Recorded>) -> Chain {
    let mut head = Head::default();
    let mut room = None;
    for recorded in entries {
        let same_chain = *room.get_or_insert(&recorded.entry.room) == &recorded.entry.room;
        match head.continued_by(recorded).filter(|_| same_chain) {
            Some(next) => head = next,
            None => return Chain::Breaks { seq: head.seq.saturating_add(1), id: Some(recorded.entry.id.clone()) },
        }
    }
    Chain::Fits(head)
}
