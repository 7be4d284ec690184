//! Files that bear their name only when they are whole and on disk.

use judge::{Kind, Refusal};
use std::ffi::OsString;
use std::fs::{self, File, OpenOptions};
use std::io::{self, BufWriter, Write};
use std::path::{Path, PathBuf};

/// Writes bytes to a path in the place of whatever stands there.
///
/// # Errors
/// `io`, `full` or `read-only`; what stood there before stands there still.
pub fn write_whole(path: &Path, bytes: &[u8]) -> Result<(), Refusal> {
    let part = beside(path, ".part");
    let written = File::create(&part).and_then(|mut file| file.write_all(bytes)).and_then(|()| put(&part, path));
    written.map_err(|error| {
        // The part is nobody's file; where it cannot be removed either, the first error says why.
        let _ = fs::remove_file(&part);
        unwritten(path, &error)
    })
}

/// Writes a file piece by piece in the place of whatever stands there.
///
/// # Errors
/// Whatever `write` refuses with, `io`, `full` or `read-only`; what stood there before stands there still.
pub(crate) fn write_whole_by(
    path: &Path,
    write: impl FnOnce(&mut BufWriter<File>) -> Result<(), Refusal>,
) -> Result<(), Refusal> {
    let part = beside(path, ".part");
    let failed = |error: io::Error| unwritten(path, &error);
    let done = File::create(&part).map_err(failed).and_then(|file| {
        let mut file = BufWriter::new(file);
        write(&mut file)?;
        file.flush().map_err(failed)
    });
    let done = done.and_then(|()| put(&part, path).map_err(failed));
    if done.is_err() {
        // The part is nobody's file; where it cannot be removed either, the first error says why.
        let _ = fs::remove_file(&part);
    }
    done
}

/// Syncs a finished part, gives it its name, and syncs the name.
pub(crate) fn put(part: &Path, path: &Path) -> io::Result<()> {
    OpenOptions::new().write(true).open(part)?.sync_all()?;
    fs::rename(part, path)?;
    sync_folder(path)
}

/// What to say of a file that could not be written.
pub(crate) fn unwritten(path: &Path, error: &io::Error) -> Refusal {
    let kind = match error.kind() {
        io::ErrorKind::StorageFull | io::ErrorKind::QuotaExceeded => Kind::Full,
        io::ErrorKind::PermissionDenied | io::ErrorKind::ReadOnlyFilesystem => Kind::ReadOnly,
        _ => Kind::Io,
    };
    let message =
        format!("{} could not be written: {error}. Choose another place, or free some space.", path.display());
    Refusal::new(kind, message).field("output")
}

/// What to say of a file that could not be read.
pub(crate) fn unread(path: &Path, error: &io::Error) -> Refusal {
    Refusal::new(Kind::Io, format!("{} could not be read: {error}.", path.display())).field("file")
}

/// The path with text added to the file's name.
pub(crate) fn beside(path: &Path, suffix: &str) -> PathBuf {
    let mut name = OsString::from(path);
    name.push(suffix);
    PathBuf::from(name)
}

#[cfg(unix)]
fn sync_folder(of: &Path) -> io::Result<()> {
    let folder = of.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    File::open(folder)?.sync_all()
}

#[cfg(not(unix))]
fn sync_folder(_of: &Path) -> io::Result<()> {
    Ok(())
}
