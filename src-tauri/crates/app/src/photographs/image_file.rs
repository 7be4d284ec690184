//! What a file of a picture says of itself, and the same file without the place it was taken at.
//!
//! # Source
//! JPEG markers: ISO/IEC 10918-1, annex B; PNG chunks: the W3C recommendation, section 5; the tags of orientation and
//! time: Exif 2.3 (all recalled, not read).

use judge::{Kind, Refusal};
use std::io::Cursor;

/// The largest picture that is kept, in picture elements.
pub(super) const MOST_PIXELS: u64 = 64_000_000;

/// What a picture says of itself.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct About {
    pub(super) mime: &'static str,
    pub(super) width: u32,
    pub(super) height: u32,
    /// 1 to 8: how it is to be turned to stand upright.
    pub(super) orientation: u16,
    /// When it was taken, by the camera's clock.
    pub(super) taken: Option<String>,
}

/// Looks at the head of a picture.
///
/// # Errors
/// `not-understood` for a file that is none, `out-of-range` for one that is too large to keep.
pub(super) fn about(bytes: &[u8]) -> Result<About, Refusal> {
    let reader = image::ImageReader::new(Cursor::new(bytes)).with_guessed_format().map_err(|_| no_picture())?;
    let mime = match reader.format() {
        Some(image::ImageFormat::Jpeg) => "image/jpeg",
        Some(image::ImageFormat::Png) => "image/png",
        _ => return Err(no_picture()),
    };
    let (width, height) = reader.into_dimensions().map_err(|_| no_picture())?;
    if u64::from(width) * u64::from(height) > MOST_PIXELS {
        let message = format!(
            "This picture has {width} × {height} points, more than the 64 million that are kept. Take it again at a lower setting."
        );
        return Err(Refusal::new(Kind::OutOfRange, message).field("base64"));
    }
    let exif = exif::Reader::new().read_from_container(&mut Cursor::new(bytes)).ok();
    let orientation =
        exif.as_ref().and_then(|exif| number(exif, exif::Tag::Orientation)).filter(|turn| (1..=8).contains(turn));
    let taken = exif.as_ref().and_then(taken);
    Ok(About { mime, width, height, orientation: orientation.unwrap_or(1), taken })
}

fn no_picture() -> Refusal {
    let message = "This file is not a photograph that can be kept, or it is cut off. Choose a JPEG or a PNG.";
    Refusal::new(Kind::NotUnderstood, message).field("base64")
}

fn number(exif: &exif::Exif, tag: exif::Tag) -> Option<u16> {
    exif.get_field(tag, exif::In::PRIMARY)?.value.get_uint(0).and_then(|value| u16::try_from(value).ok())
}

fn ascii(exif: &exif::Exif, tag: exif::Tag) -> Option<String> {
    match &exif.get_field(tag, exif::In::PRIMARY)?.value {
        exif::Value::Ascii(lines) => lines.first().map(|line| String::from_utf8_lossy(line).trim().to_string()),
        _ => None,
    }
}

/// `2031:04:02 07:31:05` and its offset as RFC 3339; without an offset none is made up.
fn taken(exif: &exif::Exif) -> Option<String> {
    let text = ascii(exif, exif::Tag::DateTimeOriginal)?;
    let (day, time) = text.split_once(' ')?;
    let is = |text: &str, form: &str| {
        text.len() == form.len()
            && text.chars().zip(form.chars()).all(|(c, f)| if f == '0' { c.is_ascii_digit() } else { c == f })
    };
    if !is(day, "0000:00:00") || !is(time, "00:00:00") {
        return None;
    }
    let offset =
        ascii(exif, exif::Tag::OffsetTimeOriginal).filter(|offset| is(offset.get(1..).unwrap_or_default(), "00:00"));
    Some(format!("{}T{time}{}", day.replace(':', "-"), offset.unwrap_or_default()))
}

/// The same picture without what it says of itself, but for how it is turned and when it was taken.
pub(super) fn without_place(bytes: &[u8], about: &About) -> Vec<u8> {
    match about.mime {
        "image/jpeg" => jpeg_without_place(bytes, about),
        _ => png_without_place(bytes),
    }
}

/// Segments that may tell where: application data but the picture's own form and colours, and comments.
fn tells(marker: u8) -> bool {
    matches!(marker, 0xE1 | 0xE3..=0xED | 0xEF | 0xFE)
}

fn jpeg_without_place(bytes: &[u8], about: &About) -> Vec<u8> {
    let mut out = vec![0xFF, 0xD8];
    out.extend(exif_segment(about));
    let mut at = 2;
    while let Some(&[0xFF, marker, high, low]) = bytes.get(at..at + 4) {
        let length = 2 + usize::from(u16::from_be_bytes([high, low]));
        if marker == 0xDA {
            break;
        }
        if !tells(marker) {
            out.extend(bytes.get(at..at + length).unwrap_or_default());
        }
        at += length;
    }
    out.extend(bytes.get(at..).unwrap_or_default());
    out
}

/// A segment of Exif with two facts in it.
fn exif_segment(about: &About) -> Vec<u8> {
    let time = about
        .taken
        .as_deref()
        .and_then(|taken| taken.get(..19))
        .map(|taken| taken.replacen('-', ":", 2).replace('T', " "));
    let mut tiff = b"MM\x00\x2a\x00\x00\x00\x08".to_vec();
    let entry = |tag: u16, kind: u16, count: u32, value: [u8; 4]| {
        [&tag.to_be_bytes()[..], &kind.to_be_bytes(), &count.to_be_bytes(), &value].concat()
    };
    let turned = entry(0x0112, 3, 1, [(about.orientation >> 8) as u8, about.orientation as u8, 0, 0]);
    match time {
        Some(time) => {
            // The first list: two entries and the end; the second: one; then the text.
            let second = 8 + 2 + 24 + 4;
            let text = second + 2 + 12 + 4;
            tiff.extend(
                [0, 2].iter().chain(&turned).chain(&entry(0x8769, 4, 1, (second as u32).to_be_bytes())).chain(&[0; 4]),
            );
            tiff.extend([0, 1].iter().chain(&entry(0x9003, 2, 20, (text as u32).to_be_bytes())).chain(&[0; 4]));
            tiff.extend(time.as_bytes());
            tiff.push(0);
        }
        None => tiff.extend([0, 1].iter().chain(&turned).chain(&[0; 4])),
    }
    let length = (2 + 6 + tiff.len()) as u16;
    [&[0xFF, 0xE1][..], &length.to_be_bytes(), b"Exif\0\0", &tiff].concat()
}

/// Chunks of text, time and Exif are left out; all others stand as they are.
fn png_without_place(bytes: &[u8]) -> Vec<u8> {
    let mut out = bytes.get(..8).unwrap_or_default().to_vec();
    let mut at = 8;
    while let Some(head) = bytes.get(at..at + 8) {
        let length = head.iter().take(4).fold(0usize, |length, byte| length << 8 | usize::from(*byte));
        let end = at.saturating_add(length).saturating_add(12);
        let kind = head.get(4..8).unwrap_or_default();
        if ![b"tEXt", b"zTXt", b"iTXt", b"eXIf", b"tIME"].iter().any(|told| *told == kind) {
            out.extend(bytes.get(at..end.min(bytes.len())).unwrap_or_default());
        }
        at = end;
    }
    out
}
