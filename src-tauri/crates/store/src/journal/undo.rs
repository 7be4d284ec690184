//! What is undone, and what undo would take back next.
//!
//! To undo an entry, its stored inverse is appended as a new entry that names it in `undoes`. An entry is undone while
//! a later one that is not itself undone names it. Redo is undoing the undoing. Undo goes strictly backwards, so an
//! inverse always meets the state it was made for.

use std::collections::HashSet;

use crate::access::Read;
use crate::columns::Columns;
use crate::error::StoreError;
use crate::id::{EntryId, RoomId};
use crate::journal::entry::Recorded;

/// What undoing needs to know of an entry.
struct Step {
    id: EntryId,
    undoes: Option<EntryId>,
}

impl Read<'_> {
    /// The entry that undo takes back next: the last change still standing. None if there is none, or if it has no
    /// inverse.
    pub fn last_undoable(&self, room: Option<&RoomId>) -> Result<Option<Recorded>, StoreError> {
        let (last, _) = self.back_to(room, |step| step.undoes.is_none())?;
        self.with_inverse(last)
    }

    /// The entries of a chain that are undone.
    pub fn undone(&self, room: Option<&RoomId>) -> Result<HashSet<EntryId>, StoreError> {
        Ok(self.back_to(room, |_| false)?.1)
    }

    /// The last entry still standing that is sought, and what is undone up to there. One pass backwards will do, since
    /// an undoing always comes after what it undoes.
    fn back_to(
        &self,
        room: Option<&RoomId>,
        sought: impl Fn(&Step) -> bool,
    ) -> Result<(Option<Step>, HashSet<EntryId>), StoreError> {
        let mut statement = self.connection.prepare_cached(include_str!("steps.sql"))?;
        let steps = statement.query_map([room], |row| step(&mut Columns::new(row)))?;
        let mut undone = HashSet::new();
        for step in steps {
            let step = step?;
            if undone.contains(&step.id) {
                continue;
            }
            if sought(&step) {
                return Ok((Some(step), undone));
            }
            undone.extend(step.undoes);
        }
        Ok((None, undone))
    }

    fn with_inverse(&self, step: Option<Step>) -> Result<Option<Recorded>, StoreError> {
        let Some(step) = step else { return Ok(None) };
        Ok(self.entry(&step.id)?.filter(|recorded| recorded.entry.inverse.is_some()))
    }
}

fn step(columns: &mut Columns<'_>) -> rusqlite::Result<Step> {
    Ok(Step { id: columns.take()?, undoes: columns.take()? })
}

#[cfg(test)]
mod tests {
    use crate::examples::{entry, room};
    use crate::{Entry, EntryId, RoomId, Store};

    /// Letters are changes (capitals have no inverse), `-` is undo, `+` is redo.
    fn play(script: &str) -> Store {
        let store = Store::in_memory().unwrap();
        for (number, step) in script.chars().enumerate() {
            store.write(|tx| tx.append(&next(&store_next(tx, step), number, step)).map(drop)).unwrap();
        }
        store
    }

    fn store_next(tx: &crate::Tx<'_>, step: char) -> Option<EntryId> {
        let recorded = match step {
            '-' => tx.last_undoable(Some(&room())).unwrap(),
            '+' => last_undoing(tx),
            _ => return None,
        };
        Some(recorded.expect("something to take back").entry.id)
    }

    /// The last undoing that is not itself undone.
    fn last_undoing(tx: &crate::Tx<'_>) -> Option<crate::Recorded> {
        let undone = tx.undone(Some(&room())).unwrap();
        let mut steps = tx.history(Some(&room())).unwrap().into_iter().rev();
        steps.find(|step| step.entry.id.as_str().starts_with('-') && !undone.contains(&step.entry.id))
    }

    fn next(undoes: &Option<EntryId>, number: usize, step: char) -> Entry {
        let id = if undoes.is_some() { format!("{step}{number}") } else { step.to_string() };
        let entry = Entry { undoes: undoes.clone(), ..entry(&id) };
        if step.is_uppercase() { entry } else { entry.with_inverse("rename", "{}") }
    }

    #[test]
    fn undo_goes_backwards_and_redo_forwards() {
        let check = |script: &str, undo: &str, undone: &str| {
            let store = play(script);
            let (undoable, dead) = store
                .read(|read| -> Result<_, crate::StoreError> {
                    let room = room();
                    Ok((read.last_undoable(Some(&room))?, read.undone(Some(&room))?))
                })
                .unwrap();
            let name = |recorded: Option<crate::Recorded>| recorded.map_or(String::new(), |it| it.entry.id.to_string());
            let mut dead: Vec<_> = dead.iter().map(EntryId::to_string).filter(|id| id.len() == 1).collect();
            dead.sort();
            assert_eq!((name(undoable), dead.concat()), (undo.into(), undone.into()), "{script}");
        };
        check("", "", "");
        check("a", "a", "");
        check("ab", "b", "");
        check("ab-", "a", "b");
        check("ab--", "", "ab");
        check("ab--+", "a", "b");
        check("ab--++", "b", "");
        check("ab-+-", "a", "b");
        check("ab-+-+-+", "b", "");
        check("ab-c", "c", "b");
        check("ab-c-", "a", "bc");
        check("ab-c--", "", "abc");
        check("ab-c--+", "a", "bc");
        check("ab-c--++", "c", "b");
        check("aB", "", "");
        check("aBc", "c", "");
        check("aBc-", "", "c");
    }

    #[test]
    fn chains_do_not_meddle() {
        let store = play("ab");
        store.write(|tx| tx.append(&entry("z").in_room(&RoomId::from("r2")).with_inverse("rename", "{}"))).unwrap();
        let last = store.read(|read| read.last_undoable(Some(&room()))).unwrap();
        assert_eq!(last.unwrap().entry.id, "b".into());
        assert_eq!(store.read(|read| read.last_undoable(None)).unwrap(), None);
    }
}
