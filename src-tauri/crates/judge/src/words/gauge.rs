//! What the gauges found under the bar, in sentences.

use super::phrases::{article, place};
use super::say::Say;
use crate::forms::{Finding, Verdict, Walked};
use survey::units::Length;

/// The straightedge walk in one sentence.
pub(super) fn headline(walk: &Walked) -> String {
    let Walked { verdict, gauged, places, out } = walk;
    match verdict {
        Verdict::Within => format!("Flat by the gauge in all {places} places of the bar."),
        Verdict::Out => format!("Not flat by the gauge: {} of {places} places of the bar.", out.max(&1)),
        Verdict::TooCloseToCall => "Too close to call by the gauge.".to_string(),
        Verdict::NotTested => format!("The gauge was tried in {gauged} of {places} places of the bar."),
    }
}

/// The gap that a gauge found; none where not even the thinnest went under.
pub(super) fn finding(finding: &Finding, say: Say) -> String {
    let bar = finding.reach.map(|reach| say.reach(reach)).unwrap_or_default();
    let (gap, place) = (finding.value.unwrap_or_default(), place(&finding.place, say));
    if Length::mm(gap).at_most(Length::ZERO) {
        return format!(
            "By the gauge: nothing goes under the bar, {} {bar} one at {place} included.",
            article(&bar).to_lowercase()
        );
    }
    format!(
        "By the gauge: {} goes under {} {bar} straightedge, {place}.",
        say.length(gap),
        article(&bar).to_lowercase()
    )
}
