//! What would make the library that reads a PDF take more memory or time than there is, refused before it is asked.
//!
//! The library trusts some numbers of a file: how wide the columns of its table of objects are, and how wide a row of a
//! picture is. It also unfolds tables of objects while it opens a file, through as many filters as are named.

use super::NotCarried;
use flate2::read::ZlibDecoder;
use std::io::Read;

/// The most bytes that all streams of objects of a file may unfold to.
pub(super) const MOST_OBJECTS: u64 = 64 << 20;

/// The most bytes that its tables of where they lie may unfold to: each entry takes one at least, and tens in memory.
const MOST_PLACES: u64 = 4 << 20;

/// The widest column of such a table, bytes. The widths of letters go by the same name and are wider than any column.
const WIDEST: u64 = 1 << 16;

/// The most that a row of a predicted stream may say of itself.
const ROW: [(&[u8], u64); 3] = [(b"Columns", 1 << 16), (b"Colors", 32), (b"BitsPerComponent", 32)];

/// Filters that are not measured here, and that no sheet of ours needs for its objects.
const UNMEASURED: [&[u8]; 5] = [b"LZWDecode", b"LZW", b"ASCII85Decode", b"ASCIIHexDecode", b"RunLengthDecode"];

/// # Errors
/// [`NotCarried::TooLarge`] for a file that would unfold without a bound.
pub(super) fn refuse_bombs(pdf: &[u8]) -> Result<(), NotCarried> {
    let (mut objects, mut places, mut folded_till) = (0, 0, None);
    let (mut empty, mut listed) = (false, 0);
    for (name, end) in names(pdf) {
        let rest = pdf.get(end..).unwrap_or_default();
        let bad = match name.as_slice() {
            b"FlateDecode" => folded_till.replace(end).is_some_and(|before| is_blank(pdf, before, end)),
            b"ObjStm" => add(&mut objects, rest, MOST_OBJECTS),
            b"XRef" => add(&mut places, rest, MOST_PLACES),
            b"W" => columns(rest).is_some_and(|widths| {
                empty |= widths.iter().take(3).all(|width| *width == 0);
                widths.iter().take(3).any(|width| *width > WIDEST)
            }),
            b"Size" | b"Index" => {
                let numbers = columns(rest).or_else(|| Some(vec![number(rest)?.0])).unwrap_or_default();
                listed = numbers.into_iter().fold(listed, u64::max);
                false
            }
            other => UNMEASURED.contains(&other) || is_wide(other, rest),
        };
        // Where an entry takes no bytes, as many are made as the file says there are.
        if bad || (empty && listed > MOST_PLACES) {
            return Err(NotCarried::TooLarge("a table of objects".to_string()));
        }
    }
    Ok(())
}

fn is_wide(name: &[u8], rest: &[u8]) -> bool {
    let most = ROW.iter().find(|(known, _)| *known == name).map(|(_, most)| *most);
    most.zip(number(rest)).is_some_and(|(most, (found, _))| found > most)
}

/// Adds what the next stream unfolds to; whether that is more than the most.
fn add(sum: &mut u64, rest: &[u8], most: u64) -> bool {
    let Some(start) = rest.windows(6).position(|six| six == b"stream") else { return false };
    let body = rest.get(start + 6..).unwrap_or_default();
    let folded = body.strip_prefix(b"\r\n").or_else(|| body.strip_prefix(b"\n")).unwrap_or(body);
    // What is no such stream fails at once and is no bomb either.
    let unfolded = std::io::copy(&mut ZlibDecoder::new(folded).take(most + 1), &mut std::io::sink());
    *sum += unfolded.unwrap_or_default();
    *sum > most
}

/// Whether two names stand side by side, as the filters of one stream do.
fn is_blank(pdf: &[u8], before: usize, end: usize) -> bool {
    let between = pdf.get(before..end).unwrap_or_default();
    between.iter().position(|byte| *byte == b'/').is_some_and(|slash| {
        let (blank, second) = between.split_at(slash);
        blank.iter().all(u8::is_ascii_whitespace) && !second.iter().skip(1).any(|byte| *byte == b'/')
    })
}

/// Every name in the bytes as it is meant, and where it ends.
fn names(pdf: &[u8]) -> impl Iterator<Item = (Vec<u8>, usize)> + '_ {
    let slashes = pdf.iter().enumerate().filter(|(_, byte)| **byte == b'/').map(|(at, _)| at);
    slashes.map(|at| {
        let rest = pdf.get(at + 1..).unwrap_or_default();
        let length = rest.iter().take(128).take_while(|byte| is_regular(**byte)).count();
        (meant(rest.get(..length).unwrap_or_default()), at + 1 + length)
    })
}

fn is_regular(byte: u8) -> bool {
    byte > b' ' && !b"()<>[]{}/%".contains(&byte)
}

/// A name with its letters in place of the numbers that may stand for them.
fn meant(name: &[u8]) -> Vec<u8> {
    let mut letters = Vec::with_capacity(name.len());
    let mut rest = name;
    while let Some((first, after)) = rest.split_first() {
        let digits = after.get(..2).and_then(|two| std::str::from_utf8(two).ok());
        let letter = digits.filter(|_| *first == b'#').and_then(|two| u8::from_str_radix(two, 16).ok());
        letters.push(letter.unwrap_or(*first));
        rest = after.get(if letter.is_some() { 2 } else { 0 }..).unwrap_or_default();
    }
    letters
}

/// The numbers of a list, where one follows that holds nothing else.
fn columns(rest: &[u8]) -> Option<Vec<u64>> {
    let mut inside = past_blanks(rest).strip_prefix(b"[")?;
    let mut numbers = Vec::new();
    while let Some((one, after)) = number(inside) {
        numbers.push(one);
        inside = after;
    }
    past_blanks(inside).starts_with(b"]").then_some(numbers)
}

/// The number that follows, and what stands behind it; too large a one is the largest.
fn number(rest: &[u8]) -> Option<(u64, &[u8])> {
    let rest = past_blanks(rest);
    let rest = rest.strip_prefix(b"+").unwrap_or(rest);
    let digits = rest.iter().take_while(|byte| byte.is_ascii_digit()).count();
    let (digits, after) = rest.split_at(digits);
    let add = |sum: u64, digit: &u8| sum.saturating_mul(10).saturating_add(u64::from(digit - b'0'));
    (!digits.is_empty()).then(|| (digits.iter().fold(0, add), after))
}

/// What follows behind blanks and remarks.
fn past_blanks(mut rest: &[u8]) -> &[u8] {
    loop {
        let blanks = rest.iter().take_while(|byte| **byte <= b' ').count();
        rest = rest.get(blanks..).unwrap_or_default();
        let Some(remark) = rest.strip_prefix(b"%") else { return rest };
        let end = remark.iter().position(|byte| b"\r\n".contains(byte)).unwrap_or(remark.len());
        rest = remark.get(end..).unwrap_or_default();
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use flate2::{Compression, write::ZlibEncoder};
    use std::io::Write;

    fn zeros(bytes: u64) -> Vec<u8> {
        let mut zeros = ZlibEncoder::new(Vec::new(), Compression::best());
        (0..bytes / 65_536 + 2).for_each(|_| zeros.write_all(&[0; 65_536]).expect("memory"));
        zeros.finish().expect("memory")
    }

    fn check(head: &str, body: &[u8], is_bomb: bool) {
        let pdf = [b"%PDF-1.7\n1 0 obj\n", head.as_bytes(), b"\nstream\n", body].concat();
        assert_eq!(refuse_bombs(&pdf).is_err(), is_bomb, "{head}");
    }

    #[test]
    fn tables_that_unfold_without_a_bound_are_refused() {
        let folded = zeros(MOST_OBJECTS);
        check("<</Type/ObjStm/N 1/First 4/Filter/FlateDecode>>", &folded, true);
        check("<</Type/Obj#53tm/N 1/First 4/Filter/FlateDecode>>", &folded, true);
        check("<</Type/XRef/W[1 2 1]/Filter/FlateDecode>>", &zeros(MOST_PLACES), true);
        check("<</Filter[/FlateDecode /FlateDecode]>>", &[], true);
        check("<</Filter/LZWDecode>>", &[], true);
        check("<</Type/ObjStm/N 1/First 4/Filter[/FlateDecode]>>", &zeros(1000), false);
    }

    #[test]
    fn numbers_that_are_trusted_are_looked_at() {
        check("<</Type/XRef/W[1 2 1]/Index[0 3]>>", &[], false);
        check("<</Type/XRef/W[9007199254740993 4 2]>>", &[], true);
        check("<</Type/XRef/W %remark\n [1 +99999999999999999999 2]>>", &[], true);
        check("<</Type/XRef/#57[0 0 0]/Size 99999999999>>", &[], true);
        check("<</DecodeParms<</Predictor 12/Columns 5>>>>", &[], false);
        check("<</DecodeParms<</Predictor 12/Columns 4294967296>>>>", &[], true);
    }
}
