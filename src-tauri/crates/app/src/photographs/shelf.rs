//! Where photographs are kept: a folder beside the rooms, or memory.

use crate::files::atomic_write::{unread, unwritten, write_whole};
use judge::Refusal;
use std::collections::HashMap;
use std::fs;
use std::io::{self, Read};
use std::path::{Path, PathBuf};
use std::sync::{Mutex, PoisonError};

/// The folder of the photographs, inside a backup and beside the rooms.
pub(crate) const PHOTOGRAPHS: &str = "photographs";

/// The folder of the small ones; a missing one is made again.
const PAGES: &str = "photographs-small";

/// Where photographs are kept: a folder, or memory for rooms that are gone when they are closed.
#[derive(Debug)]
pub(crate) enum Shelf {
    Folder(PathBuf),
    Memory(Mutex<HashMap<String, Vec<u8>>>),
}

impl Shelf {
    pub(crate) fn of(folder: Option<&Path>) -> Self {
        folder.map_or_else(|| Self::Memory(Mutex::default()), |folder| Self::Folder(folder.to_owned()))
    }

    /// Puts bytes under their digest, which they must have.
    pub(super) fn put(&self, digest: &str, bytes: &[u8]) -> Result<(), Refusal> {
        match self {
            Self::Memory(all) => {
                all.lock().unwrap_or_else(PoisonError::into_inner).insert(digest.to_string(), bytes.to_vec());
                Ok(())
            }
            Self::Folder(home) => {
                let folder = home.join(PHOTOGRAPHS);
                fs::create_dir_all(&folder).map_err(|error| unwritten(&folder, &error))?;
                let path = folder.join(digest);
                if path.exists() { Ok(()) } else { write_whole(&path, bytes) }
            }
        }
    }

    /// The bytes of a digest; `not-found` where they are not here.
    pub(crate) fn get(&self, digest: &str) -> Result<Vec<u8>, Refusal> {
        let missing = || Refusal::not_found("photograph", digest).field("sha256");
        match self {
            Self::Memory(all) => {
                all.lock().unwrap_or_else(PoisonError::into_inner).get(digest).cloned().ok_or_else(missing)
            }
            Self::Folder(home) => {
                let path = home.join(PHOTOGRAPHS).join(digest);
                if path.exists() { fs::read(&path).map_err(|error| unread(&path, &error)) } else { Err(missing()) }
            }
        }
    }

    /// How many bytes a photograph has; none where its file is not here.
    pub(crate) fn length(&self, digest: &str) -> Option<u64> {
        match self {
            Self::Memory(_) => self.get(digest).ok().map(|bytes| bytes.len() as u64),
            Self::Folder(home) => fs::metadata(home.join(PHOTOGRAPHS).join(digest)).ok().map(|metadata| metadata.len()),
        }
    }

    /// The bytes of a photograph, a piece at a time.
    pub(crate) fn open(&self, digest: &str) -> io::Result<Box<dyn Read>> {
        match self {
            Self::Memory(_) => {
                let bytes = self.get(digest).map_err(|refusal| io::Error::other(refusal.message))?;
                Ok(Box::new(io::Cursor::new(bytes)))
            }
            Self::Folder(home) => Ok(Box::new(fs::File::open(home.join(PHOTOGRAPHS).join(digest))?)),
        }
    }

    /// The small one that was made before.
    pub(super) fn small(&self, digest: &str) -> Option<Vec<u8>> {
        let Self::Folder(home) = self else { return None };
        fs::read(home.join(PAGES).join(digest)).ok()
    }

    /// Keeps the small one; where it cannot be kept it is made again next time.
    pub(super) fn keep_small(&self, digest: &str, bytes: &[u8]) {
        if let Self::Folder(home) = self {
            let folder = home.join(PAGES);
            let _ = fs::create_dir_all(&folder).map(|()| write_whole(&folder.join(digest), bytes));
        }
    }
}
