//! Flatness rules that name one straightedge and one gap, by country.

use super::{Provenance, Reach, Rule};
use crate::straightedge::Definition;
use crate::units::Length;

/// The largest gap under a straightedge of one length, and how it is laid.
#[derive(Debug, Clone, PartialEq)]
pub struct StraightedgeRule {
    pub rule: Rule,
    pub reach: Reach,
    /// What the rule means by the gap.
    pub definition: Definition,
}

/// The straightedge rules that are known, to choose from.
///
/// # Units
/// Lengths, as the rules print them.
///
/// # Source
/// Beside each rule. Read means read as quoted in published pages, not in the standard itself.
///
/// ```
/// use survey::rules::straightedge_rules;
///
/// let finest = &straightedge_rules()[0];
/// assert_eq!((finest.reach.limit.to_mm(), finest.reach.length.to_mm()), (3.0, 2000.0));
/// ```
pub fn straightedge_rules() -> Vec<StraightedgeRule> {
    use Definition::{EndSupported, Supported};
    use Provenance::{Read, Recalled};
    let rule = |name: &str, clause: &str, edition: &str, provenance, limit, length, definition| StraightedgeRule {
        rule: Rule::of(name, clause, edition, provenance),
        reach: Reach { limit: Length::mm(limit), length: Length::mm(length) },
        definition,
    };
    vec![
        rule("Screed, surface regularity SR1", "BS 8204", "2003", Read, 3.0, 2000.0, Supported),
        rule("Screed, surface regularity SR2", "BS 8204", "2003", Read, 5.0, 2000.0, Supported),
        rule("Screed, surface regularity SR3", "BS 8204", "2003", Read, 10.0, 2000.0, Supported),
        rule("Base for floor tiles", "BS 5385-3", "", Recalled, 3.0, 2000.0, Supported),
        rule("Floors of new homes", "NHBC 9.1.5", "2020", Read, 5.0, 2000.0, EndSupported),
        rule("Finished tiling", "NSW guide 12.9", "", Read, 4.0, 2000.0, Supported),
        // The older edition laid a longer bar for the same gaps.
        rule("Screed, older: regularity SR1", "BS 8204", "1987", Read, 3.0, 3000.0, Supported),
        rule("Screed, older: regularity SR2", "BS 8204", "1987", Read, 5.0, 3000.0, Supported),
        rule("Screed, older: regularity SR3", "BS 8204", "1987", Read, 10.0, 3000.0, Supported),
    ]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_names_where_it_comes_from() {
        for one in straightedge_rules() {
            assert!(!one.rule.clause.is_empty() && one.rule.provenance != Provenance::CommonPractice, "{one:?}");
            assert!(one.reach.limit > Length::ZERO && one.reach.length > one.reach.limit, "{one:?}");
        }
    }
}
