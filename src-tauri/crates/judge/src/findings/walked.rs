//! What the gauges found under the bar: the heights find the places, the gauge decides.

use super::judging::{Judging, plain};
use crate::findings::straightedge_walk::{is_begun, straightedge_walk};
use crate::forms::*;

/// The walk with the straightedge, once a gauge was tried.
pub(super) fn walk(judging: &Judging<'_>) -> Option<StraightedgeWalk> {
    if !is_begun(judging.file, judging.survey) {
        return None;
    }
    straightedge_walk(judging.file, Some(&judging.survey.id)).ok().filter(|walk| walk.gauged > 0)
}

/// The walk in short.
pub(super) fn short(walk: &StraightedgeWalk) -> Walked {
    let out = gauged(walk).filter(|(_, gauged)| gauged.verdict == Verdict::Out).count();
    Walked { verdict: walk.verdict, gauged: walk.gauged, places: walk.placements.len() as u32, out: out as u32 }
}

/// The gap that stands highest over its limit, with the verdict of the whole walk.
pub(super) fn finding(judging: &Judging<'_>, walk: &StraightedgeWalk) -> Option<Finding> {
    let over = |(place, gauged): &(&Placement, &Gauged)| gauged.value - place.limit;
    let (place, worst) = gauged(walk).max_by(|a, b| over(a).total_cmp(&over(b)))?;
    let close = gauged(walk).filter(|(_, gauged)| gauged.verdict == Verdict::TooCloseToCall);
    let retake = || close.map(|(place, _)| place.point.clone()).collect();
    let at = judging.along(place.from, place.to);
    Some(Finding {
        place: at,
        value: Some(worst.value),
        u: Some(worst.u),
        limit: Some(place.limit),
        reach: Some(place.bar),
        retake: if walk.verdict == Verdict::TooCloseToCall { retake() } else { Vec::new() },
        ..plain(FindingKind::StraightedgeWalk, &place.point, place.rule.clone(), walk.verdict)
    })
}

fn gauged(walk: &StraightedgeWalk) -> impl Iterator<Item = (&Placement, &Gauged)> {
    walk.placements.iter().filter_map(|place| Some((place, place.gauged.as_ref()?)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::findings::findings;

    /// The hall bath with a gauge of `mm` under the bar in so many of its places.
    fn gauged_with(mm: f64, places: usize) -> (RoomFile, usize) {
        let mut file = crate::demo("kestrel").expect("the demo room");
        let walk = straightedge_walk(&file, None).expect("a walk");
        for place in walk.placements.iter().take(places) {
            let like = file.readings.first().cloned().expect("a reading");
            file.readings.push(Reading {
                id: format!("gap-{}", file.readings.len()),
                setup: String::new(),
                point: place.point.clone(),
                sense: Sense::Gap,
                entered: format!("{mm}"),
                value: mm,
                sd_mm: walk.sd_mm,
                length: Some(place.bar),
                to: Some(place.to),
                ..like
            });
        }
        (file, walk.placements.len())
    }

    #[test]
    fn no_gauge_no_word_of_it() {
        let (file, _) = gauged_with(0.0, 0);
        let view = findings(&file, None).expect("findings");
        assert_eq!(view.headline.walk, None);
        assert!(view.findings.iter().all(|finding| finding.kind != FindingKind::StraightedgeWalk));
    }

    #[test]
    fn the_walk_stands_first_and_its_verdict_is_told() {
        for (mm, places, expected) in
            [(0.0, usize::MAX, Verdict::Within), (25.0, 1, Verdict::Out), (0.0, 2, Verdict::NotTested)]
        {
            let (file, all) = gauged_with(mm, places);
            let view = findings(&file, None).expect("findings");
            let first = view.findings.first().expect("a finding");
            assert_eq!((first.kind, first.verdict), (FindingKind::StraightedgeWalk, expected), "{mm}");
            assert_eq!(first.value, Some(mm));
            let walk = view.headline.walk.expect("a walk");
            assert_eq!((walk.verdict, walk.gauged as usize), (expected, places.min(all)));
            assert_eq!(walk.out > 0, expected == Verdict::Out);
        }
    }

    #[test]
    fn where_the_gauges_say_flat_the_heights_alone_do_not_say_otherwise() {
        let (mut file, _) = gauged_with(0.0, usize::MAX);
        file.plan.surveys.iter_mut().for_each(|survey| survey.surface = Surface::Floor);
        let before = findings(&crate::demo("kestrel").expect("the demo room"), None).expect("findings");
        assert_eq!(before.headline.verdict, Verdict::Out);
        // The places are those of a floor now, so the gauges of the joists lie where they lay.
        let walk = straightedge_walk(&file, None).expect("a walk");
        for place in walk.placements.iter().filter(|place| place.gauged.is_none()) {
            let like = file.readings.last().cloned().expect("a gap");
            let id = format!("gap-{}", file.readings.len());
            let (point, to, length) = (place.point.clone(), Some(place.to), Some(place.bar));
            file.readings.push(Reading { id, point, to, length, ..like });
        }
        let after = findings(&file, None).expect("findings");
        assert_eq!(after.headline.walk.map(|walk| walk.verdict), Some(Verdict::Within));
        assert_eq!(after.headline.verdict, Verdict::Within);
    }
}
