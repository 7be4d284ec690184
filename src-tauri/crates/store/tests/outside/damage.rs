//! Bytes flipped in the file: refused and left alone, or found by the check, or made good from the journal.

use crate::commands::{apply, furnish, tables};
use proptest::prelude::*;
use std::fs;
use std::path::Path;
use std::sync::LazyLock;
use std::time::Duration;
use store::{RoomId, Store, StoreError};
use tempfile::TempDir;

/// A furnished file as it lies closed on the disk, and what is in it.
static WHOLE: LazyLock<(Vec<u8>, String)> = LazyLock::new(|| {
    let folder = TempDir::new().unwrap();
    let path = folder.path().join("rooms.sqlite");
    let store = Store::open(&path).unwrap();
    furnish(&store, &room());
    let content = content(&store);
    drop(store);
    assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1, "closed, all is in the one file");
    (fs::read(&path).unwrap(), content)
});

fn room() -> RoomId {
    RoomId::from("kestrel")
}

/// Everything a person has put in: tables, journal and private text.
fn content(store: &Store) -> String {
    let history = store.read(|read| read.history(Some(&room()))).unwrap();
    let private = store::private_digest(b"sixteen of these", "12 Kestrel Lane");
    format!("{}{history:?}{:?}", tables(store), store.read(|read| read.private_text(&private)).unwrap())
}

#[derive(Debug, PartialEq, Eq, Clone, Copy)]
enum Outcome {
    Refused,
    Found,
    MadeGood,
    Harmless,
}

/// What becomes of a file with one byte changed; panics if it could go unnoticed.
fn outcome(at: usize, flip: u8) -> Outcome {
    let folder = TempDir::new().unwrap();
    let path = folder.path().join("rooms.sqlite");
    let mut bytes = WHOLE.0.clone();
    bytes[at] ^= flip;
    fs::write(&path, &bytes).unwrap();
    match Store::open_within(&path, Duration::ZERO) {
        Err(error) => refused(&path, &bytes, &error),
        Ok(store) => opened(&store),
    }
}

fn refused(path: &Path, bytes: &[u8], error: &StoreError) -> Outcome {
    assert!(["damaged", "not-ours", "newer"].contains(&error.kind()), "{error:?}");
    assert!(fs::read(path).unwrap() == bytes, "a refused file is left alone");
    Outcome::Refused
}

fn opened(store: &Store) -> Outcome {
    if let Err(error) = store.check() {
        assert_eq!(error.kind(), "damaged", "{error:?}");
        return Outcome::Found;
    }
    if content(store) == WHOLE.1 {
        return Outcome::Harmless;
    }
    store.rebuild(apply).unwrap();
    assert!(content(store) == WHOLE.1, "what passed the check is made good from the journal");
    Outcome::MadeGood
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(150))]

    #[test]
    fn no_flipped_byte_goes_unnoticed(at in 0..WHOLE.0.len(), flip in 1..=255_u8) {
        outcome(at, flip);
    }

    #[test]
    fn nor_does_one_where_pages_begin(page in 0..WHOLE.0.len() / 4096, within in 0..100_usize, flip in 1..=255_u8) {
        outcome(page * 4096 + within, flip);
    }
}

/// The place of a text that is written once in the file.
fn place_of(text: &str) -> usize {
    let found: Vec<usize> = WHOLE
        .0
        .windows(text.len())
        .enumerate()
        .filter(|(_, part)| *part == text.as_bytes())
        .map(|(at, _)| at)
        .collect();
    *found.first().unwrap_or_else(|| panic!("{text} is not in the file"))
}

#[test]
fn each_kind_of_damage_is_met_in_its_way() {
    assert_eq!(outcome(0, 0xff), Outcome::Refused, "the first byte");
    assert_eq!(outcome(4096, 0xff), Outcome::Refused, "the head of a page");
    assert_eq!(outcome(place_of("readings-withdraw"), 1), Outcome::Found, "a command in the journal");
    assert_eq!(outcome(place_of("12 Kestrel Lane"), 1), Outcome::Found, "a private text");
    assert_eq!(outcome(place_of("the engineer2031-04-03letter 7"), 1), Outcome::MadeGood, "a row of a table");
    let free = WHOLE.0.windows(64).rposition(|part| part == [0; 64]).unwrap();
    assert_eq!(outcome(free + 32, 1), Outcome::Harmless, "free space");
}

#[test]
fn a_tampered_entry_is_named() {
    let folder = TempDir::new().unwrap();
    let path = folder.path().join("rooms.sqlite");
    fs::write(&path, &WHOLE.0).unwrap();
    let forger = rusqlite::Connection::open(&path).unwrap();
    forger
        .execute_batch(
            "DROP TRIGGER journal_keeps_what_it_says;
             UPDATE journal SET payload = CAST(replace(payload, '1120.5', '1122.5') AS BLOB) WHERE id = 'r5';
             CREATE TRIGGER journal_keeps_what_it_says BEFORE UPDATE ON journal
BEGIN
    SELECT RAISE(ABORT, 'an entry of the journal is never changed');
END",
        )
        .unwrap();
    drop(forger);
    let store = Store::open(&path).unwrap();
    let seq = store.read(|read| read.entry(&"r5".into())).unwrap().unwrap().seq;
    let broken = store::Chain::Breaks { seq, id: Some("r5".into()) };
    assert_eq!(store.read(|read| read.verify(Some(&room()))), Ok(broken));
    let found = format!("entry {seq} (r5) of room kestrel does not fit the journal before it");
    assert_eq!(store.check(), Err(StoreError::Damaged { found }));
}
