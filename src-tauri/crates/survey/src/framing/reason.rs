//! Why a joist gets the work it gets, as sentences for a person on site.

use crate::guard::{Cut, Refusal};
use crate::length_text::{Rounding, both_ways};
use crate::units::Length;
use std::fmt;

/// One reason for the work on a joist.
#[derive(Debug, Clone, PartialEq)]
pub enum Reason {
    /// Somebody looked and found it unsound.
    Unsound,
    /// It hangs over its own ends beyond the ratio.
    Sags,
    /// It was read nowhere.
    NotRead,
    /// More than a strip makes up.
    LiftTooLarge { lift: Length },
    /// It sets the height, and is sistered so that its old top can come down.
    Governs,
    /// It is sistered, and its old top stands above the target by this much.
    OldTopAbove { by: Length },
    /// A cut the builder may make.
    Dressing { cut: Cut },
    /// A cut the approval on record covers.
    ByApproval { cut: Cut },
    /// A cut that is wanted and may not be made without an approval.
    NeedsApproval { cut: Cut, why: Vec<Refusal> },
}

impl fmt::Display for Reason {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let near = |length: &Length| both_ways(*length, Rounding::Nearest);
        match self {
            Self::Unsound => f.write_str("It is not sound: sister it, or ask the engineer, at any height."),
            Self::Sags => {
                f.write_str("It sags over its own ends: look underneath, then sister it or ask the engineer.")
            }
            Self::NotRead => f.write_str("It was not read."),
            Self::LiftTooLarge { lift } => write!(f, "It is {} low, more than a strip makes up.", near(lift)),
            Self::Governs => f.write_str("It sets the height: sistered too, its old top can come down."),
            Self::OldTopAbove { by } => {
                write!(f, "Its old top stands {} above the target: ask before it is cut down.", near(by))
            }
            Self::Dressing { cut } => write!(f, "Dress {}.", said(cut)),
            Self::ByApproval { cut } => write!(f, "Cut {}: the approval on record covers it.", said(cut)),
            Self::NeedsApproval { cut, why } => {
                write!(f, "Only with an approval: {}.", said(cut))?;
                why.iter().try_for_each(|refusal| write!(f, " {refusal}"))
            }
        }
    }
}

/// `1/8" (3.2 mm) deep from 30" (762.0 mm) to 72" (1828.8 mm)`.
fn said(cut: &Cut) -> String {
    let [depth, from, to] = [cut.depth, cut.from, cut.to].map(|length| both_ways(length, Rounding::Nearest));
    format!("{depth} deep from {from} to {to}")
}
