//! The answer in one breath, every judged figure, and the cautions that belong to them.

use super::findable::Findable;

use crate::forms::*;
use judge::room::framing_check;
use judge::words;
use report::model::{self, Caution, Clause, Mark};

pub(super) fn finding(findable: &Findable<'_>) -> model::Finding {
    let sentence = words::headline(&findable.findings, findable.say);
    model::Finding { mark: mark(findable.findings.headline.verdict), sentence, todo: todo(findable) }
}

/// What to do, the most pressing first.
fn todo(findable: &Findable<'_>) -> Vec<String> {
    let pressing = |finding: &&Finding| {
        matches!(
            finding.kind,
            FindingKind::SharpDrop | FindingKind::SagRatio | FindingKind::Governs | FindingKind::NotLookedAt
        )
    };
    let mut all: Vec<String> = findable
        .findings
        .findings
        .iter()
        .filter(pressing)
        .map(|finding| words::finding(finding, findable.say))
        .collect();
    if let Some(chosen) = findable.chosen() {
        let (name, needs) = (words::alternative(chosen, findable.say), words::needs(chosen, findable.say));
        all.push(format!("{name}: {needs}."));
    }
    all.dedup();
    all
}

pub(super) fn verdicts(findable: &Findable<'_>) -> Vec<model::Verdict> {
    let judged =
        findable.findings.findings.iter().filter(|finding| finding.limit.is_some() || finding.verdict == Verdict::Out);
    judged.map(|finding| verdict(findable, finding)).collect()
}

fn verdict(findable: &Findable<'_>, finding: &Finding) -> model::Verdict {
    let say = findable.say;
    let reach = finding.reach.map(|reach| format!(" in {}", say.reach(reach))).unwrap_or_default();
    model::Verdict {
        mark: mark(finding.verdict),
        sentence: words::finding(finding, say),
        value: finding.value.map(|value| say.length(value.abs())),
        limit: finding.limit.map(|limit| format!("at most {}{reach}", say.length(limit))),
        uncertainty: finding.u.map(|u| format!("±{} at k = 2", say.length(2.0 * u))),
        clause: finding.limit.map(|_| clause(&finding.rule)),
        retake: (!finding.retake.is_empty()).then(|| format!("Read {} again.", finding.retake.join(", "))),
        note: finding.noise_alone.as_ref().map(|noise| {
            format!(
                "A perfect floor read this way shows {}, one time in twenty {}.",
                say.length(noise.mean),
                say.length(noise.p95)
            )
        }),
    }
}

/// The tests of the room as they stand at a time.
pub(super) fn tests(file: &RoomFile, now: &str) -> Vec<model::Verdict> {
    let one = |view: TestView| model::Verdict {
        mark: mark(view.verdict),
        sentence: view.sentence,
        value: None,
        limit: None,
        uncertainty: None,
        clause: view.rule.as_ref().map(clause),
        retake: None,
        note: None,
    };
    judge::tests(file, now).into_iter().map(one).collect()
}

fn clause(rule: &RuleRef) -> Clause {
    let provenance = match rule.provenance {
        Provenance::Own => Some("edited in this room".to_string()),
        Provenance::Recalled => Some("recalled, not read".to_string()),
        Provenance::Read => Some("read as quoted, not in the standard".to_string()),
        Provenance::CommonPractice | Provenance::Derived => None,
    };
    let edition = (!rule.edition.is_empty()).then(|| rule.edition.clone());
    Clause { clause: rule.clause.clone(), edition, provenance }
}

pub(super) fn mark(verdict: Verdict) -> Mark {
    match verdict {
        Verdict::Within => Mark::Within,
        Verdict::Out => Mark::Out,
        Verdict::TooCloseToCall => Mark::TooClose,
        Verdict::NotTested => Mark::NotTested,
    }
}

pub(super) fn cautions(findable: &Findable<'_>) -> Vec<Caution> {
    let caution = |title: &str, text: &str| Caution { title: title.to_string(), text: text.to_string() };
    let mut all = vec![caution(
        "Shape, never strength.",
        "These figures say where the tops lie. Whether the framing carries the floor is for local code, product data, \
         the permit and a licensed engineer.",
    )];
    if findable.height.is_some() {
        all.push(caution(
            "Before any cut or plane.",
            "Find the cables, pipes and nails; isolate and prove dead. Old paint, flooring and levelling compound may hold \
             lead or asbestos: have them tested. Keep silica dust down with water or a shrouded vacuum.",
        ));
        all.push(caution("Open joists.", "Plank them out and keep others away until the deck is down."));
    }
    all
}

/// The questions of the structure gate that nobody has answered.
pub(super) fn not_looked_at(file: &RoomFile) -> Vec<String> {
    if file.plan.joists.is_empty() {
        return Vec::new();
    }
    let open = framing_check::views(file)
        .into_iter()
        .filter(|view| view.answer.as_ref().is_none_or(|given| given.answer == "not-looked-at"));
    open.map(|view| view.question).collect()
}
