//! The place of a file on disk: which file it is, and the names beside it.

use std::ffi::OsString;
use std::fs;
use std::path::{Path, PathBuf};

/// What tells one file from another under the same name.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Identity(u64, u64);

/// Which file stands under a name; none where there is none.
#[cfg(unix)]
pub(crate) fn identity(path: &Path) -> Option<Identity> {
    use std::os::unix::fs::MetadataExt;
    fs::metadata(path).ok().map(|about| Identity(about.dev(), about.ino()))
}

/// Whether a file stands under a name.
#[cfg(not(unix))]
pub(crate) fn identity(path: &Path) -> Option<Identity> {
    path.exists().then_some(Identity(0, 0))
}

/// The path with text added to the file's name.
pub(crate) fn beside(path: &Path, suffix: &str) -> PathBuf {
    let mut name = OsString::from(path);
    name.push(suffix);
    PathBuf::from(name)
}
