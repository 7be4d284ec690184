//! Everything about one room in one ZIP: the record, the room file, the readings, the drawings, the photographs.

use crate::app::App;
use crate::files::csv_readings;
use crate::files::drawing::drawn_as;
use crate::files::file_name::file_name;
use crate::files::room_file::written;
use crate::files::sha256sums;
use crate::forms::*;
use data_encoding::BASE64;
use judge::{Kind, Refusal};
use std::io::{Cursor, Write};
use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, ZipWriter};

impl App {
    /// Everything about a room in one file.
    ///
    /// # Errors
    /// `not-found` if there is no such room, or whatever keeps its record from being made.
    pub fn everything(&self, room: &str) -> Result<FileBytes, Refusal> {
        let name = file_name(&self.room_state(room)?.room.name);
        let base64 = BASE64.encode(&self.everything_bytes(&ExportAsk { room: room.to_string(), black_out: false })?);
        Ok(FileBytes { name: format!("{name}.zip"), mime: "application/zip".to_string(), base64 })
    }

    /// The same as bytes, without its private texts where that is asked for.
    ///
    /// # Errors
    /// As [`App::everything`] and [`App::export_file`].
    pub fn everything_bytes(&self, ask: &ExportAsk) -> Result<Vec<u8>, Refusal> {
        let file = self.file_as_asked(&ask.room, ask.black_out)?;
        let name = file_name(&file.room.name);
        let mut record = Vec::new();
        let whole = RecordAsk { room: ask.room.clone(), contents: None, black_out: ask.black_out };
        self.write_record(&file, &whole, &mut record)?;
        let mut files = vec![
            (format!("{name}.pdf"), record),
            (format!("{name}.room.json"), written(&file)?.text.into_bytes()),
            (format!("{name}.readings.csv"), csv_readings::write(&file)?.into_bytes()),
        ];
        for kind in ["dxf", "svg"] {
            let drawing = drawn_as(&file, kind)?;
            files.push((drawing.name, drawing.text.into_bytes()));
        }
        for original in self.originals(&file) {
            files.push((original.name.clone(), self.shelf.get(&original.photograph.sha256)?));
        }
        let list = sha256sums::write(files.iter().map(|(name, bytes)| (name.as_str(), sha256sums::sha256(bytes))));
        files.push((sha256sums::NAME.to_string(), list.into_bytes()));
        packed(&files).map_err(|error| Refusal::new(Kind::Internal, format!("The ZIP could not be made: {error}.")))
    }
}

fn packed(files: &[(String, Vec<u8>)]) -> Result<Vec<u8>, zip::result::ZipError> {
    let plain = SimpleFileOptions::default().compression_method(CompressionMethod::Stored);
    let mut zip = ZipWriter::new(Cursor::new(Vec::new()));
    for (name, bytes) in files {
        zip.start_file(name.as_str(), plain)?;
        zip.write_all(bytes)?;
    }
    Ok(zip.finish()?.into_inner())
}

/// Files by their names.
type Files = Vec<(String, Vec<u8>)>;

/// The files of a ZIP, none of them pressed; `None` for bytes that are no ZIP.
pub(crate) fn unpacked(bytes: &[u8]) -> Option<Result<Files, Refusal>> {
    if !bytes.starts_with(b"PK\x03\x04") {
        return None;
    }
    Some(read(bytes).map_err(|_| {
        let message =
            "The ZIP is cut off or damaged, or another program pressed it. Choose the file that Truefall wrote.";
        Refusal::new(Kind::Damaged, message).field("file")
    }))
}

fn read(bytes: &[u8]) -> Result<Files, Box<dyn std::error::Error>> {
    let mut zip = zip::ZipArchive::new(Cursor::new(bytes))?;
    let mut files = Vec::new();
    for at in 0..zip.len() {
        let mut part = zip.by_index(at)?;
        let (name, mut content) = (part.name()?.to_string(), Vec::new());
        std::io::Read::read_to_end(&mut part, &mut content)?;
        files.push((name, content));
    }
    Ok(files)
}
