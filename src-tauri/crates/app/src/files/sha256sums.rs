//! The list of digests that a record carries: one line a file, in the form that common programs check.

use data_encoding::HEXLOWER;
use judge::{Kind, Refusal};
use sha2::{Digest, Sha256};

/// What the list is called.
pub(crate) const NAME: &str = "sha256sums.txt";

/// The SHA-256 of bytes in hexadecimal digits.
pub(crate) fn sha256(bytes: &[u8]) -> String {
    HEXLOWER.encode(&Sha256::digest(bytes))
}

/// The list for files of these names and digests.
pub(crate) fn write<'a>(files: impl IntoIterator<Item = (&'a str, String)>) -> String {
    files.into_iter().map(|(name, digest)| format!("{digest}  {name}\n")).collect()
}

/// Whether the list names exactly these files, with these digests.
///
/// # Errors
/// `does-not-fit`, naming the first file that is not as it was written, or is missing, or was added.
pub(crate) fn check(list: &str, files: &[(&str, &[u8])]) -> Result<(), Refusal> {
    let mut named = Vec::new();
    for line in list.lines() {
        let Some((digest, name)) = line.split_once("  ") else {
            return Err(altered(NAME, "has a line that Truefall did not write"));
        };
        let Some((_, bytes)) = files.iter().find(|(file, _)| *file == name) else {
            return Err(altered(name, "is named in the list of files and is not there"));
        };
        if sha256(bytes) != digest {
            return Err(altered(name, "is not as it was written"));
        }
        named.push(name);
    }
    if write(named.iter().filter_map(|name| files.iter().find(|(file, _)| file == name)).map(of)) != list {
        return Err(altered(NAME, "is not as it was written"));
    }
    match files.iter().find(|(name, _)| !named.contains(name)) {
        Some((name, _)) => Err(altered(name, "is not named in the list of files")),
        None => Ok(()),
    }
}

fn of<'a>((name, bytes): &(&'a str, &[u8])) -> (&'a str, String) {
    (name, sha256(bytes))
}

fn altered(name: &str, what: &str) -> Refusal {
    let message = format!("{name:?} {what}. The record was altered or damaged: ask for it again.");
    Refusal::new(Kind::DoesNotFit, message).field(name)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_list_is_checked_line_by_line() {
        // FIPS 180-4, the one-block example "abc" (recalled).
        assert_eq!(sha256(b"abc"), "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
        let files: [(&str, &[u8]); 2] = [("a.json", b"one"), ("b c.csv", b"two")];
        let list = write(files.iter().map(of));
        assert_eq!(check(&list, &files), Ok(()));
        let field = |list: &str, files: &[(&str, &[u8])]| check(list, files).expect_err("altered").field;
        assert_eq!(field(&list, &[files[0], ("b c.csv", b"tw0")]).as_deref(), Some("b c.csv"));
        assert_eq!(field(&list, &files[..1]).as_deref(), Some("b c.csv"));
        assert_eq!(field(&list, &[files[0], files[1], ("c", b"")]).as_deref(), Some("c"));
        for at in 0..list.len() {
            let mut bytes = list.clone().into_bytes();
            bytes[at] ^= 1;
            let altered = String::from_utf8(bytes).expect("ASCII");
            assert!(check(&altered, &files).is_err(), "{at}: {altered}");
        }
    }
}
