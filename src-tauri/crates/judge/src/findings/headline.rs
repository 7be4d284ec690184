//! The room's verdict in one line, and what makes it so.

use super::judging::Judging;
use crate::forms::{Finding, FindingKind, Headline, Surface, Verdict, Walked};

/// The worst that was found, and where.
pub(super) fn headline(judging: &Judging<'_>, findings: &[Finding], walk: Option<Walked>) -> Headline {
    let gauges = walk.as_ref().map(|walk| walk.verdict);
    let told: Vec<&Finding> = findings.iter().filter(|finding| !is_decided_by(finding, gauges)).collect();
    let points = judging.file.plan.points.iter().filter(|point| point.survey == judging.survey.id).count();
    let read = judging.heights.len();
    let out = subjects(&told, Verdict::Out);
    let close: Vec<String> =
        subjects(&told, Verdict::TooCloseToCall).into_iter().filter(|name| !out.contains(name)).collect();
    Headline {
        verdict: verdict(&told, read),
        rest_even: judging.survey.surface != Surface::Fall
            && !told.iter().any(|finding| finding.verdict == Verdict::Out && !speaks_of(finding, &out)),
        out,
        close,
        floor: judging.survey.surface == Surface::Floor,
        tile_edge: judging.file.rules.tile.as_ref().map(|tile| tile.longest_edge),
        read: read as u32,
        points: points as u32,
        walk,
    }
}

/// Whether the gauges have said what a bar laid on the heights alone could only suspect: where they say flat, its
/// findings stand but decide nothing; where they decided otherwise, its doubts are over.
fn is_decided_by(finding: &Finding, gauges: Option<Verdict>) -> bool {
    let by_heights = matches!(finding.kind, FindingKind::StraightedgeAlong | FindingKind::StraightedgeAcross);
    match gauges {
        Some(Verdict::Within) => by_heights,
        Some(Verdict::Out | Verdict::TooCloseToCall) => by_heights && finding.verdict == Verdict::TooCloseToCall,
        Some(Verdict::NotTested) | None => false,
    }
}

/// Whether the surface itself is judged by this kind of finding.
fn is_of_the_surface(finding: &Finding) -> bool {
    use FindingKind::*;
    match finding.kind {
        CrownOrSag | OfTheRest | Twist | SagRatio | SharpDrop => true,
        StraightedgeAlong | StraightedgeAcross | StraightedgeWalk | Closing => true,
        Pond | FallRow | FallRun | FallShort => true,
        OutOfLevel | Blunder | Governs | NotLookedAt => false,
    }
}

/// Whether *within* here says something of the surface: a set-up that closes well does not.
fn says_flat(finding: &Finding) -> bool {
    is_of_the_surface(finding) && finding.kind != FindingKind::Closing
}

fn verdict(findings: &[&Finding], read: usize) -> Verdict {
    let any = |verdict| findings.iter().any(|finding| is_of_the_surface(finding) && finding.verdict == verdict);
    if read < 3 {
        Verdict::NotTested
    } else if any(Verdict::Out) {
        Verdict::Out
    } else if any(Verdict::TooCloseToCall) {
        Verdict::TooCloseToCall
    } else if findings.iter().any(|finding| finding.verdict == Verdict::Within && says_flat(finding)) {
        Verdict::Within
    } else {
        Verdict::NotTested
    }
}

/// The joists or lines of a verdict, worst first; for framing a joist names itself, a bar across names no joist.
///
/// The straightedge walk has a word of its own.
fn subjects(findings: &[&Finding], verdict: Verdict) -> Vec<String> {
    let mut names: Vec<String> = Vec::new();
    let own = |finding: &&Finding| {
        is_of_the_surface(finding) && finding.kind != FindingKind::StraightedgeWalk && finding.verdict == verdict
    };
    let all: Vec<&Finding> = findings.iter().copied().filter(own).collect();
    let joists: Vec<&Finding> = all.iter().copied().filter(|finding| is_of_a_joist(finding)).collect();
    let all = if joists.is_empty() { all } else { joists };
    for finding in all {
        if !names.contains(&finding.subject) {
            names.push(finding.subject.clone());
        }
    }
    names
}

fn is_of_a_joist(finding: &Finding) -> bool {
    use FindingKind::*;
    matches!(finding.kind, CrownOrSag | OfTheRest | Twist | SagRatio | SharpDrop)
}

/// Whether what is out is one of the named, or a bar that shows what they do.
fn speaks_of(finding: &Finding, out: &[String]) -> bool {
    !is_of_a_joist(finding) || out.contains(&finding.subject)
}
