//! The rule for the fall of a wet floor: which one is chosen in a room, and what it asks.

use super::id::{RuleId, SlopeId};
use crate::forms::refusal::Refusal;
use crate::forms::{Decision, FallsView, Provenance, RuleRef, Rules};
use survey::rules::{Direction, FallRule, falls};
use survey::units::Slope;

/// A rule that sets no most: steeper than any floor one stands on.
const NO_MOST: f64 = 1.0;

/// A rule for falls, chosen in a room.
pub(super) struct Chosen(FallRule);

/// The chosen rule, where it brings a figure.
pub(super) fn brings(rules: &Rules, id: RuleId) -> Option<Chosen> {
    chosen(rules).filter(|_| default(rules, id).is_some())
}

/// The rule chosen in a room; none where nothing was chosen and the defaults stand.
pub(super) fn chosen(rules: &Rules) -> Option<Chosen> {
    let name = rules.falls.as_deref()?;
    falls().into_iter().find(|fall| fall.rule.name == name).map(Chosen)
}

/// The figure that the chosen rule brings; none for other figures or without a choice.
///
/// A rule of access sets a most alone: water has to run off all the same, so the least stays the usual one.
pub(super) fn default(rules: &Rules, id: RuleId) -> Option<f64> {
    let Chosen(fall) = chosen(rules)?;
    match id {
        RuleId::Slope(SlopeId::FallLeast) => fall.least.map(Slope::to_ratio),
        RuleId::Slope(SlopeId::FallMost) => Some(fall.most.map_or(NO_MOST, Slope::to_ratio)),
        _ => None,
    }
}

/// Whether there is a rule of a name.
///
/// # Errors
/// `out-of-range`, naming those there are.
pub fn check(name: &str) -> Result<(), Refusal> {
    let names: Vec<String> = falls().into_iter().map(|fall| fall.rule.name).collect();
    if names.iter().any(|known| known == name) {
        Ok(())
    } else {
        Err(Refusal::out_of_range("falls", &format!("one of: {}", names.join("; "))))
    }
}

/// Every rule there is to choose from.
pub fn views(rules: &Rules) -> Vec<FallsView> {
    let view = |(k, fall): (usize, FallRule)| FallsView {
        chosen: rules.falls.as_ref().map_or(k == 0, |name| *name == fall.rule.name),
        least: fall.least.map(Slope::to_ratio),
        most: fall.most.map(Slope::to_ratio),
        square_to_drain: fall.direction == Direction::SquareToDrain,
        provenance: provenance(&fall),
        name: fall.rule.name,
        clause: fall.rule.clause,
        edition: fall.rule.edition,
    };
    falls().into_iter().enumerate().map(view).collect()
}

fn provenance(fall: &FallRule) -> Provenance {
    match fall.rule.provenance {
        survey::rules::Provenance::Read => Provenance::Read,
        survey::rules::Provenance::Recalled => Provenance::Recalled,
        survey::rules::Provenance::CommonPractice => Provenance::CommonPractice,
    }
}

impl Chosen {
    /// How a finding names this rule.
    pub(super) fn named(self, decision: Decision) -> RuleRef {
        let Self(fall) = self;
        let provenance = provenance(&fall);
        RuleRef { name: fall.rule.name, clause: fall.rule.clause, edition: fall.rule.edition, provenance, decision }
    }
}

/// Whether the chosen rule asks for the slope square to the drain, not along the path of the water.
pub(super) fn is_square_to_drain(rules: &Rules) -> bool {
    chosen(rules).is_some_and(|Chosen(fall)| fall.direction == Direction::SquareToDrain)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::room::rules::Figures;
    use survey::drainage::FallRule as Measured;

    #[test]
    fn a_chosen_rule_brings_its_limits_and_its_name_until_one_is_changed() {
        let mut rules = Rules { falls: Some("Australia, shower".into()), ..Rules::default() };
        let figures = Figures::of(&rules);
        assert_eq!(figures.falls().minimum, Slope::one_in(80.0));
        assert_eq!(figures.falls().maximum, Slope::one_in(50.0));
        assert_eq!(figures.falls().rule, Measured::SquareToDrain);
        assert_eq!(figures.name(SlopeId::FallLeast).edition, "2022");
        rules.changed.insert("fall-least".into(), 0.01);
        let figures = Figures::of(&rules);
        assert_eq!(figures.falls().minimum, Slope::ratio(0.01));
        assert_eq!(figures.name(SlopeId::FallLeast).provenance, Provenance::Own);
        assert_eq!(figures.name(SlopeId::FallMost).edition, "2022");
    }

    #[test]
    fn a_rule_that_sets_a_most_alone_leaves_the_usual_least() {
        let rules = Rules { falls: Some("United States, accessible roll-in".into()), ..Rules::default() };
        let figures = Figures::of(&rules);
        assert_eq!((figures.falls().minimum, figures.falls().maximum), (Slope::one_in(48.0), Slope::one_in(48.0)));
        assert_eq!(figures.name(SlopeId::FallLeast), Figures::default().name(SlopeId::FallLeast));
        assert_eq!(figures.name(SlopeId::FallMost).clause, "ADA 305.2");
    }

    #[test]
    fn without_a_choice_the_first_rule_stands() {
        let first = falls().into_iter().next().expect("a rule");
        let figures = Figures::default();
        assert_eq!((Some(figures.falls().minimum), Some(figures.falls().maximum)), (first.least, first.most));
        assert_eq!(figures.name(SlopeId::FallLeast).clause, first.rule.clause);
        assert_eq!(views(&Rules::default()).iter().filter(|view| view.chosen).count(), 1);
        assert!(check("Nowhere").is_err() && check(&first.rule.name).is_ok());
    }
}
