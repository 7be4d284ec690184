//! The rules a floor is judged by, as data: each names its clause and edition, or says it is common practice.
//!
//! Every figure may be changed; what a rule is called and where it comes from stays beside it wherever it is printed.

pub mod din;
mod f_number_class;
mod fall;
mod framing;
mod lippage;
mod straightedge;

pub use f_number_class::{FNumberClass, f_number_classes};
pub use fall::{Direction, FallRule, falls};
pub use framing::{LengthRule, closing, framing_target};
pub use lippage::{LippageRule, lippage_rules, warpage_most};
pub use straightedge::{StraightedgeRule, straightedge_rules};

use crate::units::Length;

/// What a rule is called, and where its figures come from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Rule {
    pub name: String,
    /// The clause of a standard or code; empty for common practice.
    pub clause: String,
    /// The edition that was read or recalled; empty if none was named: check your own.
    pub edition: String,
    pub provenance: Provenance,
}

/// Where a figure comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Provenance {
    /// Read in published material; for a standard, as quoted there.
    Read,
    /// Recalled, not read: confirm it before citing it.
    Recalled,
    CommonPractice,
}

/// A limit over a reach: no gap larger than `limit` under a straightedge as long as `length`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reach {
    pub limit: Length,
    pub length: Length,
}

/// Limits on flatness that hold together.
#[derive(Debug, Clone, PartialEq)]
pub struct FlatnessRule {
    pub rule: Rule,
    /// The long reach first.
    pub reaches: Vec<Reach>,
}

impl Rule {
    pub(crate) fn practice(name: &str) -> Self {
        Self::of(name, "", "", Provenance::CommonPractice)
    }

    pub(crate) fn of(name: &str, clause: &str, edition: &str, provenance: Provenance) -> Self {
        Self { name: name.into(), clause: clause.into(), edition: edition.into(), provenance }
    }
}

impl Provenance {
    /// The name used on every wire: `common-practice`.
    pub fn name(self) -> &'static str {
        match self {
            Self::Read => "read",
            Self::Recalled => "recalled",
            Self::CommonPractice => "common-practice",
        }
    }
}
