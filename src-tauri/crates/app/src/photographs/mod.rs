//! Photographs: files under their digest beside the rooms, written and synced before the entry that names them.

mod image_file;
mod page;
pub(crate) mod shelf;

use crate::app::App;
use crate::files::sha256sums::sha256;
use crate::forms::*;
use data_encoding::BASE64;
use judge::forms::json;
use judge::{Kind, Refusal};

impl App {
    /// Keeps a photograph and puts it on the record: the file first, then its entry.
    ///
    /// # Errors
    /// `not-understood` for a file that is no photograph or ends early, `out-of-range` for one that is too large.
    pub fn add_photograph(&self, ask: &PhotographAsk) -> Result<Written, Refusal> {
        let given = BASE64
            .decode(ask.base64.as_bytes())
            .ok()
            .ok_or_else(|| Refusal::out_of_range("base64", "bytes in base 64"))?;
        let about = image_file::about(&given)?;
        let bytes = if ask.keep_place { given } else { image_file::without_place(&given, &about) };
        let (digest, small) = (sha256(&bytes), page::small(&bytes, &about)?);
        self.shelf.put(&digest, &bytes)?;
        self.shelf.keep_small(&digest, &small);
        let entry = RecordEntry {
            id: ask.id.clone(),
            at: self.now(),
            what: EntryKind::Photograph(Photograph {
                sha256: digest,
                name: ask.name.clone(),
                mime: about.mime.to_string(),
                bytes: bytes.len() as f64,
                width: about.width,
                height: about.height,
                taken: about.taken,
                wall: ask.wall.clone(),
                viewpoint: ask.viewpoint.clone(),
                tape: ask.tape,
            }),
        };
        self.write(&Write {
            id: ask.id.clone(),
            room: ask.room.clone(),
            command: "entry-put".to_string(),
            payload: json::write(&EntryPut { entry })?,
            at: None,
            person: None,
            private: Vec::new(),
        })
    }

    /// A photograph made small, for the screen and the page.
    ///
    /// # Errors
    /// `not-found` where its file is not here, `damaged` where it is not the one its digest names.
    pub fn small_photograph(&self, digest: &str) -> Result<FileBytes, Refusal> {
        let bytes = self.small_of(digest)?;
        let (name, mime) = (format!("{digest}.jpg"), "image/jpeg".to_string());
        Ok(FileBytes { name, mime, base64: BASE64.encode(&bytes) })
    }

    pub(crate) fn small_of(&self, digest: &str) -> Result<Vec<u8>, Refusal> {
        if digest.len() != 64 || !digest.bytes().all(|byte| byte.is_ascii_hexdigit()) {
            return Err(Refusal::out_of_range("sha256", "64 hexadecimal digits"));
        }
        if let Some(small) = self.shelf.small(digest) {
            return Ok(small);
        }
        let bytes = self.shelf.get(digest)?;
        if sha256(&bytes) != digest {
            let message = "The file of this photograph was changed or damaged. Restore it from a backup.";
            return Err(Refusal::new(Kind::Damaged, message).field("sha256"));
        }
        let small = page::small(&bytes, &image_file::about(&bytes)?)?;
        self.shelf.keep_small(digest, &small);
        Ok(small)
    }

    /// Puts the photographs that a record carries where its room looks for them.
    ///
    /// # Errors
    /// Whatever keeps them from being written.
    pub(crate) fn take_carried(&self, room: &RoomFile, files: &[(String, Vec<u8>)]) -> Result<(), Refusal> {
        for photograph in room.photographs() {
            if let Some((_, bytes)) = files.iter().find(|(_, bytes)| sha256(bytes) == photograph.sha256) {
                self.shelf.put(&photograph.sha256, bytes)?;
            }
        }
        Ok(())
    }
}
