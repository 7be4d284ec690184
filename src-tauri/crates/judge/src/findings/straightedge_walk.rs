//! The straightedge walk of a survey: where the heights say to lay the bar, and what the gauges found there.

use crate::forms::refusal::{Kind, Refusal};
use crate::forms::*;
use crate::room::current_readings;
use crate::room::from_walls::from_walls;
use crate::room::point_heights::heights;
use crate::room::rules::{Figures, LengthId};
use crate::room::surveys::survey_named;
use crate::room::verdict;
use survey::straightedge::walk::{self, Way};
use survey::units::{Estimate, INCH_MM, Length};
use survey::verdict::Maximum;

/// The gauges that are tried first: none, 1/16, 3/32, 1/8, 3/16; and their metric kin.
const INCH_GAUGES: [f64; 5] = [0.0, INCH_MM / 16.0, INCH_MM * 3.0 / 32.0, INCH_MM / 8.0, INCH_MM * 3.0 / 16.0];
const MM_GAUGES: [f64; 5] = [0.0, 1.0, 2.0, 3.0, 5.0];

/// Larger ones: 1/4 to 1 by the eighth; 7 to 25 mm.
const INCH_LARGER: [f64; 7] = [2.0, 3.0, 4.0, 5.0, 6.0, 7.0, 8.0];
const MM_LARGER: [f64; 7] = [7.0, 8.0, 10.0, 12.0, 15.0, 20.0, 25.0];

/// The note of a reading under a bar that rocked.
const ROCKED: &str = "rocks";

/// Two ends this close, mm, are the same.
const SAME_END: f64 = 1.0;

/// Whether a gauge was tried on a survey at all.
pub fn is_begun(file: &RoomFile, survey: &Survey) -> bool {
    let figures = Figures::of(&file.rules);
    rules(survey, &figures).is_ok_and(|rules| Walking { file, survey, figures, rules }.gaps().next().is_some())
}

/// Where to lay the straightedge on a survey, and what was found there.
///
/// # Errors
/// `not-found` for an unknown survey; `not-ready` where too little was read, or the floor slopes to a drain.
pub fn straightedge_walk(file: &RoomFile, survey: Option<&str>) -> Result<StraightedgeWalk, Refusal> {
    let survey = survey_named(file, survey)?;
    let figures = Figures::of(&file.rules);
    let rules = rules(survey, &figures)?;
    let walking = Walking { file, survey, figures, rules };
    let mut placements = walking.proposed();
    if placements.is_empty() {
        return Err(Refusal::new(
            Kind::NotReady,
            "Read at least three points in two rows first: they say where to lay it.",
        ));
    }
    let inches = file.room.units == Units::In;
    let elsewhere = walking.elsewhere(&placements);
    placements.extend(elsewhere);
    Ok(StraightedgeWalk {
        survey: survey.id.clone(),
        verdict: walking.verdict(&placements),
        gauged: placements.iter().filter(|placement| placement.gauged.is_some()).count() as u32,
        placements,
        gauges: if inches { INCH_GAUGES.to_vec() } else { MM_GAUGES.to_vec() },
        larger: if inches { INCH_LARGER.map(|eighths| eighths * INCH_MM / 8.0).to_vec() } else { MM_LARGER.to_vec() },
        sd_mm: walking.figures.length(LengthId::GapSd).to_mm(),
    })
}

/// The rules of the long and of the short bar.
fn rules(survey: &Survey, figures: &Figures) -> Result<[LengthId; 2], Refusal> {
    figures
        .straightedges(survey.surface)
        .ok_or_else(|| Refusal::new(Kind::NotReady, "This floor is to fall: its runs are judged, not its flatness."))
}

struct Walking<'f> {
    file: &'f RoomFile,
    survey: &'f Survey,
    figures: Figures,
    rules: [LengthId; 2],
}

impl Walking<'_> {
    /// The places that the heights point to.
    fn proposed(&self) -> Vec<Placement> {
        let heights = heights(self.file, &self.survey.id);
        let points: Vec<survey::Point> = heights.iter().map(|height| height.at()).collect();
        let [long, short] = self.rules.map(|rule| self.figures.reach(rule));
        let named = |place: walk::Placement| {
            let from = heights.get(place.from)?.point;
            Some(self.placement(&place, from))
        };
        walk::walk(&points, long, short).into_iter().filter_map(named).collect()
    }

    fn placement(&self, place: &walk::Placement, point: &PlanPoint) -> Placement {
        let to = (place.to.x.to_mm(), place.to.y.to_mm());
        let low = (place.lowest_at.x.to_mm(), place.lowest_at.y.to_mm());
        let laid = self.laid(point, to, place.bar.to_mm());
        Placement {
            way: self.way(place.way),
            expected: place.expected.map(Length::to_mm),
            lowest_at: low,
            lowest_walls: from_walls(&self.file.plan, low),
            rocks: place.rocks,
            ..laid
        }
    }

    /// A bar from a point to a place, with what a gauge found under it.
    fn laid(&self, point: &PlanPoint, to: (f64, f64), bar: f64) -> Placement {
        let from = (point.x, point.y);
        let middle = ((from.0 + to.0) / 2.0, (from.1 + to.1) / 2.0);
        let rule = self.rule(bar);
        let limit = self.figures.length(rule);
        let reading = self.gaps().filter(|gap| gap.point == point.id && is_end(gap, to) && is_bar(gap, bar)).last();
        Placement {
            way: self.way_of(from, to),
            point: point.id.clone(),
            from,
            to,
            from_walls: from_walls(&self.file.plan, from),
            to_walls: from_walls(&self.file.plan, to),
            span: (to.0 - from.0).hypot(to.1 - from.1),
            bar,
            limit: limit.to_mm(),
            rule: self.figures.name(rule),
            expected: None,
            lowest_at: middle,
            lowest_walls: from_walls(&self.file.plan, middle),
            rocks: false,
            gauged: reading.map(|reading| self.gauged(reading, limit)),
        }
    }

    /// The rule whose bar this is: the long one's, unless it is nearer to the short one.
    fn rule(&self, bar: f64) -> LengthId {
        let [long, short] = self.rules;
        let away = |rule: LengthId| (self.figures.reach(rule).to_mm() - bar).abs();
        if away(short) < away(long) { short } else { long }
    }

    /// The gaps read on points of this survey.
    fn gaps(&self) -> impl Iterator<Item = &Reading> {
        let of_survey = |id: &str| self.file.plan.points.iter().any(|at| at.id == id && at.survey == self.survey.id);
        current_readings(self.file).filter(move |reading| reading.sense == Sense::Gap && of_survey(&reading.point))
    }

    /// Where a gauge was tried besides the places proposed.
    fn elsewhere(&self, proposed: &[Placement]) -> Vec<Placement> {
        let known = |gap: &&Reading| {
            !proposed.iter().any(|place| place.gauged.as_ref().is_some_and(|gauged| gauged.reading == gap.id))
        };
        let mut all: Vec<Placement> = Vec::new();
        for gap in self.gaps().filter(known) {
            let (Some(to), Some(bar)) = (gap.to, gap.length) else { continue };
            let Some(point) = self.file.plan.points.iter().find(|point| point.id == gap.point) else { continue };
            let place = self.laid(point, to, bar);
            if place.gauged.as_ref().is_some_and(|gauged| gauged.reading == gap.id) {
                all.push(place);
            }
        }
        all
    }

    fn gauged(&self, reading: &Reading, limit: Length) -> Gauged {
        let value = Estimate::new(Length::mm(reading.value), Length::mm(reading.sd_mm));
        let (verdict, probability) = verdict::at_most(&self.figures, value, limit);
        Gauged {
            reading: reading.id.clone(),
            entered: reading.entered.clone(),
            value: reading.value,
            u: reading.sd_mm,
            rocked: reading.note.as_deref() == Some(ROCKED),
            verdict,
            probability,
        }
    }

    /// What the gauges say of the whole: the largest of many gaps, so it is judged as a maximum. Within only when every
    /// place proposed was gauged.
    fn verdict(&self, placements: &[Placement]) -> Verdict {
        let all = placements.iter().all(|place| place.gauged.is_some());
        // Each bar has its own limit: what is judged is how far a gap stands above it.
        let mut most = Maximum::against(Length::ZERO);
        for (place, gauged) in placements.iter().filter_map(|place| Some((place, place.gauged.as_ref()?))) {
            most.judged(Estimate::new(Length::mm(gauged.value - place.limit), Length::mm(gauged.u)), ());
        }
        match verdict::of_maximum(&self.figures, &most) {
            Verdict::Within if !all => Verdict::NotTested,
            verdict => verdict,
        }
    }

    /// The way of a bar as the room's joists, or its base wall, have it.
    fn way(&self, way: Way) -> BarWay {
        let along = self.along();
        match way {
            Way::Rising => BarWay::Rising,
            Way::Falling => BarWay::Falling,
            Way::X if along == Axis::X => BarWay::Along,
            Way::Y if along == Axis::Y => BarWay::Along,
            Way::X | Way::Y => BarWay::Across,
        }
    }

    fn along(&self) -> Axis {
        if self.survey.surface == Surface::Framing { self.file.plan.joists_along } else { Axis::Y }
    }

    fn way_of(&self, from: (f64, f64), to: (f64, f64)) -> BarWay {
        let (dx, dy) = (to.0 - from.0, to.1 - from.1);
        let way = match () {
            () if dy.abs() < SAME_END => Way::X,
            () if dx.abs() < SAME_END => Way::Y,
            () if dx * dy > 0.0 => Way::Rising,
            () => Way::Falling,
        };
        self.way(way)
    }
}

fn is_end(gap: &Reading, to: (f64, f64)) -> bool {
    gap.to.is_some_and(|end| (end.0 - to.0).hypot(end.1 - to.1) <= SAME_END)
}

fn is_bar(gap: &Reading, bar: f64) -> bool {
    gap.length.is_some_and(|length| (length - bar).abs() <= SAME_END)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn kestrel() -> RoomFile {
        crate::demo("kestrel").expect("the demo room")
    }

    fn gauge(file: &mut RoomFile, place: &Placement, value: f64) {
        let sd_mm = Figures::of(&file.rules).length(LengthId::GapSd).to_mm();
        let reading = Reading {
            id: format!("gap-{}", file.readings.len()),
            setup: String::new(),
            point: place.point.clone(),
            sense: Sense::Gap,
            entered: String::new(),
            value,
            sd_mm,
            source: "typed".into(),
            at: "2031-04-02T07:31:05-05:00".into(),
            by: None,
            edge: None,
            length: Some(place.bar),
            to: Some(place.to),
            note: None,
            supersedes: None,
            from: None,
            withdrawn: false,
        };
        file.readings.push(reading);
    }

    #[test]
    fn the_hall_bath_is_walked_in_six_to_ten_places() {
        let walk = straightedge_walk(&kestrel(), None).expect("a walk");
        assert!((6..=10).contains(&walk.placements.len()), "{}", walk.placements.len());
        let ways: Vec<BarWay> = walk.placements.iter().map(|place| place.way).collect();
        for way in [BarWay::Along, BarWay::Across, BarWay::Rising, BarWay::Falling] {
            assert!(ways.contains(&way), "{way:?} is missing in {ways:?}");
        }
        assert_eq!((walk.verdict, walk.gauged), (Verdict::NotTested, 0));
        // The worst bar across at 60 rests on J4 and J7 and shows two thirds of an inch, 11/16 on a tape.
        let across = walk.placements.iter().filter(|place| place.way == BarWay::Across);
        let most = across.filter_map(|place| place.expected).fold(0.0, f64::max);
        assert!((most - INCH_MM * 2.0 / 3.0).abs() < 1e-6, "{most}");
    }

    #[test]
    fn the_gauges_decide() {
        let check = |gap: f64, expected: Verdict| {
            let mut file = kestrel();
            for place in straightedge_walk(&file, None).expect("a walk").placements {
                gauge(&mut file, &place, gap);
            }
            let walk = straightedge_walk(&file, None).expect("a walk");
            assert_eq!(walk.gauged as usize, walk.placements.len());
            assert_eq!(walk.verdict, expected, "{gap}");
        };
        check(0.0, Verdict::Within);
        check(INCH_MM / 16.0, Verdict::TooCloseToCall);
        check(INCH_MM * 3.0 / 8.0, Verdict::Out);
    }

    #[test]
    fn gauges_are_judged_by_the_uncertainty_that_the_room_gives_them() {
        let check = |sd: Option<f64>, expected: Verdict| {
            let mut file = kestrel();
            file.rules.changed.extend(sd.map(|sd| ("gap-sd".to_string(), sd)));
            for place in straightedge_walk(&file, None).expect("a walk").placements {
                gauge(&mut file, &place, INCH_MM / 32.0);
            }
            let walk = straightedge_walk(&file, None).expect("a walk");
            assert!((walk.sd_mm - sd.unwrap_or(INCH_MM / 64.0)).abs() < 1e-12, "{}", walk.sd_mm);
            assert_eq!(walk.verdict, expected, "{sd:?}");
        };
        check(None, Verdict::Within);
        check(Some(INCH_MM / 16.0), Verdict::TooCloseToCall);
    }

    #[test]
    fn one_place_out_is_enough_and_one_within_is_not() {
        let mut file = kestrel();
        let places = straightedge_walk(&file, None).expect("a walk").placements;
        let long = places.iter().find(|place| place.bar > 2000.0).expect("a long bar");
        gauge(&mut file, long, 0.0);
        assert_eq!(straightedge_walk(&file, None).expect("a walk").verdict, Verdict::NotTested);
        gauge(&mut file, places.last().expect("a place"), 20.0);
        assert_eq!(straightedge_walk(&file, None).expect("a walk").verdict, Verdict::Out);
    }

    #[test]
    fn a_bar_laid_elsewhere_is_kept_and_judged() {
        let mut file = kestrel();
        let place = straightedge_walk(&file, None).expect("a walk").placements.remove(0);
        let mut other = place.clone();
        other.to = (place.to.0 - 57.0, place.to.1);
        gauge(&mut file, &other, 12.0);
        let walk = straightedge_walk(&file, None).expect("a walk");
        let found = walk.placements.last().expect("a place");
        assert!((found.to.0 - other.to.0).abs() < 1e-9 && found.gauged.is_some());
    }

    #[test]
    fn a_floor_that_falls_has_no_walk() {
        let refused = straightedge_walk(&crate::demo("banksia").expect("the demo room"), None);
        assert!(refused.is_err() || refused.is_ok_and(|walk| walk.placements.len() <= 10));
    }
}
