//! The application: one folder of rooms, and every use case over it.

use crate::backup::names::{aside_name, stamp};
use crate::backup::sweep::sweep;
use crate::clock::Clock;
use crate::commands::{self, Page};
use crate::crew::Crew;
use crate::fault::{Fault, refused};
use crate::forms::{Changes, Write, Written};
use crate::instruments::Instruments;
use crate::listeners::{self, Listener, locked};
use crate::photographs::shelf::Shelf;
use crate::rooms::salt::salt;
use crate::rooms::verdict_cache::VerdictCache;
use judge::{Kind, Refusal};
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, OnceLock};
use store::{Entry, EntryId, Inverse, Read, RoomId, Store, StoreError, Tx};

/// One folder of rooms. It may be shared between threads.
pub struct App {
    pub(crate) store: Store,
    pub(crate) clock: Arc<Clock>,
    /// Where the rooms are; none where they are in memory.
    pub(crate) folder: Option<PathBuf>,
    /// Where the photographs are.
    pub(crate) shelf: Shelf,
    /// How each room was judged.
    pub(crate) verdicts: VerdictCache,
    pub(crate) instruments: Instruments,
    pub(crate) listeners: Arc<Mutex<Vec<Listener>>>,
    /// What opens the rooms to other devices, where something can.
    pub(crate) crew: OnceLock<Arc<dyn Crew>>,
    device: String,
    trouble: Mutex<Option<Refusal>>,
}

impl App {
    /// Opens the folder, making it where there is none.
    ///
    /// # Errors
    /// Whatever keeps the rooms from being opened, each with a way out; the file is then left as it was.
    pub fn open(folder: &Path, clock: Clock) -> Result<Self, Refusal> {
        Self::open_by(folder, Arc::new(clock))
    }

    /// Opens the folder by a clock that others read too.
    pub(crate) fn open_by(folder: &Path, clock: Arc<Clock>) -> Result<Self, Refusal> {
        fs::create_dir_all(folder).map_err(|error| {
            let message = format!("The folder {} could not be made: {error}. Choose another.", folder.display());
            Refusal::new(Kind::Io, message)
        })?;
        let store = Store::open(folder.join("rooms.sqlite")).map_err(refused)?;
        sweep(folder);
        let device = device_name(folder, &clock);
        let shelf = Shelf::of(Some(folder));
        let verdicts = VerdictCache::of(Some(folder));
        Ok(Self { folder: Some(folder.to_path_buf()), shelf, verdicts, ..Self::of(store, clock, device) })
    }

    /// Opens the folder; where its rooms are damaged, they are set aside under another name and new ones begun. Says
    /// where they are then.
    ///
    /// # Errors
    /// As [`App::open`], but for damage.
    pub fn open_or_set_aside(folder: &Path, clock: Clock) -> Result<(Self, Option<PathBuf>), Refusal> {
        let rooms = folder.join("rooms.sqlite");
        let stamp = stamp(&clock.now());
        match Store::open(&rooms) {
            Err(StoreError::Damaged { .. }) => {
                let aside = aside_name(folder, &stamp);
                let failed = |error: std::io::Error| crate::files::atomic_write::unwritten(&aside, &error);
                for suffix in ["-wal", "-shm", ""] {
                    let from = crate::files::atomic_write::beside(&rooms, suffix);
                    if from.exists() {
                        fs::rename(&from, crate::files::atomic_write::beside(&aside, suffix)).map_err(failed)?;
                    }
                }
                Ok((Self::open(folder, clock)?, Some(aside)))
            }
            _ => Ok((Self::open(folder, clock)?, None)),
        }
    }

    /// Rooms that are gone when this is dropped.
    ///
    /// # Errors
    /// `internal` if memory does not suffice.
    pub fn in_memory(clock: Clock) -> Result<Self, Refusal> {
        Ok(Self::of(Store::in_memory().map_err(refused)?, Arc::new(clock), "memory".to_string()))
    }

    fn of(store: Store, clock: Arc<Clock>, device: String) -> Self {
        let (instruments, listeners) = (Instruments::default(), Arc::default());
        let trouble = Mutex::default();
        Self {
            store,
            clock,
            folder: None,
            shelf: Shelf::of(None),
            verdicts: VerdictCache::of(None),
            instruments,
            listeners,
            crew: OnceLock::new(),
            device,
            trouble,
        }
    }

    /// Reads what is on disk.
    pub(crate) fn read<T>(&self, work: impl FnOnce(&Read<'_>) -> Result<T, Fault>) -> Result<T, Refusal> {
        Ok(self.store.read(work)?)
    }

    /// Changes what is on disk: all of it, or nothing.
    pub(crate) fn change<T>(&self, work: impl FnOnce(&Tx<'_>) -> Result<T, Fault>) -> Result<T, Refusal> {
        Ok(self.store.write(work)?)
    }

    /// Tells `listener` of every change from now on.
    pub fn on_change(&self, listener: Listener) {
        locked(&self.listeners).push(listener);
    }

    /// Goes through the whole file of rooms, which may take a while; what is found stands on the Rooms screen from
    /// then on. Of rooms that are whole, today's copy is made; those that nobody has judged are judged.
    pub fn look_over(&self) {
        let found = self.store.check().err().map(refused).or_else(|| self.keep_copy().err());
        if found.is_some() {
            *locked(&self.trouble) = found;
            self.tell("", Written { id: String::new(), seq: 0, repeat: false });
        }
        // A room that cannot be judged now is judged when rooms are searched by verdict, which then says why not.
        let _ = self.judge_all();
    }

    /// What was found wrong with the file of rooms; none if nothing was.
    pub(crate) fn trouble(&self) -> Option<Refusal> {
        locked(&self.trouble).clone()
    }

    /// The store, for backups and benchmarks.
    pub fn store(&self) -> &Store {
        &self.store
    }

    /// Makes one change, once: it is on disk when this returns.
    ///
    /// # Errors
    /// `unknown-command`, `id-reused`, or what is wrong with the payload; nothing was changed then.
    pub fn write(&self, write: &Write) -> Result<Written, Refusal> {
        let entry = self.entry_of(write)?;
        let written = self.change(|tx| {
            for text in &write.private {
                tx.keep_private(&salt(&text.salt)?, &text.value)?;
            }
            record(tx, entry)
        })?;
        Ok(self.tell(&write.room, written))
    }

    /// Takes the last change of a room back, by making its inverse.
    ///
    /// # Errors
    /// `not-found` where nothing is left to undo.
    pub fn undo(&self, id: &str, room: &str) -> Result<Written, Refusal> {
        self.undo_as(id, room, None)
    }

    /// The same for a person, whose own change it must have been.
    pub(crate) fn undo_as(&self, id: &str, room: &str, person: Option<&str>) -> Result<Written, Refusal> {
        let (at, room_id) = (self.clock.now(), RoomId::from(room));
        let written = self.change(|tx| {
            if let Some(known) = tx.entry(&EntryId::from(id))? {
                return Ok(Written { id: id.to_string(), seq: known.seq, repeat: true });
            }
            let last = tx.last_undoable(Some(&room_id))?;
            let Some((last, inverse)) = last.and_then(|last| last.entry.inverse.clone().map(|inverse| (last, inverse)))
            else {
                return Err(Refusal::new(Kind::NotFound, "There is nothing left to undo in this room.").into());
            };
            if person.is_some() && last.entry.person.as_deref() != person {
                return Err(Refusal::new(Kind::NotAllowed, "The last change here was somebody else's.").into());
            }
            let entry = Entry::new(id, &at, &self.device, &inverse.command, inverse.payload).in_room(&room_id);
            let person = person.map(str::to_string);
            record(tx, Entry { form: inverse.form, undoes: Some(last.entry.id), person, ..entry })
        })?;
        Ok(self.tell(room, written))
    }

    /// Makes the tables anew from the journal.
    ///
    /// # Errors
    /// Whatever an entry is refused with; the tables are then as they were.
    pub fn rebuild(&self) -> Result<(), Refusal> {
        Ok(self.store.rebuild(|tx, recorded| apply(tx, &recorded.entry, false).map(drop))?)
    }

    fn entry_of(&self, write: &Write) -> Result<Entry, Refusal> {
        let at = write.at.clone().unwrap_or_else(|| self.clock.now());
        if !judge::forms::time::is_time(&at) {
            return Err(Refusal::out_of_range("at", "a time with its offset, like 2031-04-02T07:31:05-05:00"));
        }
        if write.id.trim().is_empty() {
            return Err(Refusal::out_of_range("id", "an id made where the change was entered"));
        }
        let payload = write.payload.as_bytes();
        let entry = Entry::new(write.id.as_str(), &at, &self.device, &write.command, payload);
        Ok(Entry { person: write.person.clone(), ..entry.in_room(&RoomId::from(write.room.as_str())) })
    }

    /// The time, RFC 3339 with its offset.
    pub fn now(&self) -> String {
        self.clock.now()
    }

    /// A new id for a change that is entered here.
    pub fn new_id(&self) -> String {
        let length = self.read(|read| {
            let chains = read.chains()?;
            Ok(chains
                .iter()
                .map(|chain| Ok(u64::from(read.head(chain.as_ref())?.seq)))
                .sum::<Result<u64, StoreError>>()?)
        });
        self.clock.id(length.unwrap_or(0))
    }

    pub(crate) fn device(&self) -> &str {
        &self.device
    }

    /// Tells the listeners of a change that is on disk.
    pub(crate) fn tell(&self, room: &str, written: Written) -> Written {
        let change = Changes { room: room.to_string(), seq: written.seq, devices: None };
        if !written.repeat {
            listeners::tell(&self.listeners, &change);
        }
        written
    }
}

/// Applies an entry and appends it with its inverse, unless it is there already.
pub(crate) fn record(tx: &Tx<'_>, mut entry: Entry) -> Result<Written, Fault> {
    let id = entry.id.to_string();
    if tx.entry(&entry.id)?.is_none() {
        entry.inverse = apply(tx, &entry, true)?;
    }
    let appended = tx.append(&entry)?;
    Ok(Written { id, seq: appended.seq, repeat: appended.repeat })
}

/// Applies an entry to the tables: the one way in for live changes, undoing, and rebuilding.
pub(crate) fn apply(tx: &Tx<'_>, entry: &Entry, is_new: bool) -> Result<Option<Inverse>, Fault> {
    let Some(room) = &entry.room else { return Ok(None) };
    let payload = std::str::from_utf8(&entry.payload)
        .map_err(|_| Refusal::new(Kind::NotJson, "The payload is not text.").field("payload"))?;
    let page = Page { tx, room, at: &entry.at, person: entry.person.as_deref() };
    // An inverse was made by the program itself from a state it knew, so only what is entered is checked.
    commands::apply(&page, &entry.command, entry.form, payload, is_new && entry.undoes.is_none())
}

/// The name this folder's device goes by in the journal: drawn once and kept beside the rooms.
fn device_name(folder: &Path, clock: &Clock) -> String {
    let path = folder.join("device");
    let kept = fs::read_to_string(&path).ok().map(|text| text.trim().to_string()).filter(|text| !text.is_empty());
    kept.unwrap_or_else(|| {
        let name = clock.id(0);
        // A folder that cannot be written refuses the first change with its own sentence.
        let _ = fs::write(&path, &name);
        name
    })
}
