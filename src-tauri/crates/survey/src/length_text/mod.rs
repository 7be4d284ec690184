//! Lengths as they are written on site, read and printed: `44-3/16"`, `3'-4 5/8"`, `43 7/8 strong`, `1122,5 mm`.
//!
//! [`parse`] reads every usual spelling and refuses the rest by what it did not understand and where.
//! [`fraction`], [`feet_and_inches`], [`decimal_inches`] and [`millimetres`] print; [`Echo`] is all of them at once,
//! shown beside what was typed so that a wrong reading is seen before it is kept.

mod print;
mod read;
mod spelling;

pub use print::{Echo, Parts, Rounding, both_ways, decimal_inches, feet_and_inches, fraction, millimetres};
pub use read::parse;

use std::fmt;

/// The unit of a number that carries none.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum DefaultUnit {
    #[default]
    Inch,
    Millimetre,
}

/// The text is not a length: what was not understood, and where.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NotUnderstood {
    /// The piece of the text in question; empty at the end of the text.
    pub text: String,
    /// The characters before it.
    pub at: usize,
    pub why: Why,
}

/// Why a text is not a length.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Why {
    Empty,
    UnknownSign,
    UnknownWord,
    /// The text ends where a number must follow.
    Unfinished,
    /// A second decimal mark, or a mark with no digit behind it.
    DecimalMark,
    /// A comma before three digits of millimetres: thousands or a decimal?
    Thousands,
    /// Over or under the line of a fraction stands something other than a whole number.
    Fraction,
    ZeroDenominator,
    /// The fraction behind a whole number is one or more.
    FractionTooLarge,
    /// A fraction behind a decimal number.
    FractionOfDecimal,
    /// A fraction without a unit where plain numbers are millimetres.
    FractionOfMillimetre,
    /// Decimal or fractional feet followed by inches.
    FeetNotWhole,
    /// Twelve inches or more behind feet.
    TwelveInches,
    /// A second number that is neither a fraction nor inches after feet.
    SecondNumber,
    /// A unit that cannot follow.
    Unit,
    /// Something behind a finished length.
    Leftover,
    TooLarge,
}

impl Why {
    fn sentence(self) -> &'static str {
        match self {
            Self::Empty => "no length was entered",
            Self::UnknownSign => "this sign has no place in a length",
            Self::UnknownWord => "this is neither a unit nor strong or shy",
            Self::Unfinished => "a number is missing here",
            Self::DecimalMark => "a number has one decimal mark, with digits behind it",
            Self::Thousands => "thousands or a decimal? Write the millimetres without the comma, or with a point",
            Self::Fraction => "a fraction is two whole numbers, like 3/16",
            Self::ZeroDenominator => "nothing can be divided into zero parts",
            Self::FractionTooLarge => "behind a whole number the fraction is less than one",
            Self::FractionOfDecimal => "a decimal number takes no fraction",
            Self::FractionOfMillimetre => "a fraction needs its unit in a millimetre room, like 3/16 in",
            Self::FeetNotWhole => "before inches the feet are a whole number",
            Self::TwelveInches => "behind feet the inches are less than 12",
            Self::SecondNumber => "a second number is a fraction, like 44-3/16, or inches after feet, like 3'-8",
            Self::Unit => "this unit cannot stand here",
            Self::Leftover => "the length was complete before this",
            Self::TooLarge => "this is too large to be a length",
        }
    }
}

impl fmt::Display for NotUnderstood {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let sentence = self.why.sentence();
        match (self.why, self.text.as_str()) {
            (Why::Empty, _) => f.write_str(sentence),
            (_, "") => write!(f, "not understood at the end: {sentence}"),
            (_, text) => write!(f, "“{text}” at character {} was not understood: {sentence}", self.at + 1),
        }
    }
}

impl std::error::Error for NotUnderstood {}
