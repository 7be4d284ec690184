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

use sha2::{Digest, Sha256};

use crate::id::EntryId;
use crate::journal::entry::{Entry, Head, Inverse, Recorded};
use crate::journal::hash::ChainHash;

impl ChainHash {
    /// The hash of an entry that follows `previous` as number `seq`.
    pub fn following(previous: &ChainHash, seq: u32, entry: &Entry) -> Self {
        let header = entry.header_line(seq);
        Self::of(Sha256::new().chain_update(previous.as_bytes()).chain_update(header).chain_update(&entry.payload))
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
        format!("{}:{}", self.form, ChainHash::of(Sha256::new().chain_update(&self.payload)))
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::examples::{AT, entry, room};
    use crate::id::RoomId;

    const FIRST: &str = "c9d0158b3865cd744f97edb71eead6cb8852224e741130385d081f363c169e95";

    fn bare() -> Entry {
        Entry::new("e1", AT, "phone", "create-room", r#"{"name":"Hall bath"}"#)
    }

    fn full() -> Entry {
        let inverse = Inverse { command: "name".into(), form: 2, payload: br#"{"at":null}"#.to_vec() };
        Entry {
            person: Some("Müller\n".into()),
            form: 3,
            undoes: Some("e1".into()),
            inverse: Some(inverse),
            origin: Some(FIRST.parse().unwrap()),
            ..Entry::new("e2", AT, "a\\b", "rename", [0, 255, b'\n']).in_room(&RoomId::from("r\t1"))
        }
    }

    #[test]
    fn header_lines_are_as_written_down() {
        let inverse = "2:246e68234b481e1cb348fe77784a05cac1adfd1e615e82f8a7dbe159e1348f2b";
        let want = [
            format!("truefall-1\t1\te1\t\\N\t{AT}\tphone\t\\N\tcreate-room\t1\t\\N\t\\N\t\\N\t\\N\n"),
            format!("truefall-1\t2\te2\tr\\t1\t{AT}\ta\\\\b\tMüller\\n\trename\t3\te1\tname\t{inverse}\t{FIRST}\n"),
        ];
        assert_eq!([bare().header_line(1), full().header_line(2)], want);
    }

    /// The hashes were computed apart, with Python's hashlib, from the description at the head of this file.
    #[test]
    fn hashes_are_those_of_another_implementation() {
        let first = ChainHash::following(&ChainHash::default(), 1, &bare());
        assert_eq!(first.to_string(), FIRST);
        let second = ChainHash::following(&first, 2, &full());
        assert_eq!(second.to_string(), "345f2c865c03bc4d37e43451509d3f15160196fc317f9881cfe7414f07c37a7e");
    }

    #[test]
    fn no_text_passes_for_a_border_or_for_nothing() {
        let lines = [
            Entry { device: "a\tb".into(), person: Some("c".into()), ..bare() },
            Entry { device: "a".into(), person: Some("b\tc".into()), ..bare() },
            Entry { person: None, ..bare() },
            Entry { person: Some(String::new()), ..bare() },
            Entry { person: Some("\\N".into()), ..bare() },
            Entry { person: Some("\n".into()), ..bare() },
            Entry { person: Some("\\n".into()), ..bare() },
            Entry { person: Some("\r".into()), ..bare() },
        ]
        .map(|entry| entry.header_line(1));
        for (at, line) in lines.iter().enumerate() {
            assert_eq!(line.matches('\t').count(), 12, "{line}");
            assert_eq!(line.find('\n'), Some(line.len() - 1), "{line}");
            assert!(!lines[..at].contains(line), "{line}");
        }
    }

    fn chain() -> Vec<Recorded> {
        let mut head = Head::default();
        let mut chain = Vec::new();
        for id in ["e1", "e2", "e3"] {
            let entry = Entry { undoes: (id == "e3").then(|| "e2".into()), ..entry(id).with_inverse("rename", "{}") };
            let recorded =
                Recorded { seq: head.seq + 1, hash: ChainHash::following(&head.hash, head.seq + 1, &entry), entry };
            head = head.continued_by(&recorded).unwrap();
            chain.push(recorded);
        }
        chain
    }

    #[test]
    fn whatever_is_altered_is_found_and_named() {
        let check = |what: &str, alter: fn(&mut Vec<Recorded>), want: Option<(u32, &str)>| {
            let mut entries = chain();
            alter(&mut entries);
            let found = match verify_chain(&entries) {
                Chain::Fits(_) => None,
                Chain::Breaks { seq, id } => Some((seq, id.unwrap().to_string())),
            };
            assert_eq!(found, want.map(|(seq, id)| (seq, id.to_owned())), "{what}");
        };
        check("nothing", |_| (), None);
        check("number", |chain| chain[1].seq = 3, Some((2, "e2")));
        check("id", |chain| chain[1].entry.id = "x".into(), Some((2, "x")));
        check("room", |chain| chain[1].entry.room = Some("r2".into()), Some((2, "e2")));
        check("no room", |chain| chain[0].entry.room = None, Some((1, "e1")));
        check("time", |chain| chain[1].entry.at = AT.replace('5', "6"), Some((2, "e2")));
        check("device", |chain| chain[1].entry.device.push('x'), Some((2, "e2")));
        check("person", |chain| chain[1].entry.person = Some(String::new()), Some((2, "e2")));
        check("command", |chain| chain[0].entry.command.push('x'), Some((1, "e1")));
        check("form", |chain| chain[2].entry.form = 2, Some((3, "e3")));
        check("payload", |chain| chain[1].entry.payload[0] ^= 1, Some((2, "e2")));
        check("undoes", |chain| chain[2].entry.undoes = None, Some((3, "e3")));
        check("inverse", |chain| chain[1].entry.inverse = None, Some((2, "e2")));
        check("inverse command", |chain| inverse(chain).command.push('x'), Some((2, "e2")));
        check("inverse form", |chain| inverse(chain).form = 9, Some((2, "e2")));
        check("inverse payload", |chain| inverse(chain).payload[0] ^= 1, Some((2, "e2")));
        check("origin", |chain| chain[1].entry.origin = Some(ChainHash::default()), Some((2, "e2")));
        check("hash", |chain| chain[1].hash = chain[0].hash, Some((2, "e2")));
        check("left out", |chain| drop(chain.remove(1)), Some((2, "e3")));
        check("first left out", |chain| drop(chain.remove(0)), Some((1, "e2")));
        check("moved", |chain| chain.swap(1, 2), Some((2, "e3")));
        check("twice", |chain| chain.insert(1, chain[0].clone()), Some((2, "e1")));
    }

    fn inverse(chain: &mut [Recorded]) -> &mut Inverse {
        chain[1].entry.inverse.as_mut().unwrap()
    }

    #[test]
    fn a_chain_of_two_rooms_is_none() {
        let first = chain().remove(0);
        let entry = Entry { room: None, ..entry("e2") };
        let second = Recorded { seq: 2, hash: ChainHash::following(&first.hash, 2, &entry), entry };
        assert_eq!(first.entry.room, Some(room()));
        assert_eq!(verify_chain([&first, &second]), Chain::Breaks { seq: 2, id: Some("e2".into()) });
        assert_eq!(verify_chain([]), Chain::Fits(Head::default()));
    }
}
