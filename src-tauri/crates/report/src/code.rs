//! The code image: a text as dark and light squares.

use qrcodegen::{QrCode, QrCodeEcc};

/// The rows of the code image, each as runs `[first dark square, number of dark squares]`; `None` when too long.
///
/// # Source
/// ISO/IEC 18004 as the library `qrcodegen` implements it, error correction level M.
pub(crate) fn runs(text: &str) -> Option<Vec<Vec<[i32; 2]>>> {
    let code = QrCode::encode_text(text, QrCodeEcc::Medium).ok()?;
    Some((0..code.size()).map(|y| row(&code, y)).collect())
}

fn row(code: &QrCode, y: i32) -> Vec<[i32; 2]> {
    let mut runs: Vec<[i32; 2]> = Vec::new();
    for x in (0..code.size()).filter(|&x| code.get_module(x, y)) {
        match runs.last_mut() {
            Some([first, count]) if *first + *count == x => *count += 1,
            _ => runs.push([x, 1]),
        }
    }
    runs
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_code_begins_with_its_finder_pattern() {
        let rows = runs("Kestrel Lane").expect("short enough");
        assert_eq!(rows[0].first(), Some(&[0, 7]));
        assert_eq!(rows[1][..2], [[0, 1], [6, 1]]);
        assert_eq!(rows[3][..3], [[0, 1], [2, 3], [6, 1]]);
    }

    #[test]
    fn a_novel_does_not_fit() {
        assert_eq!(runs(&"x".repeat(5000)), None);
    }
}
