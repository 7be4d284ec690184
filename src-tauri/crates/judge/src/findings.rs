//! What the readings of a room say: judged, placed, and put in order.

mod closing;
mod fall;
mod framing;
mod headline;
mod judging;
mod lines;
mod map;
mod noise;
mod ponds;
pub mod straightedge_walk;
mod straightedges;
mod walked;

use crate::forms::refusal::Refusal;
use crate::forms::*;
use crate::room::closing::error;
use crate::room::surveys::survey_named;
use judging::Judging;
use noise::Noise;

/// The findings of a survey of a room.
///
/// # Errors
/// `not-found` for an unknown survey, `not-ready` for a room without any.
pub fn findings(file: &RoomFile, survey: Option<&str>) -> Result<FindingsView, Refusal> {
    judged(file, survey, Noise::Drawn)
}

/// The findings of the survey in hand, without what noise alone would show.
///
/// # Errors
/// As [`findings`].
pub fn at_once(file: &RoomFile, survey: Option<&str>) -> Result<FindingsView, Refusal> {
    judged(file, survey, Noise::LeftOut)
}

/// What noise alone would show under the bar that shows most, and which bar that is; none where nothing is read.
///
/// # Errors
/// As [`findings`].
pub fn noise_alone(file: &RoomFile, survey: Option<&str>) -> Result<Option<NoiseUnderBar>, Refusal> {
    let judging = Judging::of(file, survey_named(file, survey)?, Noise::Drawn);
    let lines = lines::lines(&judging);
    let rules = judging.figures.straightedges(judging.survey.surface);
    let bars = straightedges::lay(&judging, &lines, rules.as_slice().as_flattened());
    let shown = straightedges::findings(&judging, &lines, &bars);
    Ok(shown.into_iter().find_map(under_bar))
}

fn under_bar(finding: Finding) -> Option<NoiseUnderBar> {
    let (reach, noise_alone) = (finding.reach?, finding.noise_alone?);
    Some(NoiseUnderBar { kind: finding.kind, subject: finding.subject, reach, noise_alone })
}

fn judged(file: &RoomFile, survey: Option<&str>, noise: Noise) -> Result<FindingsView, Refusal> {
    Ok(view(&Judging::of(file, survey_named(file, survey)?, noise)))
}

fn view(judging: &Judging<'_>) -> FindingsView {
    let lines = lines::lines(judging);
    let rules = judging.figures.straightedges(judging.survey.surface);
    let bars = straightedges::lay(judging, &lines, rules.as_slice().as_flattened());
    let mut findings = closing::findings(judging);
    findings.extend(straightedges::findings(judging, &lines, &bars));
    let mut problems = Vec::new();
    if judging.survey.surface == Surface::Framing {
        let (of_joists, of_data) = framing::findings(judging);
        findings.extend(of_joists);
        problems = of_data;
    }
    if judging.survey.surface == Surface::Fall {
        let (ponds, of_water) = ponds::findings(judging);
        findings.extend(ponds);
        findings.extend(fall::findings(judging, &lines));
        problems.extend(of_water);
    }
    let walk = walked::walk(judging);
    findings.extend(walk.as_ref().and_then(|walk| walked::finding(judging, walk)));
    findings.sort_by_key(urgency);
    let headline = headline::headline(judging, &findings, walk.as_ref().map(walked::short));
    let bar = straightedges::worst(&bars).and_then(|bar| bar.on_plan(&lines));
    let map = map::map(judging, &findings, bar);
    FindingsView {
        survey: judging.survey.id.clone(),
        headline,
        map,
        profiles: straightedges::profiles(&lines, &bars),
        findings,
        problems,
        method: method(judging),
    }
}

fn method(judging: &Judging<'_>) -> Method {
    let setups: Vec<&Setup> = judging.setups().collect();
    let closing = setups.iter().filter_map(|setup| error(setup)).map(f64::abs).reduce(f64::max);
    Method { straightedge: "supported".to_string(), setups: setups.len() as u32, sd_mm: judging.sd.to_mm(), closing }
}

/// The ways of a survey to the drain: the points of each, the nearest to the drain first.
pub fn ways_to_drain(file: &RoomFile, survey: &Survey) -> Vec<Vec<String>> {
    let judging = Judging::of(file, survey, Noise::LeftOut);
    let lines = lines::lines(&judging);
    fall::ways_by_point(&judging, &lines)
}

/// The gauges stand before all heights; then what is out, what is open, what was not tested, and what is well.
fn urgency(finding: &Finding) -> (bool, u8, u8) {
    let verdict = match finding.verdict {
        Verdict::Out => 0,
        Verdict::TooCloseToCall => 1,
        Verdict::NotTested => 2,
        Verdict::Within => 3,
    };
    let kind = match finding.kind {
        FindingKind::StraightedgeWalk | FindingKind::SharpDrop => 0,
        FindingKind::SagRatio | FindingKind::Pond => 1,
        FindingKind::OfTheRest | FindingKind::FallRun => 2,
        FindingKind::StraightedgeAcross | FindingKind::StraightedgeAlong => 3,
        FindingKind::CrownOrSag | FindingKind::FallRow => 4,
        FindingKind::Governs | FindingKind::FallShort => 5,
        FindingKind::Blunder => 6,
        FindingKind::NotLookedAt => 7,
        FindingKind::OutOfLevel | FindingKind::Twist => 8,
        FindingKind::Closing => 9,
    };
    (finding.kind != FindingKind::StraightedgeWalk, verdict, kind)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn noise_alone_is_what_the_findings_draw_and_is_left_out_at_once() {
        let drawn = |view: FindingsView| view.findings.into_iter().find_map(under_bar);
        for name in ["kestrel", "banksia"] {
            let file = crate::demo(name).expect("the demo room");
            let shown = drawn(findings(&file, None).expect("findings"));
            assert_eq!(noise_alone(&file, None).expect("an answer"), shown, "{name}");
            assert_eq!(drawn(at_once(&file, None).expect("findings")), None, "{name}");
            assert_eq!(shown.is_some(), name == "kestrel", "no bar is laid on a floor that slopes to a drain");
        }
    }
}
