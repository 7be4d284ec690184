//! Adding to a chain: a new entry at its end, or one taken over as it stands.

use rusqlite::params;

use crate::access::Tx;
use crate::error::StoreError;
use crate::journal::entry::{Appended, Entry, Recorded};
use crate::journal::hash::ChainHash;

impl Tx<'_> {
    /// Appends an entry to the chain of its room, or of the settings.
    ///
    /// The same id with the same command and payload is a repeat: nothing is appended, and the caller must not apply
    /// it again.
    ///
    /// # Errors
    /// [`StoreError::IdReused`] for a known id with another command or payload; [`StoreError::Refused`] for an entry
    /// that undoes one not in its chain, or already undone, and for a time that is not RFC 3339.
    pub fn append(&self, entry: &Entry) -> Result<Appended, StoreError> {
        if let Some(known) = self.entry(&entry.id)? {
            return if known.entry.asks_the_same(entry) {
                Ok(Appended { seq: known.seq, hash: known.hash, repeat: true })
            } else {
                Err(StoreError::IdReused { id: entry.id.clone() })
            };
        }
        self.check_undoes(entry)?;
        let head = self.head(entry.room.as_ref())?;
        let seq = head.seq.checked_add(1).ok_or_else(|| StoreError::refused("the journal is full"))?;
        let recorded = Recorded { seq, entry: entry.clone(), hash: ChainHash::following(&head.hash, seq, entry) };
        self.insert(&recorded)
    }

    /// Takes over an entry of a room file with its number and hash, as the next of its chain. An entry that already
    /// stands there is a repeat.
    ///
    /// # Errors
    /// [`StoreError::DoesNotFit`] where number or hash do not continue the chain; [`StoreError::IdReused`] where the
    /// id stands elsewhere or with another hash.
    pub fn append_as_is(&self, recorded: &Recorded) -> Result<Appended, StoreError> {
        let (seq, id) = (recorded.seq, &recorded.entry.id);
        if let Some(known) = self.entry(id)? {
            let repeat = known == *recorded;
            let appended = Appended { seq, hash: recorded.hash, repeat };
            return if repeat { Ok(appended) } else { Err(StoreError::IdReused { id: id.clone() }) };
        }
        let head = self.head(recorded.entry.room.as_ref())?;
        head.continued_by(recorded).ok_or_else(|| StoreError::DoesNotFit { seq, id: id.clone() })?;
        self.insert(recorded)
    }

    fn check_undoes(&self, entry: &Entry) -> Result<(), StoreError> {
        let Some(target) = &entry.undoes else { return Ok(()) };
        let known = self.entry(target)?;
        if known.is_none_or(|known| known.entry.room != entry.room) {
            return Err(StoreError::refused(format!("there is no entry {target} here to undo")));
        }
        if self.undone(entry.room.as_ref())?.contains(target) {
            return Err(StoreError::refused(format!("the entry {target} is already undone")));
        }
        Ok(())
    }

    fn insert(&self, recorded: &Recorded) -> Result<Appended, StoreError> {
        let Recorded { seq, entry, hash } = recorded;
        let inverse = entry.inverse.as_ref();
        self.connection.prepare_cached(include_str!("append.sql"))?.execute(params![
            seq,
            entry.id,
            entry.room,
            entry.at,
            entry.device,
            entry.person,
            entry.command,
            entry.form,
            entry.payload,
            entry.undoes,
            inverse.map(|inverse| &inverse.command),
            inverse.map(|inverse| inverse.form),
            inverse.map(|inverse| &inverse.payload),
            entry.origin,
            hash,
        ])?;
        Ok(Appended { seq: *seq, hash: *hash, repeat: false })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::examples::{AT, entry, room};
    use crate::journal::{Chain, Inverse};
    use crate::{RoomId, Store};

    fn append(store: &Store, entry: &Entry) -> Result<Appended, StoreError> {
        store.write(|tx| tx.append(entry))
    }

    #[test]
    fn sending_an_entry_again_is_harmless() {
        let store = Store::in_memory().unwrap();
        let first = append(&store, &entry("e1")).unwrap();
        append(&store, &entry("e2")).unwrap();
        let later = Entry { at: AT.replace("07:", "08:"), device: "host".into(), ..entry("e1") };
        for again in [entry("e1"), later] {
            assert_eq!(append(&store, &again), Ok(Appended { repeat: true, ..first }));
        }
        let history = store.read(|read| read.history(Some(&room()))).unwrap();
        assert_eq!(history.iter().map(|recorded| recorded.seq).collect::<Vec<_>>(), [1, 2]);
        assert_eq!(history[0].entry, entry("e1"));
    }

    #[test]
    fn a_known_id_with_other_content_is_refused() {
        let store = Store::in_memory().unwrap();
        append(&store, &entry("e0")).unwrap();
        append(&store, &entry("e1")).unwrap();
        let check = |other: Entry| {
            assert_eq!(append(&store, &other), Err(StoreError::IdReused { id: "e1".into() }), "{other:?}");
        };
        check(Entry { payload: b"{}".to_vec(), ..entry("e1") });
        check(Entry { command: "other".into(), ..entry("e1") });
        check(Entry { form: 2, ..entry("e1") });
        check(Entry { room: None, ..entry("e1") });
        check(Entry { undoes: Some("e0".into()), ..entry("e1") });
        assert_eq!(store.read(|read| read.head(Some(&room()))).unwrap().seq, 2);
    }

    #[test]
    fn every_room_and_the_settings_count_from_one() {
        let store = Store::in_memory().unwrap();
        let other = RoomId::from("r2");
        let entries = [entry("a"), Entry { room: None, ..entry("b") }, entry("c").in_room(&other), entry("d")];
        let numbers = entries.map(|entry| append(&store, &entry).unwrap().seq);
        assert_eq!(numbers, [1, 1, 1, 2]);
        let chains = store.read(|read| read.chains()).unwrap();
        assert_eq!(chains, [None, Some(room()), Some(other)]);
        for chain in chains {
            let head = store.read(|read| read.head(chain.as_ref())).unwrap();
            assert_eq!(store.read(|read| read.verify(chain.as_ref())), Ok(Chain::Fits(head)));
        }
    }

    #[test]
    fn what_cannot_stand_in_a_journal_is_refused_whole() {
        let store = Store::in_memory().unwrap();
        append(&store, &entry("e1").in_room(&RoomId::from("r2"))).unwrap();
        let check = |bad: Entry| {
            let refused = store.write(|tx| {
                tx.append(&entry("before"))?;
                tx.append(&bad)
            });
            assert_eq!(refused.map_err(|error| error.kind()), Err("refused"), "{bad:?}");
            assert_eq!(store.read(|read| read.head(Some(&room()))).unwrap().seq, 0);
        };
        check(Entry { at: "yesterday".into(), ..entry("e2") });
        check(Entry { id: "".into(), ..entry("e2") });
        check(Entry { command: String::new(), ..entry("e2") });
        check(Entry { form: 0, ..entry("e2") });
        check(Entry { undoes: Some("nothing".into()), ..entry("e2") });
        check(Entry { undoes: Some("e1".into()), ..entry("e2") });
        check(Entry { undoes: Some("e2".into()), ..entry("e2") });
    }

    #[test]
    fn an_entry_is_undone_once() {
        let store = Store::in_memory().unwrap();
        append(&store, &entry("e1")).unwrap();
        let undo = |id: &str, target: &str| append(&store, &Entry { undoes: Some(target.into()), ..entry(id) });
        undo("u1", "e1").unwrap();
        assert_eq!(undo("u2", "e1").unwrap_err().kind(), "refused");
        assert!(undo("u1", "e1").unwrap().repeat);
        undo("redo", "u1").unwrap();
        undo("u3", "e1").unwrap();
    }

    #[test]
    fn what_was_written_cannot_be_altered() {
        let store = Store::in_memory().unwrap();
        append(&store, &entry("e1")).unwrap();
        for sql in ["UPDATE journal SET device = 'x'", "DELETE FROM journal"] {
            let altered = store.connection().execute(sql, []).map_err(StoreError::from);
            assert_eq!(altered.unwrap_err().kind(), "refused", "{sql}");
        }
    }

    /// A chain of four with everything an entry can have.
    fn chain() -> Vec<Recorded> {
        let store = Store::in_memory().unwrap();
        let inverse = Inverse { command: "rename".into(), form: 7, payload: vec![0, 159, 255] };
        let full = Entry { person: Some("sha256:…".into()), inverse: Some(inverse), form: 2, ..entry("b") };
        let undo = Entry { undoes: Some("b".into()), origin: Some(ChainHash::default()), ..entry("c") };
        for entry in [entry("a"), full, undo, entry("d")] {
            append(&store, &entry).unwrap();
        }
        store.read(|read| read.history(Some(&room()))).unwrap()
    }

    #[test]
    fn a_chain_is_taken_over_as_it_stands_and_carried_on() {
        let store = Store::in_memory().unwrap();
        append(&store, &Entry { room: None, ..entry("settings") }).unwrap();
        for round in [false, true] {
            for recorded in &chain() {
                let appended = store.write(|tx| tx.append_as_is(recorded)).unwrap();
                assert_eq!(appended, Appended { seq: recorded.seq, hash: recorded.hash, repeat: round });
            }
        }
        assert_eq!(store.read(|read| read.history(Some(&room()))).unwrap(), chain());
        assert_eq!(append(&store, &entry("e")).unwrap().seq, 5);
        assert!(matches!(store.read(|read| read.verify(Some(&room()))).unwrap(), Chain::Fits(head) if head.seq == 5));
    }

    #[test]
    fn a_chain_that_does_not_fit_is_not_taken_over() {
        let check = |what: &str, alter: fn(&mut Vec<Recorded>), want: StoreError| {
            let store = Store::in_memory().unwrap();
            append(&store, &entry("a")).unwrap();
            let mut entries = chain();
            alter(&mut entries);
            let taken = store.write(|tx| entries.iter().try_for_each(|entry| tx.append_as_is(entry).map(drop)));
            assert_eq!(taken, Err(want), "{what}");
            assert_eq!(store.read(|read| read.head(Some(&room()))).unwrap().seq, 1);
        };
        let misfit = |seq, id: &str| StoreError::DoesNotFit { seq, id: id.into() };
        check("payload", |chain| chain[1].entry.payload[0] ^= 1, misfit(2, "b"));
        check("hash", |chain| chain[3].hash = ChainHash::default(), misfit(4, "d"));
        check("left out", |chain| drop(chain.remove(1)), misfit(3, "c"));
        check("diverged", |chain| chain[0].hash = ChainHash::default(), StoreError::IdReused { id: "a".into() });
    }
}
