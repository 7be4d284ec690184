//! What a backup holds beside what is here, and taking in what is missing. Nothing that is here is ever replaced.

use super::names::ROOMS;
use super::unpack;
use crate::app::App;
use crate::fault::refused;
use crate::files::atomic_write::{unread, unwritten};
use crate::forms::{BackupLook, BackupRoom, Here, Restored, RoomFile};
use crate::photographs::shelf::PHOTOGRAPHS;
use judge::{Kind, Refusal};
use std::fs;
use std::io::Read;
use std::path::{Path, PathBuf};
use std::sync::Arc;

impl App {
    /// What a backup holds, room by room, and how each stands to what is here.
    ///
    /// # Errors
    /// `not-ours`, `damaged` or `newer-version`; nothing was changed then.
    pub fn look_at_backup(&self, path: &Path) -> Result<BackupLook, Refusal> {
        let opened = Opened::of(self, path)?;
        Ok(BackupLook { rooms: self.rooms_of(&opened)?, photographs: opened.photographs().len() as u32 })
    }

    /// Takes in every room of a backup that is not here, and the later entries of those that are. A room that went
    /// another way stays as it is and is named.
    ///
    /// # Errors
    /// As [`App::look_at_backup`], and whatever keeps a room from being kept; every room is then whole or absent, and
    /// the same again goes on from there.
    pub fn restore(&self, path: &Path) -> Result<Restored, Refusal> {
        let opened = Opened::of(self, path)?;
        self.take_photographs(&opened)?;
        let (mut taken, mut left) = (Vec::new(), Vec::new());
        for room in self.rooms_of(&opened)? {
            if matches!(room.here, Here::No | Here::Behind) {
                self.replay(&opened.app.room_file(&room.id)?)?;
                taken.push(room);
            } else {
                left.push(room);
            }
        }
        Ok(Restored { taken, left })
    }

    fn rooms_of(&self, opened: &Opened) -> Result<Vec<BackupRoom>, Refusal> {
        let cards = opened.app.rooms()?.rooms;
        cards.iter().map(|card| self.room_of(&opened.app.room_file(&card.id)?)).collect()
    }

    fn room_of(&self, file: &RoomFile) -> Result<BackupRoom, Refusal> {
        let journal = file.journal.as_deref().unwrap_or_default();
        Ok(BackupRoom {
            id: file.room.id.clone(),
            name: file.room.name.clone(),
            entries: journal.len() as u32,
            last: journal.last().map(|entry| entry.at.clone()),
            here: self.standing(&file.room.id, journal)?,
        })
    }

    /// Photographs before the entries that name them.
    fn take_photographs(&self, opened: &Opened) -> Result<(), Refusal> {
        let Some(folder) = self.folder.as_ref().map(|folder| folder.join(PHOTOGRAPHS)) else { return Ok(()) };
        for path in opened.photographs() {
            let to = folder.join(path.file_name().unwrap_or_default());
            if !to.exists() {
                fs::create_dir_all(&folder).map_err(|error| unwritten(&folder, &error))?;
                let bytes = fs::read(&path).map_err(|error| unread(&path, &error))?;
                crate::files::atomic_write::write_whole(&to, &bytes)?;
            }
        }
        Ok(())
    }
}

/// A backup taken apart into a folder of its own, which is gone when this is.
struct Opened {
    app: App,
    folder: PathBuf,
}

impl Opened {
    fn of(app: &App, path: &Path) -> Result<Self, Refusal> {
        let home = app.folder.clone().unwrap_or_else(std::env::temp_dir);
        let folder = home.join(format!("opened-{}.part", app.new_id()));
        fs::create_dir_all(&folder).map_err(|error| unwritten(&folder, &error))?;
        let opened = take_apart(path, &folder).and_then(|()| App::open_by(&folder, Arc::clone(&app.clock)));
        let checked = opened.and_then(|app| app.store().check().map(|()| app).map_err(refused));
        match checked {
            Ok(app) => Ok(Self { app, folder }),
            Err(refusal) => {
                let _ = fs::remove_dir_all(&folder);
                Err(of_backup(refusal))
            }
        }
    }

    fn photographs(&self) -> Vec<PathBuf> {
        let entries = fs::read_dir(self.folder.join(PHOTOGRAPHS)).into_iter().flatten().flatten();
        let mut paths: Vec<PathBuf> = entries.map(|entry| entry.path()).collect();
        paths.sort();
        paths
    }
}

impl Drop for Opened {
    fn drop(&mut self) {
        // A folder that stays behind is swept at the next start.
        let _ = fs::remove_dir_all(&self.folder);
    }
}

/// What is wrong with the copy is not wrong with the rooms here.
fn of_backup(refusal: Refusal) -> Refusal {
    match refusal.kind {
        Kind::Damaged if refusal.field.is_none() => {
            let message = "The backup is damaged. Nothing was taken from it: choose an older one.";
            Refusal::new(Kind::Damaged, message).field("file")
        }
        _ => refusal,
    }
}

/// A backup, or the bare database that the automatic ones are.
fn take_apart(path: &Path, into: &Path) -> Result<(), Refusal> {
    let mut head = [0; 16];
    let read = fs::File::open(path).and_then(|mut file| file.read(&mut head)).map_err(|error| unread(path, &error))?;
    if head.get(..read).is_some_and(|head| head.starts_with(b"SQLite format 3")) {
        let to = into.join(ROOMS);
        return fs::copy(path, &to).map(drop).map_err(|error| unwritten(&to, &error));
    }
    unpack::unpack(path, into)
}
