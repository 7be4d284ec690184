//! What the files of a backup are called.

use crate::files::atomic_write::beside;
use std::path::{Path, PathBuf};

/// What the rooms are called inside a backup, and beside it.
pub(crate) const ROOMS: &str = "rooms.sqlite";

/// The database's own files beside it.
pub(super) const WITH: [&str; 3] = ["", "-wal", "-shm"];

/// A time as part of a file's name: `20310402-073105`.
pub(crate) fn stamp(now: &str) -> String {
    let digits: String = now.chars().take(19).filter(char::is_ascii_digit).collect();
    match digits.split_at_checked(8) {
        Some((day, time)) => format!("{day}-{time}"),
        None => digits,
    }
}

/// A free name for a damaged file: `rooms.damaged-20310402-073105.sqlite`, then with `.1` and so on.
pub(crate) fn aside_name(folder: &Path, stamp: &str) -> PathBuf {
    let first = format!("rooms.damaged-{stamp}.sqlite");
    let further = (1_u32..).map(|n| format!("rooms.damaged-{stamp}.{n}.sqlite"));
    let mut names = std::iter::once(first).chain(further).map(|name| folder.join(name));
    names.find(|name| WITH.iter().all(|suffix| !beside(name, suffix).exists())).unwrap_or_else(|| folder.join(stamp))
}
