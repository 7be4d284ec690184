//! How far the edges of two tiles may stand apart, by the joint between them.

use super::{Provenance, Rule};
use crate::units::Length;

/// Limits on lippage that step with the width of the joint.
#[derive(Debug, Clone, PartialEq)]
pub struct LippageRule {
    pub rule: Rule,
    /// From which joint on, itself included, which limit holds; the narrowest first.
    pub steps: Vec<(Length, Length)>,
    /// Whether the tile's own warpage is allowed on top.
    pub warpage_on_top: bool,
}

impl LippageRule {
    /// How far two edges may stand apart over a joint, given how far the tile itself is warped.
    ///
    /// `None` for a joint narrower than the rule knows.
    ///
    /// ```
    /// use survey::rules::lippage_rules;
    /// use survey::units::Length;
    ///
    /// let pressed = &lippage_rules()[0];
    /// let limit = pressed.limit(Length::inches(0.125), Length::inches(0.0625)).unwrap();
    /// assert!((limit.to_inches() - 3.0 / 32.0).abs() < 1e-12);
    /// assert_eq!(pressed.limit(Length::inches(1.0 / 32.0), Length::ZERO), None);
    /// ```
    pub fn limit(&self, joint: Length, warpage: Length) -> Option<Length> {
        let (_, limit) = self.steps.iter().rfind(|(from, _)| joint.at_least(*from))?;
        Some(if self.warpage_on_top { *limit + warpage.max(Length::ZERO) } else { *limit })
    }
}

/// The lippage rules that are known, to choose from.
///
/// # Units
/// Lengths, as the rules print them.
///
/// # Source
/// Beside each rule; read as quoted in published pages, not in the standards.
pub fn lippage_rules() -> Vec<LippageRule> {
    let inches = |from: f64, limit: f64| (Length::inches(from), Length::inches(limit));
    let mm = |from: f64, limit: f64| (Length::mm(from), Length::mm(limit));
    let rule = |name: &str, clause: &str, edition: &str, steps: Vec<(Length, Length)>, warpage_on_top| LippageRule {
        rule: Rule::of(name, clause, edition, Provenance::Read),
        steps,
        warpage_on_top,
    };
    let pressed = vec![inches(1.0 / 16.0, 1.0 / 32.0), inches(0.25, 1.0 / 16.0)];
    vec![
        rule("Pressed floor and porcelain tile", "ANSI A108.02 4.3.7", "2013", pressed, true),
        rule("Stone", "stone institute, as quoted with A108.02", "", vec![inches(0.0, 1.0 / 32.0)], false),
        rule("United Kingdom, floor tile", "BS 5385", "", vec![mm(0.0, 1.0), mm(6.0, 2.0)], false),
        rule("Australia, floor tile", "NSW guide 12.9", "", vec![mm(0.0, 1.0), mm(3.000_01, 2.0)], false),
    ]
}

/// How far a tile may be warped along an edge and along a diagonal, by an older rule for glazed pavers.
///
/// # Source
/// ANSI A137.1, older edition: 1.0 % of the edge, 0.75 % of the diagonal, read as quoted in a trade magazine.
///
/// ```
/// use survey::rules::warpage_most;
/// use survey::units::Length;
///
/// let [edge, _] = warpage_most(Length::inches(24.0), Length::inches(33.94));
/// assert!((edge.to_inches() - 0.24).abs() < 1e-12);
/// ```
pub fn warpage_most(edge: Length, diagonal: Length) -> [Length; 2] {
    [edge * 0.01, diagonal * 0.0075]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn wider_joints_hide_more() {
        for one in lippage_rules() {
            assert!(one.steps.is_sorted_by(|near, far| near.0 < far.0 && near.1 < far.1), "{one:?}");
            assert!(!one.rule.clause.is_empty());
        }
    }

    #[test]
    fn a_joint_at_a_step_takes_the_wider_limit() {
        let british = &lippage_rules()[2];
        let check = |joint: f64, limit: f64| {
            assert_eq!(british.limit(Length::mm(joint), Length::mm(5.0)), Some(Length::mm(limit)), "{joint}");
        };
        check(0.0, 1.0);
        check(5.999, 1.0);
        check(6.0, 2.0);
        check(20.0, 2.0);
    }
}
