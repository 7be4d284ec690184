//! Everything in one file: the rooms and their photographs, checked before the file bears its name.
//!
//! A backup is a ZIP without compression: `rooms.sqlite`, each photograph under its digest, and the list of digests.
//! The automatic ones beside the rooms are the bare database, since the photographs there never change.

mod asked;
mod digested;
mod look;
pub(crate) mod names;
mod recover;
mod rotation;
pub(crate) mod sweep;
mod unpack;

use crate::app::App;
use crate::backup::names::{ROOMS, stamp};
use crate::fault::refused;
use crate::files::atomic_write::{beside, put, unread, unwritten};
use crate::files::sha256sums;
use crate::forms::BackupMade;
use crate::photographs::shelf::PHOTOGRAPHS;
use digested::copy;
use judge::{Kind, Refusal};
use std::fs::{self, File};
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, ZipWriter};

impl App {
    /// Writes a checked backup to a path where there is nothing yet; into a folder, under a name with the time.
    ///
    /// # Errors
    /// `already-there` where a file has that name; else whatever keeps the copy from being made or read back. Nothing
    /// then stands under the name.
    pub fn backup(&self, to: &Path) -> Result<BackupMade, Refusal> {
        let to = if to.is_dir() { to.join(format!("truefall-{}.truefall", stamp(&self.now()))) } else { to.to_owned() };
        if to.exists() {
            let message = format!("{} is there already. Choose another name.", to.display());
            return Err(Refusal::new(Kind::AlreadyThere, message).field("output"));
        }
        let (rooms, part) = (beside(&to, ".rooms.part"), beside(&to, ".part"));
        let made = self.write_backup(&rooms, &part, &to);
        // What is left of a failed try is nobody's file.
        [&rooms, &part].into_iter().for_each(|path| drop(fs::remove_file(path)));
        made
    }

    fn write_backup(&self, rooms: &Path, part: &Path, to: &Path) -> Result<BackupMade, Refusal> {
        let _ = fs::remove_file(rooms);
        self.store.backup(rooms).map_err(refused)?;
        let files = self.files_of_backup(rooms);
        pack(&files, part)?;
        unpack::check(part)?;
        put(part, to).map_err(|error| unwritten(to, &error))?;
        let bytes = fs::metadata(to).map_err(|error| unread(to, &error))?.len();
        Ok(BackupMade { path: to.display().to_string(), bytes: bytes as f64, photographs: files.len() as u32 - 1 })
    }

    /// The rooms first, then every photograph, by the names they have inside.
    fn files_of_backup(&self, rooms: &Path) -> Vec<(String, PathBuf)> {
        let mut files = vec![(ROOMS.to_string(), rooms.to_owned())];
        let folder = self.folder.as_ref().map(|folder| folder.join(PHOTOGRAPHS));
        let entries = folder.and_then(|folder| fs::read_dir(folder).ok()).into_iter().flatten().flatten();
        let named = entries.map(|entry| (entry.file_name().to_string_lossy().into_owned(), entry.path()));
        let mut photographs: Vec<_> = named
            .filter(|(name, _)| unpack::is_digest(name))
            .map(|(name, path)| (format!("{PHOTOGRAPHS}/{name}"), path))
            .collect();
        photographs.sort();
        files.append(&mut photographs);
        files
    }
}

/// Packs files and the list of their digests, a piece at a time.
fn pack(files: &[(String, PathBuf)], to: &Path) -> Result<(), Refusal> {
    let failed = |error: &dyn std::fmt::Display| unwritten(to, &io::Error::other(error.to_string()));
    let plain = SimpleFileOptions::default().compression_method(CompressionMethod::Stored).large_file(true);
    let mut zip = ZipWriter::new(File::create(to).map_err(|error| unwritten(to, &error))?);
    let mut list = Vec::new();
    for (name, path) in files {
        zip.start_file(name.as_str(), plain).map_err(|error| failed(&error))?;
        let mut from = File::open(path).map_err(|error| unread(path, &error))?;
        list.push((name.as_str(), copy(&mut from, &mut zip).map_err(|error| unwritten(to, &error))?));
    }
    zip.start_file(sha256sums::NAME, plain).map_err(|error| failed(&error))?;
    zip.write_all(sha256sums::write(list).as_bytes()).map_err(|error| unwritten(to, &error))?;
    zip.finish().map(drop).map_err(|error| failed(&error))
}
