//! English sentences for the terminal and the printed sheets. The screens have their own, in several languages.

pub mod build_up;
pub mod fall;
mod gauge;
mod headline;
mod phrases;
mod say;
pub mod tests;

pub use headline::headline;
pub use phrases::{list, place};
pub use say::Say;

use crate::forms::*;
use phrases::article;
use survey::units::Length;

/// The verdict as a word.
pub fn verdict(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Within => "within",
        Verdict::Out => "out",
        Verdict::TooCloseToCall => "too close to call",
        Verdict::NotTested => "not tested",
    }
}

/// What one finding says.
pub fn finding(finding: &Finding, say: Say) -> String {
    let subject = &finding.subject;
    let amount = finding.value.map(|value| say.length(value.abs())).unwrap_or_default();
    let raised = finding.value.is_some_and(|value| value > 0.0);
    let place = place(&finding.place, say);
    match finding.kind {
        FindingKind::Closing => closing(finding, say),
        FindingKind::CrownOrSag if finding.value.is_some_and(|value| value.abs() < 1e-9) => {
            format!("{subject} is straight over its own ends.")
        }
        FindingKind::CrownOrSag if raised => format!("{subject} crowns {amount} over its own ends, {place}."),
        FindingKind::CrownOrSag => format!("{subject} sags {amount} below its own ends, {place}."),
        FindingKind::OfTheRest if raised => format!("{subject} stands {amount} above the plane of the rest, {place}."),
        FindingKind::OfTheRest => format!("{subject} lies {amount} below the plane of the rest, {place}."),
        FindingKind::OutOfLevel if finding.value.is_some_and(|value| value.abs() < 1e-9) => {
            format!("{subject} is level from its first reading to its last.")
        }
        FindingKind::OutOfLevel if raised => format!("{subject} climbs {amount} from its first reading to its last."),
        FindingKind::OutOfLevel => format!("{subject} falls {amount} from its first reading to its last."),
        FindingKind::Twist => format!("{subject} is twisted {amount} across its top, {place}."),
        FindingKind::SagRatio => sag(finding, say),
        FindingKind::SharpDrop => format!(
            "{subject} drops {amount} {}: look underneath for a notch, a split or a cut before anything else.",
            stretch(finding, say)
        ),
        FindingKind::StraightedgeAlong | FindingKind::StraightedgeAcross => straightedge(finding, say),
        FindingKind::StraightedgeWalk => gauge::finding(finding, say),
        FindingKind::Blunder => format!("The reading at {subject} looks like a slip. Take it again."),
        FindingKind::Governs => governs(finding, say),
        FindingKind::Pond => pond(finding, say),
        FindingKind::FallRow => {
            format!("{} {} over {}{}.", capital(subject), falling(finding, say), over(finding, say), one_in(finding))
        }
        FindingKind::FallRun => {
            format!("From {subject} it {} over {}{}.", falling(finding, say), over(finding, say), one_in(finding))
        }
        FindingKind::FallShort => short_runs(finding, say),
        FindingKind::NotLookedAt => {
            format!("Nobody has looked whether these are sound: {subject}. The tool measures shape, never strength.")
        }
    }
}

fn closing(finding: &Finding, say: Say) -> String {
    match finding.value {
        Some(error) => format!("The set-up closes on {} within {}.", finding.subject, say.length(error.abs())),
        None => {
            format!("The set-up has not been closed on {}: read it again before you trust the rest.", finding.subject)
        }
    }
}

fn sag(finding: &Finding, say: Say) -> String {
    let drop = finding.value.map_or(0.0, f64::abs);
    let over = finding.reach.unwrap_or(0.0);
    let ratio = if drop > 0.0 { format!(" (1 in {:.0})", over / drop) } else { String::new() };
    format!(
        "{} sags {} over the {} read{ratio}, probably more over its full span: sister it, and ask an engineer.",
        finding.subject,
        say.in_thirty_seconds().length(drop),
        say.length(over)
    )
}

fn pond(finding: &Finding, say: Say) -> String {
    match finding.value {
        Some(depth) if depth > 0.0 => {
            format!("Water would stand {} deep at most, {}.", say.length(depth), place(&finding.place, say))
        }
        _ => "No water would stand on the surface as it was read.".to_string(),
    }
}

/// `falls 8.4 mm`, or which way else.
fn falling(finding: &Finding, say: Say) -> String {
    let rise = finding.value.unwrap_or(0.0);
    match rise {
        _ if rise.abs() < 1e-9 => "is level".to_string(),
        _ if rise < 0.0 => format!("falls {} backward, away from the drain,", say.length(-rise)),
        _ => format!("falls {} toward the drain", say.length(rise)),
    }
}

fn over(finding: &Finding, say: Say) -> String {
    finding.reach.map(|reach| say.length(reach)).unwrap_or_default()
}

/// ` (1 in 72)`, for what falls the right way.
fn one_in(finding: &Finding) -> String {
    let fall = finding.value.filter(|rise| *rise > 1e-9).zip(finding.reach);
    fall.map(|(rise, reach)| format!(" (1 in {:.0})", reach / rise)).unwrap_or_default()
}

fn short_runs(finding: &Finding, say: Say) -> String {
    let sd = finding.u.map(|u| say.length(u * 2f64.sqrt())).unwrap_or_default();
    let longest = finding.limit.map(|length| format!("; {} would be long enough", say.reach(length)));
    let doubtful = match finding.retake.as_slice() {
        [] => "None stands out".to_string(),
        points => format!("The doubtful ones lie at {}", points.join(", ")),
    };
    format!(
        "{} runs of {} or less, read to ±{sd}, cannot be decided{}. {doubtful}.",
        finding.subject,
        over(finding, say),
        longest.unwrap_or_default()
    )
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map(|first| first.to_uppercase().chain(letters).collect()).unwrap_or_default()
}

fn straightedge(finding: &Finding, say: Say) -> String {
    let bar = finding.reach.map(|reach| say.reach(reach)).unwrap_or_default();
    let subject = &finding.subject;
    match finding.value {
        Some(gap) if Length::mm(gap).at_most(Length::ZERO) => {
            format!("{} {bar} straightedge {subject} shows no gap.", article(&bar))
        }
        Some(gap) => {
            let (gap, place) = (say.length(gap), place(&finding.place, say));
            format!("{} {bar} straightedge {subject} shows {gap} at most, {place}.", article(&bar))
        }
        None => format!(
            "{} {bar} straightedge {subject} is not tested: the readings lie too far apart to tell.",
            article(&bar)
        ),
    }
}

/// `between 0 and 30 in from the door wall`, along whichever way the line runs.
fn stretch(finding: &Finding, say: Say) -> String {
    let Some((from, to)) = finding.place.line else { return "near its end".to_string() };
    let along_y = (from.1 - to.1).abs() >= (from.0 - to.0).abs();
    let (near, far) = if along_y { (from.1, to.1) } else { (from.0, to.0) };
    format!("between {} and {}", say.bare(near), say.length(far))
}

fn governs(finding: &Finding, say: Say) -> String {
    format!(
        "{} governs the height. Slide the rule along it {} and read the smallest number: where is it?",
        finding.subject,
        stretch(finding, say)
    )
}

/// A time as it was written, to the minute, for a reader: `2026-03-14 08:03 (UTC-05:00)`.
pub fn moment(time: &str) -> String {
    let told = || {
        let (day, rest) = time.split_once('T')?;
        let minute = rest.get(..5)?;
        let offset = rest.find(['+', '-', 'Z']).and_then(|at| rest.get(at..))?;
        Some(format!("{day} {minute} (UTC{})", offset.trim_start_matches('Z')))
    };
    told().unwrap_or_else(|| time.to_string())
}

/// Where a rule comes from: `ANSI …, check your edition`, `common practice`, `set by you`.
pub fn source(rule: &RuleRef) -> String {
    match rule.provenance {
        Provenance::Own => "set by you".to_string(),
        Provenance::CommonPractice => "common practice".to_string(),
        Provenance::Derived => "follows by arithmetic".to_string(),
        Provenance::Recalled => format!("{}, recalled, not read: {}", rule.clause, rule.edition),
        Provenance::Read => format!("{}: {}", rule.clause, rule.edition),
    }
}

/// The name of an alternative as a sentence would say it.
pub fn alternative(view: &AlternativeView, say: Say) -> String {
    let hold = view.hold.map(|hold| format!(" at {}", say.bare(hold))).unwrap_or_default();
    match view.name.as_str() {
        "level-nothing-cut" => format!("Level{hold}, nothing cut"),
        "level-dressed" => format!("Level{hold}, dressed where that is allowed"),
        "level-by-approval" => format!("Level{hold}, dressed by approval"),
        "level-sister-high" => format!("Level{hold}, the high joist sistered and its old top cut"),
        "flat-not-level" => "Flat, not level, nothing cut".to_string(),
        _ => format!("Held{hold}"),
    }
}

/// What is done to a joist, as a word.
pub fn action(action: Action) -> &'static str {
    match action {
        Action::Leave => "leave",
        Action::Sheet => "sheet",
        Action::Strip => "strip",
        Action::TallStrip => "tall strip",
        Action::Sister => "sister",
        Action::Dress => "dress",
        Action::DressAndStrip => "dress and strip",
        Action::AskEngineer => "ask an engineer",
    }
}

/// The figure, the limit, where the limit comes from, and what to retake; none where there is nothing to add.
pub fn evidence(finding: &Finding, say: Say) -> Option<String> {
    let say = if finding.kind == FindingKind::SagRatio { say.in_thirty_seconds() } else { say };
    let compared = finding.value.zip(finding.limit);
    let say = compared.map_or(say, |(value, limit)| say.apart(value.abs(), limit));
    let mut parts = Vec::new();
    if let (Some(value), Some(u)) = (finding.value, finding.u) {
        parts.push(say.uncertain(value, u));
    }
    if let Some(limit) = finding.limit {
        parts.push(format!(
            "limit {} ({}, {})",
            say.length(limit),
            source(&finding.rule),
            decision(finding.rule.decision)
        ));
    }
    if let Some(noise) = &finding.noise_alone {
        parts.push(format!(
            "a perfect floor read this way shows {}, one time in twenty {}",
            say.length(noise.mean),
            say.length(noise.p95)
        ));
    }
    if !finding.retake.is_empty() {
        parts.push(format!("retake {}", finding.retake.join(", ")));
    }
    (!parts.is_empty()).then(|| parts.join("; "))
}

/// The decision rule as words.
pub fn decision(decision: Decision) -> &'static str {
    match decision {
        Decision::Guarded => "guarded by the uncertainty",
        Decision::Simple => "simple acceptance",
    }
}

/// What an alternative takes.
pub fn needs(view: &AlternativeView, say: Say) -> String {
    let mut parts =
        vec![counted(view.strips, "strip"), counted(view.sisters, "sister"), counted(view.cuts, "joist cut")];
    let jambs: Vec<String> =
        view.door_rise.iter().map(|rise| rise.map_or("not read".into(), |rise| say.length(rise))).collect();
    if !jambs.is_empty() {
        parts.push(format!("the doorway rises {}", jambs.join(" and ")));
    }
    if view.over_door_budget {
        parts.push("more than the door allows".to_string());
    }
    parts.extend(approval(view).map(str::to_string));
    if view.caution_water {
        parts.push("dry rooms only: spilled water heads for the low side".to_string());
    }
    parts.join(", ")
}

/// What an alternative that waits for an approval still lacks: nothing where nothing is cut.
fn approval(view: &AlternativeView) -> Option<&'static str> {
    let barred = view.joists.iter().any(|work| crate::framing::cutting::barred(view, work));
    match () {
        () if !view.needs_approval => None,
        () if barred => Some("only with a recorded approval"),
        () => (view.cuts > 0).then_some("by the approval on record"),
    }
}

fn counted(count: u32, thing: &str) -> String {
    match (count, thing) {
        (0, _) => format!("no {thing}"),
        (1, _) => format!("1 {thing}"),
        (count, "joist cut") => format!("{count} joists cut"),
        (count, _) => format!("{count} {thing}s"),
    }
}

/// A strip as it is made: `0 to 45 in: 3/8, 1/8 at 30, 1/16`.
pub fn strip(strip: &StripView, say: Say) -> String {
    let last = strip.figures.len().saturating_sub(1);
    let figure = |(k, figure): (usize, &Figure)| match k {
        0 => say.bare(figure.thickness),
        k if k == last => say.bare(figure.thickness),
        _ => format!("{} at {}", say.bare(figure.thickness), say.bare(figure.station)),
    };
    let figures: Vec<String> = strip.figures.iter().enumerate().map(figure).collect();
    if Length::mm(strip.to - strip.from).at_most(Length::ZERO) {
        return format!("a shim at {}: {}", say.length(strip.from), figures.join(", "));
    }
    format!("{} to {}: {}", say.bare(strip.from), say.length(strip.to), figures.join(", "))
}

#[cfg(test)]
mod in_words {
    use super::{Say, moment};
    use crate::forms::{StripView, Units};

    #[test]
    fn a_strip_of_no_length_is_a_shim() {
        let figures = vec![crate::forms::Figure { station: 1524.0, thickness: 1.5875 }];
        let strip = StripView { from: 1524.0, to: 1524.0, figures };
        assert_eq!(super::strip(&strip, Say::new(Units::In)), "a shim at 60 in: 1/16");
    }

    #[test]
    fn a_time_is_told_to_the_minute_with_its_offset() {
        assert_eq!(moment("2026-03-14T08:03:00-05:00"), "2026-03-14 08:03 (UTC-05:00)");
        assert_eq!(moment("2026-03-14T08:03:00.25+01:00"), "2026-03-14 08:03 (UTC+01:00)");
        assert_eq!(moment("2026-03-14T08:03:00Z"), "2026-03-14 08:03 (UTC)");
        assert_eq!(moment("some day"), "some day");
    }
}
