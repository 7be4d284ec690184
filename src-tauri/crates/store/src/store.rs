//! The store itself: one file, one connection, one writer at a time.

use std::path::{Path, PathBuf};
use std::sync::{Mutex, MutexGuard, PoisonError};
use std::time::Duration;

use rusqlite::{Connection, Transaction, TransactionBehavior};

use crate::access::{Read, Tx};
use crate::error::StoreError;
use crate::migrate::MIGRATIONS;
use crate::place::{Identity, identity};
use crate::{backup, check, examine, opening};

/// The rooms in one file. It may be shared between threads; they take turns.
#[derive(Debug)]
pub struct Store {
    connection: Mutex<Connection>,
    path: Option<PathBuf>,
    /// Which file it was when it was opened.
    file: Option<Identity>,
}

/// How long another program may hold the file before it counts as locked.
const PATIENCE: Duration = Duration::from_secs(5);

impl Store {
    /// Opens the file at `path`, making it where there is none and bringing an older one up to date after a copy
    /// aside (`rooms.before-2.sqlite`). A file of up to 32 MiB is looked over whole; a larger one is for
    /// [`Store::check`], which may run while readings are kept.
    ///
    /// # Errors
    /// [`StoreError::Damaged`], [`StoreError::Newer`], [`StoreError::NotOurs`], [`StoreError::ReadOnly`],
    /// [`StoreError::Locked`], [`StoreError::Full`] or [`StoreError::Io`]; the file is then left as it was.
    pub fn open(path: impl AsRef<Path>) -> Result<Self, StoreError> {
        Self::open_within(path, PATIENCE)
    }

    /// Like [`Store::open`], waiting at most `patience` for another program, now and at every later call.
    ///
    /// # Errors
    /// As [`Store::open`].
    pub fn open_within(path: impl AsRef<Path>, patience: Duration) -> Result<Self, StoreError> {
        let path = path.as_ref();
        let connection = Mutex::new(opening::open(path, patience)?);
        Ok(Self { connection, path: Some(path.to_owned()), file: identity(path) })
    }

    /// A store that is gone when it is dropped.
    ///
    /// # Errors
    /// [`StoreError::Internal`] if memory does not suffice.
    pub fn in_memory() -> Result<Self, StoreError> {
        Ok(Self { connection: Mutex::new(opening::in_memory(MIGRATIONS)?), path: None, file: None })
    }

    /// The file; none for a store in memory.
    pub fn path(&self) -> Option<&Path> {
        self.path.as_deref()
    }

    /// Looks at one unchanging state. Not to be called from within another look or write of this store.
    ///
    /// # Errors
    /// Whatever `look` returns.
    pub fn read<T, E: From<StoreError>>(&self, look: impl FnOnce(&Read<'_>) -> Result<T, E>) -> Result<T, E> {
        let connection = self.connection();
        let transaction = begin(&connection, TransactionBehavior::Deferred)?;
        look(&Read { connection: &transaction })
    }

    /// Runs one transaction: when this returns `Ok`, all of it is on disk; when it returns `Err`, none of it is kept.
    /// Not to be called from within another look or write of this store.
    ///
    /// # Errors
    /// Whatever `work` returns; [`StoreError::Locked`], [`StoreError::Full`] or [`StoreError::Io`] if it could not be
    /// kept.
    pub fn write<T, E: From<StoreError>>(&self, work: impl FnOnce(&Tx<'_>) -> Result<T, E>) -> Result<T, E> {
        let connection = self.connection();
        let transaction = begin(&connection, TransactionBehavior::Immediate)?;
        let done = work(&Tx::new(&transaction))?;
        self.still_there()?;
        transaction.commit().map_err(StoreError::from)?;
        Ok(done)
    }

    /// Writes a checked copy of everything to a path where there is nothing yet.
    ///
    /// # Errors
    /// [`StoreError::Io`] where something is already there; [`StoreError::Full`], [`StoreError::ReadOnly`],
    /// [`StoreError::Damaged`] if the copy could not be made or read back. Nothing then stands under the name.
    pub fn backup(&self, to: impl AsRef<Path>) -> Result<(), StoreError> {
        self.look_aside(|connection| backup::copy(connection, to.as_ref()))
    }

    /// Goes through everything that can be checked without knowing any command: pages and indexes, the form of the
    /// tables, references between rows, every hash chain, the digest of every private text. That the tables are what
    /// the journal makes of them shows only in a rebuild.
    ///
    /// # Errors
    /// [`StoreError::Damaged`] with the first fault found.
    pub fn check(&self) -> Result<(), StoreError> {
        self.look_aside(check::everything)
    }

    /// A file that was moved or removed while it is open can still be written, by nobody to be read again.
    fn still_there(&self) -> Result<(), StoreError> {
        match &self.path {
            Some(path) if identity(path) != self.file => {
                Err(StoreError::Io { what: format!("{} was moved, removed or replaced", path.display()) })
            }
            _ => Ok(()),
        }
    }

    /// A long look through a connection of its own, so that readings can be kept meanwhile.
    fn look_aside<T>(&self, look: impl FnOnce(&Connection) -> Result<T, StoreError>) -> Result<T, StoreError> {
        match &self.path {
            Some(path) => look(&examine::look(path)?),
            None => look(&self.connection()),
        }
    }

    /// The connection. A panic while it was held has rolled back its transaction, so it is sound.
    pub(crate) fn connection(&self) -> MutexGuard<'_, Connection> {
        self.connection.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

fn begin(connection: &Connection, behavior: TransactionBehavior) -> Result<Transaction<'_>, StoreError> {
    Ok(Transaction::new_unchecked(connection, behavior)?)
}
