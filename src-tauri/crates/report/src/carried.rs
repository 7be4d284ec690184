//! The files that a sheet carries, read back out of its bytes.

mod bombs;
mod not_carried;

pub use not_carried::NotCarried;

use bombs::refuse_bombs;
use flate2::read::ZlibDecoder;
use lopdf::{Dictionary, Document, Object, Stream};
use std::io::Read;
use std::panic::{AssertUnwindSafe, catch_unwind};

/// The most bytes that one carried file may unfold to.
pub const MOST_CARRIED: u64 = 512 << 20;

/// How deep a tree of names may go.
const DEEPEST: usize = 16;

/// A file that was carried inside a sheet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Carried {
    pub name: String,
    pub bytes: Vec<u8>,
}

/// The files inside a PDF in the order of its list; none for a PDF that carries nothing.
///
/// # Errors
/// [`NotCarried`]. Whatever the bytes are, nothing unfolds without a bound.
pub fn carried(pdf: &[u8]) -> Result<Vec<Carried>, NotCarried> {
    let head = pdf.get(..1024.min(pdf.len())).unwrap_or_default();
    if !head.windows(5).any(|five| five == b"%PDF-") {
        return Err(NotCarried::NotPdf);
    }
    refuse_bombs(pdf)?;
    // The library was written for files of good will: a panic of its own is a file that it cannot read.
    let document = catch_unwind(AssertUnwindSafe(|| Document::load_mem(pdf)));
    let document = document.map_err(|_| NotCarried::Unreadable)?.map_err(|_| NotCarried::Unreadable)?;
    catch_unwind(AssertUnwindSafe(|| listed(&document))).map_err(|_| NotCarried::Unreadable)?
}

fn listed(document: &Document) -> Result<Vec<Carried>, NotCarried> {
    let catalog = document.catalog().map_err(|_| NotCarried::Unreadable)?;
    let names = within(document, catalog, b"Names").and_then(|names| within(document, names, b"EmbeddedFiles"));
    let mut files = Vec::new();
    if let Some(tree) = names {
        gather(document, tree, DEEPEST, &mut files)?;
    }
    Ok(files)
}

/// The files of one knot of the tree of names, and of the knots below it.
fn gather(document: &Document, knot: &Dictionary, depth: usize, files: &mut Vec<Carried>) -> Result<(), NotCarried> {
    if depth == 0 {
        return Err(NotCarried::Unreadable);
    }
    for pair in list(document, knot, b"Names").chunks(2) {
        if let Some(file) = pair.get(1).and_then(|file| dictionary(document, file)) {
            files.push(read(document, file)?);
        }
    }
    for kid in list(document, knot, b"Kids") {
        if let Some(kid) = dictionary(document, kid) {
            gather(document, kid, depth - 1, files)?;
        }
    }
    Ok(())
}

fn read(document: &Document, file: &Dictionary) -> Result<Carried, NotCarried> {
    let name = file.get(b"UF").or_else(|_| file.get(b"F")).ok().and_then(|name| lopdf::decode_text_string(name).ok());
    let name = name.unwrap_or_default();
    let stream = within(document, file, b"EF")
        .and_then(|held| held.get(b"F").ok())
        .and_then(|held| document.dereference(held).ok())
        .and_then(|(_, held)| held.as_stream().ok());
    let Some(stream) = stream else { return Err(NotCarried::Damaged(name)) };
    let bytes = unfolded(stream, &name)?;
    Ok(Carried { name, bytes })
}

/// The bytes of a stream: as they stand, or unfolded within a bound.
fn unfolded(stream: &Stream, name: &str) -> Result<Vec<u8>, NotCarried> {
    let damaged = || NotCarried::Damaged(name.to_string());
    let filters = stream.filters().unwrap_or_default();
    match filters.as_slice() {
        [] => Ok(stream.content.clone()),
        [b"FlateDecode"] => {
            let mut bytes = Vec::new();
            let reader = ZlibDecoder::new(stream.content.as_slice());
            reader.take(MOST_CARRIED + 1).read_to_end(&mut bytes).map_err(|_| damaged())?;
            if bytes.len() as u64 > MOST_CARRIED { Err(NotCarried::TooLarge(name.to_string())) } else { Ok(bytes) }
        }
        _ => Err(damaged()),
    }
}

fn within<'a>(document: &'a Document, from: &'a Dictionary, key: &[u8]) -> Option<&'a Dictionary> {
    from.get(key).ok().and_then(|object| dictionary(document, object))
}

fn dictionary<'a>(document: &'a Document, object: &'a Object) -> Option<&'a Dictionary> {
    document.dereference(object).ok().and_then(|(_, object)| object.as_dict().ok())
}

fn list<'a>(document: &'a Document, from: &'a Dictionary, key: &[u8]) -> &'a [Object] {
    let list = from.get(key).ok().and_then(|object| document.dereference(object).ok());
    list.and_then(|(_, list)| list.as_array().ok()).map_or(&[], Vec::as_slice)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::kestrel;

    #[test]
    fn what_was_put_in_comes_out() {
        let sheet = kestrel::sheet();
        let files = carried(&crate::pdf(&sheet).expect("a sheet")).expect("readable");
        let put: Vec<_> = sheet.attachments.iter().map(|one| (one.name.as_str(), one.bytes.as_slice())).collect();
        let mut out: Vec<_> = files.iter().map(|one| (one.name.as_str(), one.bytes.as_slice())).collect();
        out.sort_by_key(|(name, _)| put.iter().position(|(put, _)| put == name));
        assert_eq!(out, put);
    }

    #[test]
    fn what_is_no_sheet_says_so() {
        assert_eq!(carried(b""), Err(NotCarried::NotPdf));
        assert_eq!(carried(b"point,x_mm"), Err(NotCarried::NotPdf));
        assert_eq!(carried(b"%PDF-1.7\n"), Err(NotCarried::Unreadable));
        let whole = crate::pdf(&kestrel::sheet()).expect("a sheet");
        assert_eq!(carried(&whole[..whole.len() / 2]), Err(NotCarried::Unreadable));
    }
}
