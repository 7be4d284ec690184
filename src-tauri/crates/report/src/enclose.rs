//! Large files put into a finished sheet without holding them: the sheet goes out as it is, and what is added follows
//! it, a piece at a time, with a new list of what is inside.
//!
//! # Source
//! ISO 32000-1, 7.5.6, incremental updates, and 7.11.4, embedded file streams (recalled, not read); what the files
//! carry is what the typesetting library gives its own attachments.

use crate::model::{Moment, Relationship};
use crate::typeset::ReportError;
use data_encoding::HEXLOWER;
use lopdf::{Dictionary, Document, Object, ObjectId, StringFormat};
use std::io::{self, Read, Write};

/// A file to be put in, and where its bytes come from.
pub struct Enclosed<'f> {
    /// A plain file name, different from every other.
    pub name: String,
    pub mime: String,
    pub description: String,
    /// How many bytes will be read.
    pub length: u64,
    pub open: Box<dyn FnOnce() -> io::Result<Box<dyn Read>> + 'f>,
}

/// Writes a sheet that [`pdf`](crate::pdf) made, with further files inside it.
///
/// # Errors
/// [`ReportError::Typesetting`] for bytes that are no such sheet; else what reading or writing failed with.
pub fn enclose(pdf: &[u8], files: Vec<Enclosed<'_>>, date: Moment, out: &mut dyn Write) -> io::Result<()> {
    if files.is_empty() {
        return out.write_all(pdf);
    }
    let mut update = Update::of(pdf, out).map_err(|error| io::Error::other(error.to_string()))?;
    update.write(pdf)?;
    let mut listed = Vec::new();
    for file in files {
        let name = file.name.clone();
        listed.push((name, update.put(file, date)?));
    }
    update.finish(&listed)
}

/// What follows the sheet.
struct Update<'o> {
    out: &'o mut dyn Write,
    at: u64,
    next: u32,
    catalog: Dictionary,
    trailer: Dictionary,
    root: ObjectId,
    before: i64,
    /// Where each new object begins.
    places: Vec<(u32, u64)>,
}

impl<'o> Update<'o> {
    fn of(pdf: &[u8], out: &'o mut dyn Write) -> Result<Self, ReportError> {
        let strange = || ReportError::Typesetting("the sheet is not one that can be added to".to_string());
        let document = Document::load_mem(pdf).map_err(|_| strange())?;
        let root = document.trailer.get(b"Root").and_then(Object::as_reference).map_err(|_| strange())?;
        let catalog = document.catalog().map_err(|_| strange())?.clone();
        let next = document.max_id + 1;
        let before = startxref(pdf).ok_or_else(strange)?;
        Ok(Self { out, at: 0, next, catalog, trailer: document.trailer, root, before, places: Vec::new() })
    }

    fn write(&mut self, bytes: &[u8]) -> io::Result<()> {
        self.at += bytes.len() as u64;
        self.out.write_all(bytes)
    }

    fn begin(&mut self, number: u32) -> io::Result<()> {
        self.places.push((number, self.at));
        self.write(format!("{number} 0 obj\n").as_bytes())
    }

    fn fresh(&mut self) -> u32 {
        self.next += 1;
        self.next - 1
    }

    /// Writes one file and what is said of it; gives the number of the latter.
    fn put(&mut self, file: Enclosed<'_>, date: Moment) -> io::Result<u32> {
        let (stream, about) = (self.fresh(), self.fresh());
        self.begin(stream)?;
        let mut params = Dictionary::new();
        params.set("Size", file.length as i64);
        params.set("ModDate", Object::string_literal(date.in_pdf()));
        let mut head = Dictionary::new();
        head.set("Length", file.length as i64);
        head.set("Type", "EmbeddedFile");
        head.set("Subtype", Object::Name(file.mime.clone().into_bytes()));
        head.set("Params", params);
        self.write(&[written(&Object::Dictionary(head)).as_slice(), b"\nstream\n"].concat())?;
        self.pass(file.length, (file.open)()?)?;
        self.write(b"\nendstream\nendobj\n")?;
        self.begin(about)?;
        let about_file = filespec(&file.name, &file.description, stream);
        self.write(&[written(&about_file).as_slice(), b"\nendobj\n"].concat())?;
        Ok(about)
    }

    /// Passes exactly so many bytes on, a piece at a time.
    fn pass(&mut self, length: u64, from: Box<dyn Read>) -> io::Result<()> {
        let passed = io::copy(&mut from.take(length), self.out)?;
        self.at += passed;
        if passed == length { Ok(()) } else { Err(io::Error::other("a file is shorter than it was")) }
    }

    fn finish(mut self, listed: &[(String, u32)]) -> io::Result<()> {
        let catalog = catalog_with(&self.catalog, listed);
        self.begin(self.root.0)?;
        self.write(&[written(&Object::Dictionary(catalog)).as_slice(), b"\nendobj\n"].concat())?;
        let table = self.at;
        self.places.sort_unstable();
        let mut text = "xref\n".to_string();
        for (number, place) in &self.places {
            text += &format!("{number} 1\n{place:010} 00000 n\r\n");
        }
        self.trailer.set("Size", i64::from(self.next));
        self.trailer.set("Prev", self.before);
        let trailer = written(&Object::Dictionary(self.trailer.clone()));
        self.write(&[text.as_bytes(), b"trailer\n", &trailer].concat())?;
        self.write(format!("\nstartxref\n{table}\n%%EOF").as_bytes())
    }
}

/// Where the table of a file's objects begins.
fn startxref(pdf: &[u8]) -> Option<i64> {
    let tail = String::from_utf8_lossy(pdf.get(pdf.len().saturating_sub(64)..)?);
    tail.rsplit_once("startxref")?.1.split_whitespace().next()?.parse().ok()
}

fn filespec(name: &str, description: &str, stream: u32) -> Object {
    let mut held = Dictionary::new();
    held.set("F", Object::Reference((stream, 0)));
    held.set("UF", Object::Reference((stream, 0)));
    let mut about = Dictionary::new();
    about.set("Type", "Filespec");
    about.set("F", lopdf::text_string(name));
    about.set("UF", lopdf::text_string(name));
    about.set("EF", held);
    about.set("AFRelationship", format!("{:?}", Relationship::Supplement).as_str());
    about.set("Desc", lopdf::text_string(description));
    Object::Dictionary(about)
}

/// The catalogue with further files in both of its lists; names stand in order, as a reader searches them.
fn catalog_with(catalog: &Dictionary, listed: &[(String, u32)]) -> Dictionary {
    let mut catalog = catalog.clone();
    let within = |from: &Dictionary, key: &[u8]| from.get(key).and_then(Object::as_dict).cloned().unwrap_or_default();
    let mut names = within(&catalog, b"Names");
    let mut files = within(&names, b"EmbeddedFiles");
    let known = files.get(b"Names").and_then(Object::as_array).cloned().unwrap_or_default();
    let mut pairs: Vec<(Object, Object)> =
        known.chunks_exact(2).filter_map(|pair| Some((pair.first()?.clone(), pair.get(1)?.clone()))).collect();
    pairs.extend(listed.iter().map(|(name, about)| (lopdf::text_string(name), Object::Reference((*about, 0)))));
    pairs.sort_by(|a, b| a.0.as_str().unwrap_or_default().cmp(b.0.as_str().unwrap_or_default()));
    files.set("Names", pairs.into_iter().flat_map(|(name, about)| [name, about]).collect::<Vec<_>>());
    names.set("EmbeddedFiles", files);
    let mut associated = catalog.get(b"AF").and_then(Object::as_array).cloned().unwrap_or_default();
    associated.extend(listed.iter().map(|(_, about)| Object::Reference((*about, 0))));
    catalog.set("Names", names);
    catalog.set("AF", associated);
    catalog
}

/// An object as it stands in a file.
fn written(object: &Object) -> Vec<u8> {
    match object {
        Object::Null => b"null".to_vec(),
        Object::Boolean(yes) => yes.to_string().into_bytes(),
        Object::Integer(number) => number.to_string().into_bytes(),
        Object::Real(number) => number.to_string().into_bytes(),
        Object::Name(name) => named(name),
        Object::String(text, format) => quoted(text, format),
        Object::Array(all) => {
            let inside: Vec<Vec<u8>> = all.iter().map(written).collect();
            [b"[".as_slice(), &inside.join(&b' '), b"]"].concat()
        }
        Object::Dictionary(all) => {
            let inside: Vec<u8> =
                all.iter().flat_map(|(key, value)| [named(key), b" ".to_vec(), written(value)].concat()).collect();
            [b"<<".as_slice(), &inside, b">>"].concat()
        }
        Object::Reference((number, generation)) => format!("{number} {generation} R").into_bytes(),
        // A stream never stands inside another object.
        Object::Stream(_) => b"null".to_vec(),
    }
}

fn named(name: &[u8]) -> Vec<u8> {
    let plain = |byte: &u8| byte.is_ascii_alphanumeric() || b"-+._".contains(byte);
    let part = |byte: &u8| if plain(byte) { vec![*byte] } else { format!("#{byte:02X}").into_bytes() };
    [b"/".to_vec(), name.iter().flat_map(part).collect()].concat()
}

/// Any text in hexadecimal digits: nothing in it can end it early.
fn quoted(text: &[u8], _format: &StringFormat) -> Vec<u8> {
    format!("<{}>", HEXLOWER.encode(text)).into_bytes()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::carried::carried;

    #[test]
    fn what_is_put_in_stands_beside_what_was_there() {
        let sheet = crate::kestrel::sheet();
        let pdf = crate::pdf(&sheet).expect("a sheet");
        let bytes: Vec<u8> = (0..=255).cycle().take(100_000).collect();
        for name in ["01-wall.jpg", "zz-ü (1) 王.jpg"] {
            let open = || -> io::Result<Box<dyn Read>> { Ok(Box::new(io::Cursor::new(bytes.clone()))) };
            let file = Enclosed {
                name: name.into(),
                mime: "image/jpeg".into(),
                description: "A wall (left).".into(),
                length: bytes.len() as u64,
                open: Box::new(open),
            };
            let mut out = Vec::new();
            enclose(&pdf, vec![file], sheet.title.date, &mut out).expect("memory");
            assert!(out.starts_with(&pdf), "the sheet itself is untouched");
            let files = carried(&out).expect("readable");
            assert_eq!(files.len(), sheet.attachments.len() + 1);
            assert!(files.iter().any(|file| file.name == name && file.bytes == bytes), "{name}");
        }
    }

    #[test]
    fn a_file_that_shrank_is_no_sheet() {
        let sheet = crate::kestrel::sheet();
        let pdf = crate::pdf(&sheet).expect("a sheet");
        let open = || -> io::Result<Box<dyn Read>> { Ok(Box::new(io::Cursor::new(vec![1, 2]))) };
        let (name, mime) = ("a.jpg".to_string(), "image/jpeg".to_string());
        let file = Enclosed { name, mime, description: String::new(), length: 3, open: Box::new(open) };
        assert!(enclose(&pdf, vec![file], sheet.title.date, &mut Vec::new()).is_err());
    }
}
