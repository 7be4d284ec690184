//! Why a cut is not allowed, as sentences for a person on site.

use crate::length_text::{Rounding, both_ways};
use crate::units::Length;
use std::fmt;

/// Why the guard does not allow a cut. Limits print rounded down, distances to keep rounded up.
#[derive(Debug, Clone, PartialEq)]
pub enum Refusal {
    Engineered,
    UnknownKind,
    MiddleThird,
    /// Longer than a notch and deeper than dressing.
    DressingTooDeep {
        limit: Length,
        notch_length: Length,
    },
    NotchTooDeep {
        limit: Length,
    },
    /// Short enough for a notch, but the plan only dresses.
    NotDressing {
        limit: Length,
    },
    OutsideApproval,
    DeeperThanApproved {
        limit: Length,
    },
    BoreTooWide {
        limit: Length,
    },
    BoreTooNear {
        limit: Length,
    },
}

impl fmt::Display for Refusal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let down = |length: &Length| both_ways(*length, Rounding::Down);
        match self {
            Self::Engineered => f.write_str(
                "An engineered member is not cut unless its maker or a designer allows it: ask before touching it.",
            ),
            Self::UnknownKind => f.write_str("Nobody has said what this member is: look first, and cut nothing."),
            Self::MiddleThird => f.write_str(
                "The cut reaches the middle third of the span, where no notch is allowed: ask the engineer.",
            ),
            Self::DressingTooDeep { limit, notch_length } => write!(
                f,
                "Longer than {} this is planing, and planing goes to {}: ask the engineer.",
                down(notch_length),
                down(limit)
            ),
            Self::NotchTooDeep { limit } => write!(f, "A notch here goes to {}: ask the engineer.", down(limit)),
            Self::NotDressing { limit } => write!(f, "The plan dresses a joist to {} and no deeper.", down(limit)),
            Self::OutsideApproval => f.write_str("The cut reaches outside what the approval covers."),
            Self::DeeperThanApproved { limit } => write!(f, "The approval goes to {} and no deeper.", down(limit)),
            Self::BoreTooWide { limit } => write!(f, "A hole here is at most {} wide.", down(limit)),
            Self::BoreTooNear { limit } => write!(
                f,
                "A hole keeps {} of wood to the edges, other holes and notches.",
                both_ways(*limit, Rounding::Up)
            ),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(refusal: Refusal, words: &str) {
        assert!(refusal.to_string().contains(words), "{refusal}");
    }

    #[test]
    fn limits_are_said_rounded_down() {
        check(Refusal::NotchTooDeep { limit: Length::inches(9.25) / 6.0 }, "1-1/2\" (39.1 mm)");
        check(Refusal::BoreTooWide { limit: Length::inches(7.25) / 3.0 }, "2-3/8\" (61.3 mm)");
        check(Refusal::BoreTooNear { limit: Length::inches(2.0) }, "2\" (50.8 mm)");
        let planing = Refusal::DressingTooDeep { limit: Length::mm(3.175), notch_length: Length::inches(9.25) / 3.0 };
        check(planing, "Longer than 3-1/16\" (78.3 mm) this is planing, and planing goes to 1/8\" (3.1 mm)");
    }
}
