//! A copy under its final name only once it is whole, checked and on disk.

use std::fs::{self, File, OpenOptions};
use std::io;
use std::path::Path;

use rusqlite::Connection;

use crate::error::StoreError;
use crate::opening::{self, beside};
use crate::store::Store;

impl Store {
    /// Writes a checked copy of everything to a path where there is nothing yet.
    ///
    /// # Errors
    /// [`StoreError::Io`] where something is already there; [`StoreError::Full`], [`StoreError::ReadOnly`],
    /// [`StoreError::Damaged`] if the copy could not be made or read back. Nothing then stands under the name.
    pub fn backup(&self, to: impl AsRef<Path>) -> Result<(), StoreError> {
        self.look_aside(|connection| copy(connection, to.as_ref()))
    }
}

/// Copies a database to a free name by way of a temporary one.
pub(crate) fn copy(connection: &Connection, to: &Path) -> Result<(), StoreError> {
    if to.try_exists()? {
        return Err(io::Error::new(io::ErrorKind::AlreadyExists, format!("{} exists already", to.display())).into());
    }
    let part = beside(to, ".part");
    let whole = write(connection, &part).and_then(|()| opening::inspect(&part)).and_then(|()| put(&part, to));
    if whole.is_err() {
        remove_if_any(&part)?;
    }
    whole
}

fn write(connection: &Connection, part: &Path) -> Result<(), StoreError> {
    remove_if_any(part)?;
    let name = part.to_str().ok_or(StoreError::Io { what: "the path is not readable text".into() })?;
    connection.execute("VACUUM INTO ?1", [name])?;
    Ok(())
}

/// Syncs the copy, gives it its name, and syncs the name.
fn put(part: &Path, to: &Path) -> Result<(), StoreError> {
    OpenOptions::new().write(true).open(part)?.sync_all()?;
    fs::rename(part, to)?;
    sync_folder(to)
}

#[cfg(unix)]
fn sync_folder(of: &Path) -> Result<(), StoreError> {
    let folder = of.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    Ok(File::open(folder)?.sync_all()?)
}

#[cfg(not(unix))]
fn sync_folder(_of: &Path) -> Result<(), StoreError> {
    Ok(())
}

fn remove_if_any(path: &Path) -> Result<(), StoreError> {
    match fs::remove_file(path) {
        Err(error) if error.kind() != io::ErrorKind::NotFound => Err(error.into()),
        _ => Ok(()),
    }
}
