//! Adding to a chain: a new entry at its end, or one taken over as it stands.

use rusqlite::params;

use crate::access::Tx;
use crate::error::StoreError;
use crate::journal::chain::ChainHash;
use crate::journal::entry::{Appended, Entry, Recorded};

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
