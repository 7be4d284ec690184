//! The rules that are chosen by name, for falls and for lippage, as data: each names its clause and edition.
//!
//! Every figure may be changed; what a rule is called and where it comes from stays beside it wherever it is printed.

mod fall;
mod lippage;

pub use fall::{Direction, FallRule, falls};
pub use lippage::{LippageRule, lippage_rules, warpage_most};

/// What a rule is called, and where its figures come from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Rule {
    pub name: String,
    /// The clause of a standard or code; empty where none was named.
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

impl Rule {
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
