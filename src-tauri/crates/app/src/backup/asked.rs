//! Backups as the screens ask for them: by name, or as bytes that came over the bridge.

use super::names::stamp;
use crate::app::App;
use crate::files::atomic_write::{unread, write_whole};
use crate::forms::{BackupAsk, FileBytes};
use data_encoding::BASE64;
use judge::{Kind, Refusal};
use std::fs;
use std::path::{Path, PathBuf};

/// The largest backup that travels over the bridge.
const MOST_BYTES: u64 = 256 << 20;

impl App {
    /// A backup as bytes, to be saved wherever the person wants it.
    ///
    /// # Errors
    /// `out-of-range` for one that is too large for this way; else as [`App::backup`].
    pub fn backup_bytes(&self) -> Result<FileBytes, Refusal> {
        let name = format!("truefall-{}.truefall", stamp(&self.now()));
        let path = self.passing(&name);
        let made = self.backup(&path);
        let bytes = made.and_then(|made| match made.bytes as u64 <= MOST_BYTES {
            true => fs::read(&path).map_err(|error| unread(&path, &error)),
            false => Err(too_large()),
        });
        let _ = fs::remove_file(&path);
        Ok(FileBytes { name, mime: "application/zip".to_string(), base64: BASE64.encode(&bytes?) })
    }

    /// Does something with the backup that is asked about.
    ///
    /// # Errors
    /// `not-found` where there is no such copy, and whatever `work` refuses with.
    pub(crate) fn of_backup<T>(
        &self,
        ask: &BackupAsk,
        work: fn(&App, &Path) -> Result<T, Refusal>,
    ) -> Result<T, Refusal> {
        if let Some(name) = &ask.name {
            let path = self.copy_named(name).ok_or_else(|| Refusal::not_found("copy", name).field("name"))?;
            return work(self, &path);
        }
        let bytes = ask.base64.as_deref().and_then(|text| BASE64.decode(text.as_bytes()).ok());
        let bytes = bytes.ok_or_else(|| Refusal::out_of_range("base64", "a backup in base 64"))?;
        let path = self.passing("asked");
        let done = write_whole(&path, &bytes).and_then(|()| work(self, &path));
        let _ = fs::remove_file(&path);
        done
    }

    /// A path for a file that is only passing through.
    fn passing(&self, name: &str) -> PathBuf {
        let home = self.folder.clone().unwrap_or_else(std::env::temp_dir);
        home.join(format!("passing-{}-{name}.part", self.new_id()))
    }
}

fn too_large() -> Refusal {
    let message = "The backup is larger than 256 MiB, which is too much for this way. Make it with truefall backup.";
    Refusal::new(Kind::OutOfRange, message)
}
