//! Photographs: kept under their digest without the place, carried whole, shown small, refused with a sentence.

use app::forms::{EntryKind, Photograph, PhotographAsk};
use app::{App, Clock, Kind};
use data_encoding::BASE64;
use image::{ImageFormat, Rgb, RgbImage};
use serde_json::json;
use site_tests::{app, demo, write};
use std::io::Cursor;
use tempfile::TempDir;

fn picture(width: u32, height: u32, format: ImageFormat) -> Vec<u8> {
    let picture = RgbImage::from_fn(width, height, |x, y| Rgb([(x % 256) as u8, (y % 256) as u8, 90]));
    let mut bytes = Vec::new();
    picture.write_to(&mut Cursor::new(&mut bytes), format).expect("memory");
    bytes
}

/// A JPEG as a telephone writes it: lying on its side, with the time, and with the place in three ways.
fn telephone() -> Vec<u8> {
    let entry = |tag: u16, kind: u16, count: u32, value: &[u8; 4]| {
        [&tag.to_be_bytes()[..], &kind.to_be_bytes(), &count.to_be_bytes(), value].concat()
    };
    // The first list has three entries, so it ends at 8 + 2 + 36 + 4 = 50; the second two, at 50 + 30 = 80; the third
    // one, at 80 + 18 = 98; then the texts.
    let mut tiff = b"MM\x00\x2a\x00\x00\x00\x08".to_vec();
    tiff.extend([vec![0, 3], entry(0x0112, 3, 1, &[0, 6, 0, 0]), entry(0x8769, 4, 1, &[0, 0, 0, 50])].concat());
    tiff.extend([entry(0x8825, 4, 1, &[0, 0, 0, 80]), vec![0; 4]].concat());
    tiff.extend(
        [vec![0, 2], entry(0x9003, 2, 20, &[0, 0, 0, 98]), entry(0x9011, 2, 7, &[0, 0, 0, 118]), vec![0; 4]].concat(),
    );
    tiff.extend([vec![0, 1], entry(0x0001, 2, 2, b"N\0\0\0"), vec![0; 4]].concat());
    tiff.extend(b"2031:04:02 07:31:05\0-05:00\0");
    let segment =
        |marker: u8, body: &[u8]| [&[0xFF, marker][..], &((body.len() + 2) as u16).to_be_bytes(), body].concat();
    let plain = picture(400, 300, ImageFormat::Jpeg);
    let xmp = segment(0xE1, b"http://ns.adobe.com/xap/1.0/\0<exif:GPSLatitude>51,30.5N</exif:GPSLatitude>");
    let comment = segment(0xFE, b"taken at the SECRET place");
    let exif = segment(0xE1, &[b"Exif\0\0".as_slice(), &tiff].concat());
    [&plain[..2], &exif, &xmp, &comment, &plain[2..]].concat()
}

fn ask(room: &str, bytes: &[u8], keep_place: bool) -> PhotographAsk {
    PhotographAsk {
        room: room.into(),
        id: format!("p{}", bytes.len()),
        base64: BASE64.encode(bytes),
        name: "IMG 1.jpg".into(),
        wall: Some("left wall".into()),
        viewpoint: Some("the door".into()),
        tape: true,
        keep_place,
    }
}

fn kept(app: &App, room: &str) -> Photograph {
    let file = app.room_state(room).expect("the room");
    let mut photographs = file.entries.into_iter().filter_map(|entry| match entry.what {
        EntryKind::Photograph(photograph) => Some(photograph),
        _ => None,
    });
    photographs.next_back().expect("a photograph")
}

fn contains(bytes: &[u8], text: &str) -> bool {
    bytes.windows(text.len()).any(|part| part == text.as_bytes())
}

#[test]
fn a_photograph_keeps_its_time_and_not_its_place() {
    let folder = TempDir::new().expect("a folder");
    let app = App::open(folder.path(), Clock::fixed("2031-04-02T08:00:00-05:00", "p")).expect("rooms");
    let room = demo(&app, "kestrel");
    let given = telephone();
    assert!(contains(&given, "GPSLatitude") && contains(&given, "SECRET"));
    app.add_photograph(&ask(&room, &given, false)).expect("kept");
    let one = kept(&app, &room);
    assert_eq!((one.width, one.height, one.mime.as_str()), (400, 300, "image/jpeg"));
    assert_eq!(one.taken.as_deref(), Some("2031-04-02T07:31:05-05:00"));
    let bytes = std::fs::read(folder.path().join("photographs").join(&one.sha256)).expect("the file");
    assert!(!contains(&bytes, "GPSLatitude") && !contains(&bytes, "SECRET") && one.bytes == bytes.len() as f64);
    let exif = exif::Reader::new().read_from_container(&mut Cursor::new(&bytes)).expect("Exif");
    let field = |tag| exif.get_field(tag, exif::In::PRIMARY).map(|field| field.display_value().to_string());
    assert_eq!(field(exif::Tag::Orientation).as_deref(), Some("row 0 at right and column 0 at top"));
    assert_eq!(field(exif::Tag::DateTimeOriginal).as_deref(), Some("2031-04-02 07:31:05"));
    assert_eq!(exif.fields().count(), 2, "and nothing else");
    let same = |bytes: &[u8]| image::load_from_memory(bytes).expect("a picture").to_rgb8();
    assert_eq!(same(&bytes), same(&given), "not a point of the picture is changed");
    let small = app.small_photograph(&one.sha256).expect("small");
    assert_eq!(small.mime, "image/jpeg");
    app.add_photograph(&PhotographAsk { id: "whole".into(), ..ask(&room, &given, true) }).expect("kept");
    let whole = kept(&app, &room);
    assert_eq!(std::fs::read(folder.path().join("photographs").join(&whole.sha256)).expect("the file"), given);
}

#[test]
fn a_png_loses_its_texts() {
    let app = app();
    let room = demo(&app, "kestrel");
    let plain = picture(30, 20, ImageFormat::Png);
    let text = b"tEXtComment\0the SECRET place";
    let mut crc = crc(text).to_be_bytes().to_vec();
    let mut given = plain[..33].to_vec();
    given.extend(((text.len() - 4) as u32).to_be_bytes());
    given.extend(text);
    given.append(&mut crc);
    given.extend(&plain[33..]);
    app.add_photograph(&ask(&room, &given, false)).expect("kept");
    assert_eq!(kept(&app, &room).bytes, plain.len() as f64);
}

/// The check of a PNG chunk (the W3C recommendation, annex D, recalled).
fn crc(bytes: &[u8]) -> u32 {
    let step = |crc: u32, byte: &u8| {
        (0..8).fold(crc ^ u32::from(*byte), |crc, _| if crc & 1 == 1 { 0xEDB8_8320 ^ (crc >> 1) } else { crc >> 1 })
    };
    !bytes.iter().fold(u32::MAX, step)
}

#[test]
fn what_is_no_photograph_is_refused_with_a_sentence() {
    let app = app();
    let room = demo(&app, "kestrel");
    let before = app.room_file(&room).expect("the room");
    let check = |what: &str, bytes: &[u8], kind: Kind, said: &str| {
        let refusal = app.add_photograph(&ask(&room, bytes, false)).expect_err(what);
        assert!(refusal.kind == kind && refusal.message.contains(said), "{what}: {:?} {refusal}", refusal.kind);
        assert_eq!(app.room_file(&room).expect("the room"), before, "{what}");
    };
    check("nothing", b"", Kind::NotUnderstood, "not a photograph");
    check("text", b"J1,44-1/8", Kind::NotUnderstood, "not a photograph");
    check("a PDF", b"%PDF-1.7", Kind::NotUnderstood, "not a photograph");
    let whole = picture(400, 300, ImageFormat::Png);
    check("cut off", &whole[..whole.len() / 2], Kind::NotUnderstood, "cut off");
    // A hundred million points, which would unfold to 300 MB: refused by its head alone.
    let mut large = whole[..16].to_vec();
    large.extend([10_000u32.to_be_bytes(), 10_000u32.to_be_bytes()].concat());
    large.extend([8, 2, 0, 0, 0]);
    let check_of = crc(&large[12..29]);
    large.extend(check_of.to_be_bytes());
    large.extend(&whole[33..]);
    check("a hundred megapixels", &large, Kind::OutOfRange, "64 million");
    // A head that promises more than there is.
    let mut bomb = large;
    bomb[16..24].copy_from_slice(&[8_000u32.to_be_bytes(), 8_000u32.to_be_bytes()].concat());
    let check_of = crc(&bomb[12..29]);
    bomb[29..33].copy_from_slice(&check_of.to_be_bytes());
    check("a bomb", &bomb, Kind::NotUnderstood, "cut off");
}

#[test]
fn a_record_carries_photographs_whole() {
    let (here, there) = (app(), app());
    let room = demo(&here, "kestrel");
    let given = telephone();
    here.add_photograph(&ask(&room, &given, false)).expect("kept");
    here.add_photograph(&ask(&room, &picture(64, 64, ImageFormat::Png), false)).expect("kept");
    let pdf = here.record_pdf(&room).expect("a record");
    let proved = app::verify(&pdf).expect("it holds");
    assert_eq!(proved.files.len(), 5, "{:?}", proved.files);
    there.import_bytes("i", &pdf, None).expect("taken in");
    assert_eq!(there.room_file(&room).expect("the room"), here.room_file(&room).expect("the room"));
    let digest = kept(&here, &room).sha256;
    assert_eq!(
        there.small_photograph(&digest).expect("it is there"),
        here.small_photograph(&digest).expect("here too")
    );
    assert_eq!(there.record_pdf(&room).expect("a record"), pdf, "and gives the same record again");
    let at = pdf.windows(3).rposition(|part| part == [0xFF, 0xD8, 0xFF]).expect("a JPEG") + 3000;
    let mut altered = pdf;
    altered[at] ^= 1;
    let refusal = app::verify(&altered).expect_err("altered");
    assert!(refusal.field.is_some_and(|field| field.starts_with("photograph-001-")));
}

#[test]
fn what_is_hidden_signed_and_noted_is_carried() {
    let app = app();
    let room = demo(&app, "kestrel");
    let put = |id: &str, what: serde_json::Value| {
        let entry = json!({"id": id, "at": "2031-04-02T08:00:00-05:00", "what": what});
        write(&app, &room, "entry-put", json!({ "entry": entry })).expect(id);
    };
    put(
        "a",
        json!({"kind": "hidden", "thing": "water-pipe", "surface": "floor", "places": [[254, 508], [254, 1524]], "depth": 38.1}),
    );
    put(
        "b",
        json!({"kind": "material", "thing": "membrane", "product": "liquid", "batch": "7", "expires": "2032-01-01"}),
    );
    put("c", json!({"kind": "person", "name": "R. Example", "role": "tile setter"}));
    put(
        "d",
        json!({"kind": "sign-off", "name": "R. Example", "role": "tile setter", "about": "Flood test seen",
        "strokes": [[[0.1, 0.5], [0.4, 0.2], [0.8, 0.7]]]}),
    );
    put("e", json!({"kind": "note", "text": "the valve is behind the vanity"}));
    let text = pdf_text(&app.record_pdf(&room).expect("a record"));
    for said in [
        "Water pipe in the floor",
        "10 in from left wall and 20 in from door wall",
        "batch 7",
        "R. Example, tile setter",
        "Flood test seen",
        "behind the vanity",
    ] {
        let bare: String = said.split_whitespace().collect();
        assert!(text.contains(&bare), "{said}: {text}");
    }
}

/// All text of a PDF without white space.
fn pdf_text(pdf: &[u8]) -> String {
    let document = lopdf::Document::load_mem(pdf).expect("a PDF");
    let pages: Vec<u32> = document.get_pages().keys().copied().collect();
    document.extract_text(&pages).expect("text").split_whitespace().collect()
}
