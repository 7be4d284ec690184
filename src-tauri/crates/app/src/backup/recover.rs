//! Damaged rooms made anew: from the latest copy that is whole, and from what the damaged file itself still says.

use super::names::{ROOMS, WITH, aside_name, stamp};
use super::rotation::copies_in;
use crate::app::{App, apply};
use crate::clock::Clock;
use crate::fault::refused;
use crate::files::atomic_write::{beside, put, unwritten};
use crate::forms::Recovered;
use judge::{Kind, Refusal};
use std::fs;
use std::io;
use std::path::Path;
use store::{Recorded, Salvaged, Store, StoreError};

impl App {
    /// Makes the rooms of a folder anew where their file is damaged. The damaged file is kept under another name, and
    /// the new one takes its place only when it is whole and on disk; until then all is as it was. No other Truefall
    /// may have these rooms open.
    ///
    /// # Errors
    /// `not-ready` where the rooms are whole or there are none; whatever else keeps them from being opened or the new
    /// ones from being written.
    pub fn recover(folder: &Path, clock: Clock) -> Result<Recovered, Refusal> {
        let work = folder.join(format!("opened-{}.part", clock.id(0)));
        let made = make_anew(folder, &work, clock);
        // A folder that stays behind is swept at a later start.
        let _ = fs::remove_dir_all(&work);
        made
    }

    /// Takes over what fits of salvaged entries: how many were new, and how many do not follow on what is here.
    fn take_salvaged(&self, salvaged: &Salvaged) -> Result<(u32, u32), Refusal> {
        for text in &salvaged.private {
            self.change(|tx| Ok(tx.keep_private(&text.salt, &text.value)?))?;
        }
        let (mut taken, mut left) = (0, 0);
        for recorded in &salvaged.entries {
            match self.take_entry(recorded) {
                Ok(is_new) => taken += u32::from(is_new),
                Err(refusal) if [Kind::DoesNotFit, Kind::IdReused].contains(&refusal.kind) => left += 1,
                Err(refusal) => return Err(refusal),
            }
        }
        Ok((taken, left))
    }

    /// One entry, kept whole or not at all; whether it was not here yet.
    fn take_entry(&self, recorded: &Recorded) -> Result<bool, Refusal> {
        self.change(|tx| {
            let is_new = !tx.append_as_is(recorded)?.repeat;
            if is_new {
                apply(tx, &recorded.entry, false)?;
            }
            Ok(is_new)
        })
    }
}

fn make_anew(folder: &Path, work: &Path, clock: Clock) -> Result<Recovered, Refusal> {
    let rooms = folder.join(ROOMS);
    let (spare, salvageable) = (work.join("spare"), work.join("salvage"));
    let failed = |error: io::Error| unwritten(&rooms, &error);
    [&spare, &salvageable].iter().try_for_each(fs::create_dir_all).map_err(failed)?;
    // Copied before it is looked into: looking moves the log into the file.
    copy_all(&rooms, &spare.join(ROOMS)).and_then(|()| copy_all(&rooms, &salvageable.join(ROOMS))).map_err(failed)?;
    check_damaged(&rooms)?;
    let aside = aside_name(folder, &stamp(&clock.now()));
    copy_all(&spare.join(ROOMS), &aside).map_err(failed)?;
    let app = App::open(&work.join("new"), clock)?;
    let copy = copies_in(folder).into_iter().find(|(_, path)| app.restore(path).is_ok()).map(|(name, _)| name);
    let (later, left) = app.take_salvaged(&store::salvage(&salvageable.join(ROOMS)))?;
    app.store().check().map_err(refused)?;
    let count = app.rooms()?.rooms.len() as u32;
    drop(app);
    take_its_place(&work.join("new").join(ROOMS), &rooms).map_err(failed)?;
    let aside = aside.display().to_string();
    Ok(Recovered { aside, copy, later, left, rooms: count })
}

/// # Errors
/// `not-ready` unless the file is there and damaged.
fn check_damaged(rooms: &Path) -> Result<(), Refusal> {
    let nothing = |message: &str| Err(Refusal::new(Kind::NotReady, message));
    if !rooms.exists() && !beside(rooms, "-wal").exists() {
        return nothing("There are no rooms here to recover. Choose the folder that holds them with --home.");
    }
    match Store::open(rooms).and_then(|store| store.check()) {
        Ok(()) => nothing("The rooms are whole, so there is nothing to recover."),
        Err(StoreError::Damaged { .. }) => Ok(()),
        Err(other) => Err(refused(other)),
    }
}

/// Copies a database with its log, as far as they are there, and syncs them.
fn copy_all(from: &Path, to: &Path) -> io::Result<()> {
    for suffix in WITH {
        let (from, to) = (beside(from, suffix), beside(to, suffix));
        if from.exists() {
            let part = beside(&to, ".part");
            fs::copy(&from, &part)?;
            put(&part, &to)?;
        }
    }
    Ok(())
}

/// The old log would be read into the new file, so it goes first; it is kept aside.
fn take_its_place(new: &Path, rooms: &Path) -> io::Result<()> {
    for log in ["-wal", "-shm"].map(|suffix| beside(rooms, suffix)).iter().filter(|log| log.exists()) {
        fs::remove_file(log)?;
    }
    put(new, rooms)
}
