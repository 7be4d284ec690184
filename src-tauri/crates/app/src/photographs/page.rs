//! A photograph made small and upright for a page.

use super::image_file::{About, MOST_PIXELS};
use image::codecs::jpeg::JpegEncoder;
use image::{DynamicImage, ImageReader, Limits, metadata::Orientation};
use judge::{Kind, Refusal};
use std::io::Cursor;

/// The longest side on a page: at 85 mm across some 360 points an inch.
const LONGEST: u32 = 1200;

/// How well the small one is kept, of 100.
const QUALITY: u8 = 82;

/// The small picture as a JPEG.
///
/// # Errors
/// `not-understood` where the picture ends early or cannot be unfolded within its own size.
pub(super) fn small(bytes: &[u8], about: &About) -> Result<Vec<u8>, Refusal> {
    let small = upright(decoded(bytes)?, about).thumbnail(LONGEST, LONGEST);
    let mut out = Vec::new();
    JpegEncoder::new_with_quality(&mut out, QUALITY).encode_image(&small.to_rgb8()).map_err(|_| cut_off())?;
    Ok(out)
}

fn decoded(bytes: &[u8]) -> Result<DynamicImage, Refusal> {
    let mut limits = Limits::default();
    limits.max_alloc = Some(MOST_PIXELS * 8);
    let mut reader = ImageReader::new(Cursor::new(bytes)).with_guessed_format().map_err(|_| cut_off())?;
    reader.limits(limits);
    reader.decode().map_err(|_| cut_off())
}

fn upright(mut picture: DynamicImage, about: &About) -> DynamicImage {
    if let Some(turn) = u8::try_from(about.orientation).ok().and_then(Orientation::from_exif) {
        picture.apply_orientation(turn);
    }
    picture
}

fn cut_off() -> Refusal {
    let message = "This photograph is cut off or damaged. Take it again, or choose another.";
    Refusal::new(Kind::NotUnderstood, message).field("base64")
}
