//! An address as a code image.

use qrcodegen::{QrCode, QrCodeEcc};
use std::fmt::Write;

/// The squares as lines of text for light letters on a dark ground, two rows of squares to a line, with a quiet edge.
pub(crate) fn lines(text: &str) -> Vec<String> {
    let Ok(code) = QrCode::encode_text(text, QrCodeEcc::Low) else { return Vec::new() };
    let light = |x: i32, y: i32| !code.get_module(x, y);
    let sign = |x: i32, y: i32| match (light(x, y), light(x, y + 1)) {
        (true, true) => '█',
        (true, false) => '▀',
        (false, true) => '▄',
        (false, false) => ' ',
    };
    let across = -QUIET..code.size() + QUIET;
    let down = (-QUIET..code.size() + QUIET).step_by(2);
    down.map(|y| across.clone().map(|x| sign(x, y)).collect()).collect()
}

/// Squares left free on each side in a terminal, half of what the standard asks for: more would not fit a small window.
const QUIET: i32 = 2;

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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_lines_of_a_terminal_hold_the_same_squares() {
        let text = "https://192.0.2.7:4400/#/join/ABCD2345/00ff";
        let code = QrCode::encode_text(text, QrCodeEcc::Low).expect("it fits");
        let lines: Vec<Vec<char>> = lines(text).iter().map(|line| line.chars().collect()).collect();
        let dark = |x: i32, y: i32| {
            let (x, row) = (usize::try_from(x + QUIET).expect("inside"), usize::try_from(y + QUIET).expect("inside"));
            let half = if row % 2 == 0 { ['▄', ' '] } else { ['▀', ' '] };
            half.contains(&lines[row / 2][x])
        };
        let all = (0..code.size()).flat_map(|y| (0..code.size()).map(move |x| (x, y)));
        assert!(all.clone().all(|(x, y)| dark(x, y) == code.get_module(x, y)));
        assert!(lines[0].iter().all(|sign| *sign == '█'), "a quiet edge");
        assert!(all.filter(|(x, y)| dark(*x, *y)).count() > 100);
    }
}
