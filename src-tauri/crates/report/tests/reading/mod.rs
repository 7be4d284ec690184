//! Reads a finished sheet back.

use std::collections::BTreeMap;

use pdf_extract::{Dictionary, Document, Object};

pub(crate) fn opened(pdf: &[u8]) -> Document {
    Document::load_mem(pdf).expect("a readable file")
}

/// The text of each page, runs of white space as one space.
pub(crate) fn pages(pdf: &[u8]) -> Vec<String> {
    let pages = pdf_extract::extract_text_from_mem_by_pages(pdf).expect("readable text");
    pages.iter().map(|page| page.split_whitespace().collect::<Vec<_>>().join(" ")).collect()
}

/// All text without any white space: lines, columns and rows may break it anywhere.
pub(crate) fn unspaced(text: &str) -> String {
    text.split_whitespace().collect()
}

/// A sentence as it stands on paper: the hyphen of a mixed number is a gap there.
pub(crate) fn on_paper(sentence: &str) -> String {
    let all: Vec<char> = sentence.chars().collect();
    let is_digit = |i: usize| all.get(i).is_some_and(char::is_ascii_digit);
    let in_mixed = |i: usize| i > 0 && is_digit(i - 1) && is_digit(i + 1);
    unspaced(&all.iter().enumerate().filter(|&(i, &c)| c != '-' || !in_mixed(i)).map(|p| *p.1).collect::<String>())
}

fn dictionary<'a>(doc: &'a Document, object: &'a Object) -> &'a Dictionary {
    let object = doc.dereference(object).expect("a known object").1;
    object.as_dict().or_else(|_| object.as_stream().map(|s| &s.dict)).expect("a dictionary")
}

fn under<'a>(doc: &'a Document, from: &'a Dictionary, key: &str) -> &'a Dictionary {
    dictionary(doc, from.get(key.as_bytes()).expect(key))
}

#[derive(Debug, PartialEq)]
pub(crate) struct Attached {
    pub(crate) mime: String,
    pub(crate) relationship: String,
    pub(crate) bytes: Vec<u8>,
}

/// What is carried inside, by name, as the catalogue lists it.
pub(crate) fn attached(doc: &Document) -> BTreeMap<String, Attached> {
    let files = doc.catalog().expect("a catalogue").get(b"AF").expect("associated files");
    let files = doc.dereference(files).expect("a list").1.as_array().expect("a list");
    files.iter().map(|file| one_attached(doc, dictionary(doc, file))).collect()
}

fn one_attached(doc: &Document, file: &Dictionary) -> (String, Attached) {
    let name = |key: &[u8]| String::from_utf8_lossy(file.get(key).and_then(Object::as_name).expect("a name")).into();
    let stream = under(doc, file, "EF").get(b"F").and_then(Object::as_reference).expect("a reference");
    let stream = doc.get_object(stream).and_then(Object::as_stream).expect("a stream");
    let mime = stream.dict.get(b"Subtype").and_then(Object::as_name).expect("a media type");
    let bytes = stream.decompressed_content().unwrap_or_else(|_| stream.content.clone());
    let mime = String::from_utf8_lossy(mime).into();
    (text(file.get(b"UF").expect("a file name")), Attached { mime, relationship: name(b"AFRelationship"), bytes })
}

pub(crate) fn text(object: &Object) -> String {
    pdf_extract::decode_text_string(object).expect("a text")
}

/// Every font, and whether its outlines are inside.
pub(crate) fn fonts(doc: &Document) -> Vec<(String, bool)> {
    let descriptors = doc.objects.values().filter_map(|o| o.as_dict().ok()).filter(|d| d.has_type(b"FontDescriptor"));
    let name = |d: &Dictionary| String::from_utf8_lossy(d.get(b"FontName").and_then(Object::as_name).unwrap()).into();
    descriptors.map(|d| (name(d), d.has(b"FontFile2") || d.has(b"FontFile3"))).collect()
}

pub(crate) fn metadata(doc: &Document) -> String {
    let at = doc.catalog().and_then(|c| c.get(b"Metadata")).and_then(Object::as_reference).expect("metadata");
    let stream = doc.get_object(at).and_then(Object::as_stream).expect("a stream");
    String::from_utf8(stream.decompressed_content().unwrap_or_else(|_| stream.content.clone())).expect("UTF-8")
}
