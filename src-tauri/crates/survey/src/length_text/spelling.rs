//! The pieces a written length is made of: numbers, marks, units and words.

use super::{NotUnderstood, Why};

/// One piece of a written length.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Piece {
    pub(super) sign: Sign,
    pub(super) text: String,
    /// The characters before it.
    pub(super) at: usize,
}

impl Piece {
    pub(super) fn refused(&self, why: Why) -> NotUnderstood {
        NotUnderstood { text: self.text.clone(), at: self.at, why }
    }
}

/// What a piece stands for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Sign {
    Number(Number),
    Slash,
    Dash,
    Plus,
    And,
    Unit(Unit),
    Strong,
    Shy,
}

/// A number as written, without a sign.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Number {
    pub(super) value: f64,
    /// Written without a decimal mark.
    pub(super) whole: bool,
    /// Written as `1,122`, which may be thousands.
    pub(super) grouped: bool,
}

/// A unit of length, and whether it was written as a mark or as a word.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Unit {
    Feet { mark: bool },
    Inches { mark: bool },
    Millimetres,
    Centimetres,
    Metres,
}

/// The pieces of `text`, in order.
pub(super) fn pieces(text: &str) -> Result<Vec<Piece>, NotUnderstood> {
    let chars: Vec<char> = text.chars().collect();
    let mut found = Vec::new();
    let mut at = 0;
    while let Some(rest) = chars.get(at..).filter(|rest| !rest.is_empty()) {
        at += next(rest, at, &mut found)?;
    }
    Ok(found)
}

/// Reads one piece off the front of `rest` and returns how many characters it took.
fn next(rest: &[char], at: usize, found: &mut Vec<Piece>) -> Result<usize, NotUnderstood> {
    let first = rest.first().copied().unwrap_or(' ');
    if first.is_whitespace() {
        return Ok(1);
    }
    if let Some((over, under)) = vulgar(first) {
        for sign in [small(over), Sign::Slash, small(under)] {
            found.push(Piece { sign, text: first.to_string(), at });
        }
        return Ok(1);
    }
    let (sign, taken) = if starts_number(rest) {
        number(rest, at)?
    } else if let Some(raised) = raised_number(rest) {
        raised
    } else if first.is_alphabetic() {
        word(rest, at)?
    } else {
        mark(rest).ok_or_else(|| refused(rest, 1, at, Why::UnknownSign))?
    };
    found.push(Piece { sign, text: rest.iter().take(taken).collect(), at });
    Ok(taken)
}

fn refused(rest: &[char], length: usize, at: usize, why: Why) -> NotUnderstood {
    NotUnderstood { text: rest.iter().take(length).collect(), at, why }
}

fn small(value: u8) -> Sign {
    Sign::Number(Number { value: f64::from(value), whole: true, grouped: false })
}

fn digits(rest: &[char]) -> usize {
    rest.iter().take_while(|c| c.is_ascii_digit()).count()
}

fn starts_number(rest: &[char]) -> bool {
    match rest {
        ['.' | ',', second, ..] => second.is_ascii_digit(),
        [first, ..] => first.is_ascii_digit(),
        [] => false,
    }
}

/// A number with at most one decimal mark, point or comma.
fn number(rest: &[char], at: usize) -> Result<(Sign, usize), NotUnderstood> {
    let before = digits(rest);
    let mark = rest.get(before).filter(|c| matches!(c, '.' | ','));
    let behind = mark.map_or(0, |_| digits(rest.get(before + 1..).unwrap_or(&[])));
    let taken = before + usize::from(mark.is_some()) + behind;
    let again = rest.get(taken).is_some_and(|c| matches!(c, '.' | ','));
    if again || (mark == Some(&',') && behind == 0) {
        return Err(refused(rest, taken + usize::from(again), at, Why::DecimalMark));
    }
    let text: String = rest.iter().take(taken).map(|&c| if c == ',' { '.' } else { c }).collect();
    let value = text.parse().unwrap_or(f64::INFINITY);
    let grouped = mark == Some(&',') && behind == 3 && (1..=3).contains(&before) && rest.first() != Some(&'0');
    Ok((Sign::Number(Number { value, whole: mark.is_none(), grouped }), taken))
}

/// A run of superior or inferior digits, as in ³⁄₁₆.
fn raised_number(rest: &[char]) -> Option<(Sign, usize)> {
    const SUPERIOR: [char; 10] = ['⁰', '¹', '²', '³', '⁴', '⁵', '⁶', '⁷', '⁸', '⁹'];
    const INFERIOR: [char; 10] = ['₀', '₁', '₂', '₃', '₄', '₅', '₆', '₇', '₈', '₉'];
    let line = [SUPERIOR, INFERIOR].into_iter().find(|line| rest.first().is_some_and(|c| line.contains(c)))?;
    let run: Vec<usize> = rest.iter().map_while(|c| line.iter().position(|digit| digit == c)).collect();
    let value = run.iter().fold(0.0, |value, &digit| value * 10.0 + digit as f64);
    Some((Sign::Number(Number { value, whole: true, grouped: false }), run.len()))
}

/// A unit, `strong`, `shy` or one of their cousins.
fn word(rest: &[char], at: usize) -> Result<(Sign, usize), NotUnderstood> {
    let letters = rest.iter().take_while(|c| c.is_alphabetic()).count();
    let text: String = rest.iter().take(letters).flat_map(|c| c.to_lowercase()).collect();
    let sign = match text.as_str() {
        "in" | "ins" | "inch" | "inches" => Sign::Unit(Unit::Inches { mark: false }),
        "ft" | "foot" | "feet" => Sign::Unit(Unit::Feet { mark: false }),
        "mm" | "millimetre" | "millimetres" | "millimeter" | "millimeters" => Sign::Unit(Unit::Millimetres),
        "cm" | "centimetre" | "centimetres" | "centimeter" | "centimeters" => Sign::Unit(Unit::Centimetres),
        "m" | "metre" | "metres" | "meter" | "meters" => Sign::Unit(Unit::Metres),
        "strong" | "heavy" | "fat" | "full" | "plus" => Sign::Strong,
        "shy" | "light" | "scant" | "bare" | "weak" | "minus" => Sign::Shy,
        "and" => Sign::And,
        _ => return Err(refused(rest, letters, at, Why::UnknownWord)),
    };
    let abbreviated = matches!(text.as_str(), "in" | "ins" | "ft") && rest.get(letters) == Some(&'.');
    Ok((sign, letters + usize::from(abbreviated)))
}

/// A mark: prime, double prime, dash, slash, plus.
fn mark(rest: &[char]) -> Option<(Sign, usize)> {
    const PRIMES: [char; 7] = ['\'', '′', '’', '‘', 'ʹ', '´', '`'];
    let first = rest.first()?;
    let sign = match first {
        '/' | '⁄' | '∕' | '／' => Sign::Slash,
        '-' | '‐' | '‑' | '‒' | '–' | '—' | '−' | '－' => Sign::Dash,
        '+' => Sign::Plus,
        '&' => Sign::And,
        '"' | '″' | '”' | '“' | 'ʺ' => Sign::Unit(Unit::Inches { mark: true }),
        prime if PRIMES.contains(prime) => {
            let doubled = rest.get(1) == Some(prime);
            let unit = if doubled { Unit::Inches { mark: true } } else { Unit::Feet { mark: true } };
            return Some((Sign::Unit(unit), 1 + usize::from(doubled)));
        }
        _ => return None,
    };
    Some((sign, 1))
}

/// The two numbers of a fraction written as one character.
fn vulgar(character: char) -> Option<(u8, u8)> {
    Some(match character {
        '½' => (1, 2),
        '⅓' => (1, 3),
        '⅔' => (2, 3),
        '¼' => (1, 4),
        '¾' => (3, 4),
        '⅕' => (1, 5),
        '⅖' => (2, 5),
        '⅗' => (3, 5),
        '⅘' => (4, 5),
        '⅙' => (1, 6),
        '⅚' => (5, 6),
        '⅐' => (1, 7),
        '⅛' => (1, 8),
        '⅜' => (3, 8),
        '⅝' => (5, 8),
        '⅞' => (7, 8),
        '⅑' => (1, 9),
        '⅒' => (1, 10),
        _ => return None,
    })
}
