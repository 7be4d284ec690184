//! Bytes as text in base 64.
//!
//! # Source
//! RFC 4648, section 4 (recalled), with padding.

const LETTERS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";

/// The bytes in base 64 with padding.
pub(crate) fn write(bytes: &[u8]) -> String {
    let mut text = String::with_capacity(bytes.len().div_ceil(3) * 4);
    for group in bytes.chunks(3) {
        let word = group.iter().fold(0u32, |word, byte| word << 8 | u32::from(*byte)) << (8 * (3 - group.len()));
        for k in 0..4 {
            let letter = LETTERS[(word >> (18 - 6 * k) & 63) as usize] as char;
            text.push(if k <= group.len() { letter } else { '=' });
        }
    }
    text
}

/// The bytes that a text in base 64 stands for; `None` for any other text.
pub(crate) fn read(text: &str) -> Option<Vec<u8>> {
    let letters = text.trim_end_matches('=').as_bytes();
    if !text.len().is_multiple_of(4) || text.len() - letters.len() > 2 {
        return None;
    }
    let mut bytes = Vec::with_capacity(letters.len() * 3 / 4 + 1);
    for group in letters.chunks(4) {
        let word = group.iter().try_fold(0u32, |word, letter| Some(word << 6 | value(*letter)?))?;
        let word = word << (6 * (4 - group.len()));
        (0..group.len() - 1).for_each(|k| bytes.push((word >> (16 - 8 * k)) as u8));
    }
    Some(bytes)
}

fn value(letter: u8) -> Option<u32> {
    match letter {
        b'A'..=b'Z' => Some(u32::from(letter - b'A')),
        b'a'..=b'z' => Some(u32::from(letter - b'a') + 26),
        b'0'..=b'9' => Some(u32::from(letter - b'0') + 52),
        b'+' => Some(62),
        b'/' => Some(63),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn base_64_of_the_published_words() {
        // RFC 4648, section 10, test vectors (recalled).
        let words =
            [("", ""), ("f", "Zg=="), ("fo", "Zm8="), ("foo", "Zm9v"), ("foob", "Zm9vYg=="), ("foobar", "Zm9vYmFy")];
        for (word, text) in words {
            assert_eq!(write(word.as_bytes()), text);
            assert_eq!(read(text).as_deref(), Some(word.as_bytes()));
        }
    }

    #[test]
    fn what_is_no_base_64_is_refused() {
        for bad in ["Z", "Zg", "Zg=", "Z===", "Zm9vY", "Zm9v\n", "Zm-_", "=Zg="] {
            assert_eq!(read(bad), None, "{bad}");
        }
        let all: Vec<u8> = (0..=255).collect();
        assert_eq!(read(&write(&all)), Some(all));
    }
}
