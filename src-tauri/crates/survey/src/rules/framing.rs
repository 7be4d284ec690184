//! What framing and set-ups are held to before anything is laid on them.

use super::{FlatnessRule, Reach, Rule};
use crate::units::Length;

/// One limit on a length.
#[derive(Debug, Clone, PartialEq)]
pub struct LengthRule {
    pub rule: Rule,
    pub limit: Length,
}

/// How flat the framing should be: 1/8 in under 8 ft, or under the longest straightedge that fits.
///
/// # Source
/// Common practice.
pub fn framing_target() -> FlatnessRule {
    let reach = Reach { limit: Length::inches(0.125), length: Length::inches(96.0) };
    FlatnessRule { rule: Rule::practice("Framing under a straightedge"), reaches: vec![reach] }
}

/// How far a set-up may close off its benchmark: 1/16 in. A plausibility check, inclusive, without probability.
///
/// # Source
/// Common practice.
pub fn closing() -> LengthRule {
    LengthRule { rule: Rule::practice("Closing error of a set-up"), limit: Length::inches(0.0625) }
}
