//! Lippage as it was read after setting, judged by the joint and the tile's own warpage.

use crate::forms::*;
use crate::room::rules::{Figures, LengthId};
use crate::room::verdict::{decision, verdict};
use survey::rules::{LippageRule, lippage_rules};
use survey::units::{Estimate, Length};
use survey::verdict::{Limits, conformance};

/// The rule chosen by its name, else the first there is.
fn chosen(tiling: &Tiling) -> Option<LippageRule> {
    let mut all = lippage_rules();
    let at = tiling.lippage_rule.as_ref().and_then(|name| all.iter().position(|one| one.rule.name == *name));
    (!all.is_empty()).then(|| all.swap_remove(at.unwrap_or(0)))
}

pub(super) fn views(file: &RoomFile, tiling: &Tiling) -> Vec<LippageView> {
    let figures = Figures::of(&file.rules);
    let Some(rule) = chosen(tiling) else { return Vec::new() };
    tiling.lippage.iter().map(|read| view(read, tiling, &rule, &figures)).collect()
}

fn view(read: &LippageRead, tiling: &Tiling, rule: &LippageRule, figures: &Figures) -> LippageView {
    let limit = rule.limit(Length::mm(read.joint), Length::mm(tiling.warpage));
    let step = Estimate::new(Length::mm(read.step), figures.length(LengthId::GapSd));
    let sure = figures.confidence();
    let by = decision(figures.decision());
    let judged = limit.and_then(|limit| conformance(step, Limits::at_most(limit), sure, by).ok());
    LippageView {
        place: read.place.clone(),
        step: read.step,
        u: step.u.to_mm(),
        limit: limit.map(Length::to_mm),
        verdict: judged.map_or(Verdict::NotTested, |judged| verdict(judged.verdict)),
    }
}

pub(super) fn rules(file: &RoomFile) -> Vec<RuleRef> {
    lippage_rules().iter().map(|one| named(file, one)).collect()
}

pub(super) fn rule(file: &RoomFile, tiling: &Tiling) -> RuleRef {
    let none = || Figures::of(&file.rules).name(LengthId::GapSd);
    chosen(tiling).map_or_else(none, |rule| named(file, &rule))
}

fn named(file: &RoomFile, one: &LippageRule) -> RuleRef {
    let provenance = match one.rule.provenance {
        survey::rules::Provenance::Read => Provenance::Read,
        survey::rules::Provenance::Recalled => Provenance::Recalled,
        survey::rules::Provenance::CommonPractice => Provenance::CommonPractice,
    };
    RuleRef {
        name: one.rule.name.clone(),
        clause: one.rule.clause.clone(),
        edition: one.rule.edition.clone(),
        provenance,
        decision: Figures::of(&file.rules).decision(),
    }
}
