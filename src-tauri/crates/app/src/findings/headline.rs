//! The room's verdict in one line, and what makes it so.

use super::Judging;
use crate::wire::{Finding, FindingKind, Headline, Surface, Verdict};

/// The worst that was found, and where.
pub(super) fn headline(judging: &Judging<'_>, findings: &[Finding]) -> Headline {
    let points = judging.file.plan.points.iter().filter(|point| point.survey == judging.survey.id).count();
    let read = judging.heights.len();
    let out = subjects(findings, Verdict::Out);
    let close: Vec<String> =
        subjects(findings, Verdict::TooCloseToCall).into_iter().filter(|name| !out.contains(name)).collect();
    Headline {
        verdict: verdict(findings, read),
        rest_even: judging.survey.surface != Surface::Fall
            && !findings.iter().any(|finding| finding.verdict == Verdict::Out && !speaks_of(finding, &out)),
        out,
        close,
        read: read as u32,
        points: points as u32,
    }
}

/// Whether the surface itself is judged by this kind of finding.
fn is_of_the_surface(finding: &Finding) -> bool {
    use FindingKind::*;
    matches!(
        finding.kind,
        CrownOrSag
            | OfTheRest
            | Twist
            | SagRatio
            | SharpDrop
            | StraightedgeAlong
            | StraightedgeAcross
            | Closing
            | Pond
            | FallRow
            | FallRun
            | FallShort
    )
}

/// Whether *within* here says something of the surface: a set-up that closes well does not.
fn says_flat(finding: &Finding) -> bool {
    is_of_the_surface(finding) && finding.kind != FindingKind::Closing
}

fn verdict(findings: &[Finding], read: usize) -> Verdict {
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
fn subjects(findings: &[Finding], verdict: Verdict) -> Vec<String> {
    let mut names: Vec<String> = Vec::new();
    let own = |finding: &&Finding| is_of_the_surface(finding) && finding.verdict == verdict;
    let joists: Vec<&Finding> = findings.iter().filter(own).filter(|finding| is_of_a_joist(finding)).collect();
    let all = if joists.is_empty() { findings.iter().filter(own).collect() } else { joists };
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
