//! Bytes as hexadecimal digits.

/// The bytes in lower-case digits, two each.
pub(crate) fn write(bytes: &[u8]) -> String {
    bytes.iter().map(|byte| format!("{byte:02x}")).collect()
}

/// The bytes that the digits write; `None` where they are no pairs of digits.
pub(crate) fn read(digits: &str) -> Option<Vec<u8>> {
    let digits: Vec<u8> = digits.chars().map(|c| c.to_digit(16).map(|digit| digit as u8)).collect::<Option<_>>()?;
    let pairs = digits.chunks_exact(2);
    pairs
        .remainder()
        .is_empty()
        .then(|| pairs.map(|pair| pair.iter().fold(0, |byte, digit| byte << 4 | digit)).collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_written_is_read() {
        assert_eq!(read(&write(&[0, 255, 13])), Some(vec![0, 255, 13]));
        assert_eq!(read("00fF"), Some(vec![0, 255]));
        assert_eq!(read(""), Some(vec![]));
        for bad in ["0", "0g", "+1", "é0"] {
            assert_eq!(read(bad), None, "{bad}");
        }
    }
}
