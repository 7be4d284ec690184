//! An address as a code image.

use qrcodegen::{QrCode, QrCodeEcc};
use std::fmt::Write;

/// The squares to a side, and the dark ones as the path of an SVG, one unit a square. ISO/IEC 18004 as the library
/// `qrcodegen` implements it, error correction level M. Nothing where the text is longer than an image can hold.
pub(super) fn squares(text: &str) -> (u32, String) {
    let Ok(code) = QrCode::encode_text(text, QrCodeEcc::Medium) else { return (0, String::new()) };
    let mut path = String::new();
    for y in 0..code.size() {
        for x in (0..code.size()).filter(|x| code.get_module(*x, y)) {
            // A string takes whatever is written to it.
            let _ = write!(path, "M{x} {y}h1v1h-1z");
        }
    }
    (code.size().unsigned_abs(), path)
}
