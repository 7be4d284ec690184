//! Why the rooms could not be opened, read or kept, each with a way out for the person who holds them.

use std::fmt;
use std::io;

use rusqlite::Error as Sql;
use rusqlite::ErrorCode as Code;

use crate::id::EntryId;

/// Why the store did not do what was asked. Nothing was changed: the file is as it was before the call.
///
/// `Display` is a sentence for a person on site, with what to do about it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum StoreError {
    /// The file cannot be read as a database, or parts of it contradict one another.
    Damaged { found: String },
    /// The file was written by a newer Truefall.
    Newer { found: u32, known: u32 },
    /// The file is a database, but not one of Truefall's.
    NotOurs,
    /// Another program holds the file and did not let go in time.
    Locked,
    /// The file or its folder may not be written.
    ReadOnly,
    /// There is no room left to write.
    Full,
    /// The disk, the folder or the path failed.
    Io { what: String },
    /// The id is already taken by another entry.
    IdReused { id: EntryId },
    /// An entry does not continue the chain it claims to belong to.
    DoesNotFit { seq: u32, id: EntryId },
    /// A row contradicts the tables: its room or set-up is missing, or a value is out of its range.
    Refused { why: String },
    /// The store and this program disagree about the tables: a defect.
    Internal { what: String },
}

impl StoreError {
    /// The name used on every wire: `damaged`.
    pub fn kind(&self) -> &'static str {
        match self {
            Self::Damaged { .. } => "damaged",
            Self::Newer { .. } => "newer",
            Self::NotOurs => "not-ours",
            Self::Locked => "locked",
            Self::ReadOnly => "read-only",
            Self::Full => "full",
            Self::Io { .. } => "io",
            Self::IdReused { .. } => "id-reused",
            Self::DoesNotFit { .. } => "does-not-fit",
            Self::Refused { .. } => "refused",
            Self::Internal { .. } => "internal",
        }
    }

    pub(crate) fn damaged(found: impl fmt::Display) -> Self {
        Self::Damaged { found: found.to_string() }
    }

    pub(crate) fn refused(why: impl Into<String>) -> Self {
        Self::Refused { why: why.into() }
    }
}

impl fmt::Display for StoreError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Damaged { found } => write!(
                f,
                "The file of your rooms is damaged ({found}). It was left as it is. Close Truefall and \
                 run truefall recover: it keeps this file aside and takes back the last copy and what this file \
                 still says."
            ),
            Self::Newer { found, known } => write!(
                f,
                "The file of your rooms was written by a newer Truefall (form {found}; this one knows up to {known}). \
                 Nothing was changed: update Truefall, then open it again."
            ),
            Self::NotOurs => f.write_str(
                "This file was not made by Truefall. Nothing was changed: choose another file or another data folder.",
            ),
            Self::Locked => f.write_str(
                "Another program is using the file of your rooms and has not let go. \
                 Close the other Truefall, or wait a moment, and try again.",
            ),
            Self::ReadOnly => f.write_str(
                "The file of your rooms may not be written here. Allow writing to its folder, \
                 or choose another data folder.",
            ),
            Self::Full => f.write_str(
                "The disk is full, so nothing of this was kept; everything before it is safe. \
                 Free some space and enter it again.",
            ),
            Self::Io { what } => write!(
                f,
                "The disk did not do what was asked ({what}). What was kept before is safe: \
                 check the drive and its folder, then try again."
            ),
            Self::IdReused { id } => write!(
                f,
                "The entry {id} was already kept with other content. What was kept stays: \
                 enter the change again under a new id."
            ),
            Self::DoesNotFit { seq, id } => write!(
                f,
                "Entry {seq} ({id}) does not continue the journal before it. Nothing was taken over: \
                 ask for the file again, or keep it as a second room."
            ),
            Self::Refused { why } => {
                write!(f, "This cannot be kept: {why}. Nothing was changed: correct it and retry.")
            }
            Self::Internal { what } => write!(
                f,
                "Truefall made a mistake with its own file ({what}). Nothing was changed: make a backup and report it."
            ),
        }
    }
}

impl std::error::Error for StoreError {}

impl From<Sql> for StoreError {
    fn from(error: Sql) -> Self {
        match &error {
            Sql::SqliteFailure(cause, message) => of_code(cause.code, message.clone().unwrap_or(cause.to_string())),
            Sql::SqlInputError { error: cause, msg, .. } => of_code(cause.code, msg.clone()),
            Sql::FromSqlConversionFailure(..)
            | Sql::InvalidColumnType(..)
            | Sql::IntegralValueOutOfRange(..)
            | Sql::Utf8Error(..) => Self::damaged(error),
            Sql::InvalidPath(_) | Sql::NulError(_) => Self::Io { what: error.to_string() },
            _ => Self::Internal { what: error.to_string() },
        }
    }
}

fn of_code(code: Code, message: String) -> StoreError {
    match code {
        Code::DatabaseCorrupt | Code::NotADatabase => StoreError::Damaged { found: message },
        Code::DatabaseBusy | Code::DatabaseLocked | Code::FileLockingProtocolFailed => StoreError::Locked,
        Code::ReadOnly | Code::PermissionDenied => StoreError::ReadOnly,
        Code::DiskFull => StoreError::Full,
        Code::SystemIoFailure | Code::CannotOpen | Code::NoLargeFileSupport => StoreError::Io { what: message },
        Code::ConstraintViolation | Code::TypeMismatch | Code::TooBig => StoreError::Refused { why: message },
        _ => StoreError::Internal { what: message },
    }
}

impl From<io::Error> for StoreError {
    fn from(error: io::Error) -> Self {
        match error.kind() {
            io::ErrorKind::PermissionDenied | io::ErrorKind::ReadOnlyFilesystem => Self::ReadOnly,
            io::ErrorKind::StorageFull | io::ErrorKind::QuotaExceeded => Self::Full,
            _ => Self::Io { what: error.to_string() },
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_kind_has_its_own_name_and_a_way_out() {
        let all = [
            StoreError::damaged("page 3"),
            StoreError::Newer { found: 9, known: 1 },
            StoreError::NotOurs,
            StoreError::Locked,
            StoreError::ReadOnly,
            StoreError::Full,
            StoreError::Io { what: "no such folder".into() },
            StoreError::IdReused { id: EntryId::from("e1") },
            StoreError::DoesNotFit { seq: 3, id: EntryId::from("e1") },
            StoreError::refused("no such set-up"),
            StoreError::Internal { what: "no such table".into() },
        ];
        let mut kinds: Vec<_> = all.iter().map(StoreError::kind).collect();
        kinds.sort_unstable();
        kinds.dedup();
        assert_eq!(kinds.len(), all.len());
        for error in &all {
            let sentences = error.to_string().matches(". ").count();
            assert!(sentences >= 1 && error.to_string().ends_with('.'), "what happened, then what to do: {error}");
        }
    }

    #[test]
    fn what_the_disk_says_is_told_apart() {
        let check = |kind: io::ErrorKind, want: &str| assert_eq!(StoreError::from(io::Error::from(kind)).kind(), want);
        check(io::ErrorKind::PermissionDenied, "read-only");
        check(io::ErrorKind::StorageFull, "full");
        check(io::ErrorKind::NotFound, "io");
    }
}
