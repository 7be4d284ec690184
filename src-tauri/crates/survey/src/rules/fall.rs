//! How much a wet floor falls to its drain, by country.

use super::{Provenance, Rule};
use crate::units::Slope;

/// How a fall is measured.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Direction {
    /// Along the path the water takes.
    Path,
    /// Square to the drain, not along a diagonal cut.
    SquareToDrain,
}

impl Direction {
    /// The name used on every wire: `square-to-drain`.
    pub fn name(self) -> &'static str {
        match self {
            Self::Path => "path",
            Self::SquareToDrain => "square-to-drain",
        }
    }
}

/// The least and the most a floor may fall.
#[derive(Debug, Clone, PartialEq)]
pub struct FallRule {
    pub rule: Rule,
    /// None where only a maximum is set.
    pub least: Option<Slope>,
    /// None where only a minimum is set.
    pub most: Option<Slope>,
    pub direction: Direction,
}

/// The fall rules that are known, to choose from.
///
/// # Units
/// Slopes as rise over run. "1/4 in per ft" is 1:48 exactly; the 2 % that is printed beside it is a rounding.
///
/// # Source
/// Beside each rule. Read means read as quoted in published pages, not in the code itself.
///
/// ```
/// use survey::rules::falls;
/// use survey::units::Slope;
///
/// let dwelling = &falls()[0];
/// let quarter_inch_per_foot = Slope::ratio(0.25 / 12.0);
/// assert!(dwelling.least.is_some_and(|least| quarter_inch_per_foot.at_least(least)));
/// assert!(!dwelling.least.is_some_and(|least| Slope::ratio(0.02).at_least(least)));
/// ```
pub fn falls() -> Vec<FallRule> {
    use Direction::{Path, SquareToDrain};
    use Provenance::{Read, Recalled};
    let one_in = |n: f64| Some(Slope::one_in(n));
    let fall = |name: &str, clause: &str, edition: &str, provenance, least, most, direction| FallRule {
        rule: Rule::of(name, clause, edition, provenance),
        least,
        most,
        direction,
    };
    vec![
        fall("United States, dwelling shower", "IRC P2709.1", "2021", Read, one_in(48.0), one_in(24.0), Path),
        fall("United States, plumbing code", "UPC 408.5", "", Recalled, one_in(48.0), one_in(24.0), Path),
        // The least fall to the drain and the most in any direction meet here at one value.
        fall("United States, accessible roll-in", "ADA 305.2", "2010", Recalled, None, one_in(48.0), Path),
        fall("Australia, shower", "NCC, Housing Provisions", "2022", Read, one_in(80.0), one_in(50.0), SquareToDrain),
        fall("Australia, older: shower", "SA 3.2.2", "2016", Read, one_in(80.0), one_in(60.0), Path),
        fall("Australia, older: other wet floor", "SA 3.2.2", "2016", Read, one_in(100.0), one_in(80.0), Path),
        fall("New Zealand, within 1500 mm of the rose", "", "", Read, one_in(50.0), None, Path),
        fall("United Kingdom, wet room", "BS 5385-3", "", Recalled, one_in(80.0), one_in(35.0), Path),
    ]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_rule_says_where_it_comes_from_and_has_a_limit() {
        for fall in falls() {
            assert!(fall.least.is_some() || fall.most.is_some(), "{}", fall.rule.name);
            assert!(!fall.rule.name.is_empty() && fall.rule.provenance != Provenance::CommonPractice);
            let in_order = fall.least.zip(fall.most).is_none_or(|(least, most)| least <= most);
            assert!(in_order, "{}", fall.rule.name);
        }
    }

    #[test]
    fn one_in_forty_eight_is_the_least_of_a_dwelling_and_the_most_of_a_roll_in() {
        let slope = Slope::ratio(0.25 / 12.0);
        let falls = falls();
        assert!(falls[0].least.is_some_and(|least| slope.at_least(least)));
        assert!(falls[2].most.is_some_and(|most| slope.at_most(most)));
        assert!(falls[3].most.is_some_and(|most| !slope.at_most(most)), "1:48 is steeper than 1:50");
    }
}
