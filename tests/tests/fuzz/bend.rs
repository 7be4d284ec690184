//! Good bytes made bad: bits flipped, stretches cut out, put in, said twice or taken from elsewhere, numbers that no
//! measurement has, nests too deep, letters nobody expects.

use proptest::prelude::*;
use proptest::sample::{Index, select};

/// Larger than this no input is made.
const MOST_BYTES: usize = 256 << 10;

/// Numbers that are none, that nothing can be, or that are only others.
const NUMBERS: [&str; 26] = [
    "0",
    "-0",
    "-1",
    "1e308",
    "-1e308",
    "1e-320",
    "1e400",
    "NaN",
    "nan",
    "Infinity",
    "-inf",
    "0.1",
    "1e15",
    "4.5e9",
    "9007199254740993",
    "18446744073709551616",
    "-9223372036854775809",
    "4294967296",
    "1e3",
    "00012",
    "1/0",
    "0.25",
    "2",
    "7",
    "1200",
    "-0.001",
];

/// Letters that are seldom typed.
const ODDITIES: [&str; 24] = [
    "\u{feff}",
    "\0",
    "\u{202e}",
    "e\u{301}",
    "\u{1f6bf}",
    "\u{2033}",
    "\u{2212}",
    "\u{bd}",
    "\u{a0}",
    "\u{2028}",
    "\r",
    "\t",
    "\"",
    "\\",
    "\u{fffd}",
    "ß",
    "İ",
    "١٢",
    "½",
    "'",
    "`",
    "{{",
    "%n",
    "\u{7f}",
];

/// What can be opened again and again.
const NESTS: [(&str, &str); 6] =
    [("[", "]"), ("{\"a\":", "}"), ("(", ")"), ("<g>", "</g>"), ("<<", ">>"), ("\"", "\"")];

/// One way to make bytes worse.
#[derive(Debug, Clone)]
pub(crate) enum Bend {
    Flip { at: Index, bit: u8 },
    CutOff(Index),
    CutOut { from: Index, length: usize },
    PutIn { at: Index, bytes: Vec<u8> },
    Again { from: Index, length: usize, times: usize },
    FromElsewhere { other: Index, from: Index, length: usize, at: Index },
    Number { which: Index, becomes: &'static str },
    FieldTwice(Index),
    Nest { at: Index, with: (&'static str, &'static str), deep: usize, closed: bool },
}

/// Any bend of them.
pub(crate) fn bend() -> impl Strategy<Value = Bend> {
    let at = any::<Index>;
    let length = || prop_oneof![4 => 1usize..24, 1 => 1usize..4000];
    let odd = select(&ODDITIES[..]).prop_map(|text| text.as_bytes().to_vec());
    let any_bytes = prop::collection::vec(any::<u8>(), 1..9);
    let deep = prop_oneof![4 => 1usize..20, 1 => 100usize..20_000];
    prop_oneof![
        3 => (at(), 0u8..8).prop_map(|(at, bit)| Bend::Flip { at, bit }),
        1 => at().prop_map(Bend::CutOff),
        2 => (at(), length()).prop_map(|(from, length)| Bend::CutOut { from, length }),
        2 => (at(), prop_oneof![odd, any_bytes]).prop_map(|(at, bytes)| Bend::PutIn { at, bytes }),
        1 => (at(), length(), 1usize..40).prop_map(|(from, length, times)| Bend::Again { from, length, times }),
        2 => (at(), at(), length(), at())
            .prop_map(|(other, from, length, at)| Bend::FromElsewhere { other, from, length, at }),
        6 => (at(), select(&NUMBERS[..])).prop_map(|(which, becomes)| Bend::Number { which, becomes }),
        1 => at().prop_map(Bend::FieldTwice),
        1 => (at(), select(&NESTS[..]), deep, any::<bool>())
            .prop_map(|(at, with, deep, closed)| Bend::Nest { at, with, deep, closed }),
    ]
}

impl Bend {
    /// The bytes made worse; `all` is where stretches from elsewhere come from.
    pub(crate) fn apply(&self, mut bytes: Vec<u8>, all: &[Vec<u8>]) -> Vec<u8> {
        let place = |at: &Index| at.index(bytes.len() + 1);
        match self {
            Self::Flip { at, bit } if !bytes.is_empty() => {
                let at = at.index(bytes.len());
                bytes[at] ^= 1 << bit;
            }
            Self::Flip { .. } => {}
            Self::CutOff(at) => bytes.truncate(place(at)),
            Self::CutOut { from, length } => drop(bytes.drain(stretch(&bytes, from, *length))),
            Self::PutIn { at, bytes: more } => put(&mut bytes, at, more),
            Self::Again { from, length, times } => {
                let again = bytes[stretch(&bytes, from, *length)].repeat(*times);
                put(&mut bytes, from, &again);
            }
            Self::FromElsewhere { other, from, length, at } => {
                let other = other.get(all);
                put(&mut bytes, at, &other[stretch(other, from, *length)]);
            }
            Self::Number { which, becomes } => {
                let all = pieces(&bytes, |byte| byte.is_ascii_digit() || b".-+".contains(&byte));
                replace(&mut bytes, which, &all, becomes.as_bytes());
            }
            Self::FieldTwice(which) => {
                let all = pieces(&bytes, |byte| !b",\n;".contains(&byte));
                if let Some(field) = (!all.is_empty()).then(|| which.get(&all).clone()) {
                    let end = field.end;
                    let again = [b",", &bytes[field]].concat();
                    bytes.splice(end..end, again);
                }
            }
            Self::Nest { at, with: (open, close), deep, closed } => {
                let close = if *closed { close.repeat(*deep) } else { String::new() };
                put(&mut bytes, at, format!("{}{close}", open.repeat(*deep)).as_bytes());
            }
        }
        bytes.truncate(MOST_BYTES);
        bytes
    }
}

fn stretch(bytes: &[u8], from: &Index, length: usize) -> std::ops::Range<usize> {
    let from = from.index(bytes.len() + 1);
    from..bytes.len().min(from + length)
}

fn put(bytes: &mut Vec<u8>, at: &Index, more: &[u8]) {
    let at = at.index(bytes.len() + 1);
    bytes.splice(at..at, more.iter().copied());
}

/// Where bytes of a kind stand together.
fn pieces(bytes: &[u8], of_kind: impl Fn(u8) -> bool) -> Vec<std::ops::Range<usize>> {
    let mut all: Vec<std::ops::Range<usize>> = Vec::new();
    for at in (0..bytes.len()).filter(|at| of_kind(bytes[*at])) {
        match all.last_mut() {
            Some(last) if last.end == at => last.end += 1,
            _ => all.push(at..at + 1),
        }
    }
    all
}

fn replace(bytes: &mut Vec<u8>, which: &Index, all: &[std::ops::Range<usize>], with: &[u8]) {
    if !all.is_empty() {
        bytes.splice(which.get(all).clone(), with.iter().copied());
    }
}
