//! Walks with a tilting foot: the heights along them, and how well they close.

use crate::forms::refusal::Refusal;
use crate::forms::*;
use crate::room::current_readings;
use crate::room::from_walls::from_walls;
use crate::room::point_heights::heights;
use crate::room::surveys::survey_named;
use survey::tilt_walk;
use survey::units::{Length, Slope};

/// The note of a reading made on the way back.
const BACK: &str = "back";

/// A rest this close to a point, mm, stands on it.
const ON_POINT: f64 = 10.0;

/// The walks with a tilting foot that were made in a survey, the last one first.
///
/// # Errors
/// `not-found` for an unknown survey.
pub fn tilt_walks(file: &RoomFile, survey: Option<&str>) -> Result<TiltWalks, Refusal> {
    let survey = survey_named(file, survey)?;
    let of_survey = |id: &str| file.plan.points.iter().find(|at| at.id == id && at.survey == survey.id);
    let mut all: Vec<Walked<'_>> = Vec::new();
    for reading in current_readings(file).filter(|reading| reading.sense == Sense::Tilt) {
        let (Some(from), Some(foot), Some(to)) = (of_survey(&reading.point), reading.length, reading.to) else {
            continue;
        };
        let step = Step { reading, foot, to };
        match all.iter_mut().find(|walk| walk.takes(from, &step)) {
            Some(walk) => walk.steps.push(step),
            None => all.push(Walked { file, from, steps: vec![step] }),
        }
    }
    let mut walks: Vec<(String, TiltWalk)> = all.iter().filter_map(|walk| walk.told(&survey.id)).collect();
    walks.sort_by(|a, b| b.0.cmp(&a.0));
    Ok(TiltWalks { survey: survey.id.clone(), walks: walks.into_iter().map(|(_, walk)| walk).collect() })
}

/// One tilt and where the far rest of the foot stood.
struct Step<'f> {
    reading: &'f Reading,
    foot: f64,
    to: (f64, f64),
}

impl Step<'_> {
    fn is_back(&self) -> bool {
        self.reading.note.as_deref() == Some(BACK)
    }
}

/// The tilts read from one point in one direction with one foot.
struct Walked<'f> {
    file: &'f RoomFile,
    from: &'f PlanPoint,
    steps: Vec<Step<'f>>,
}

impl Walked<'_> {
    /// Whether a step belongs to this walk. The last one back ends at the start and so has no direction.
    fn takes(&self, from: &PlanPoint, step: &Step<'_>) -> bool {
        let own = self.steps.first().is_some_and(|first| (first.foot - step.foot).abs() < 0.5);
        own && from.id == self.from.id && self.along().is_some_and(|along| self.is_on(along, step.to))
    }

    /// The direction of the walk as a unit vector.
    fn along(&self) -> Option<(f64, f64)> {
        let away = |step: &Step<'_>| (step.to.0 - self.from.x, step.to.1 - self.from.y);
        let (x, y) = self.steps.iter().map(away).max_by(|a, b| a.0.hypot(a.1).total_cmp(&b.0.hypot(b.1)))?;
        let far = x.hypot(y);
        (far > 1.0).then(|| (x / far, y / far))
    }

    fn is_on(&self, along: (f64, f64), to: (f64, f64)) -> bool {
        let (x, y) = (to.0 - self.from.x, to.1 - self.from.y);
        let (far, aside) = (x * along.0 + y * along.1, x * along.1 - y * along.0);
        far > -1.0 && aside.abs() <= ON_POINT
    }

    /// The tilts on and back, each in the direction it was walked in, up to the first that is missing.
    fn tilts(&self, foot: f64) -> (Vec<Slope>, Vec<Slope>) {
        let station = |step: &Step<'_>| {
            let far = (step.to.0 - self.from.x).hypot(step.to.1 - self.from.y);
            (far / foot).round() as usize
        };
        let at = |back: bool, k: usize| {
            let mut here = self.steps.iter().filter(|step| step.is_back() == back && station(step) == k);
            here.next_back().map(|step| Slope::ratio(step.reading.value))
        };
        let on: Vec<Slope> = (1..=self.steps.len()).map_while(|k| at(false, k)).collect();
        let back: Vec<Slope> = (0..on.len()).rev().map_while(|k| at(true, k)).collect();
        (on, back)
    }

    /// The walk as it is told, with the time of its last reading.
    fn told(&self, survey: &str) -> Option<(String, TiltWalk)> {
        let foot = self.steps.first()?.foot;
        let along = self.along()?;
        let (on, back) = self.tilts(foot);
        let last = self.steps.iter().max_by(|a, b| a.reading.at.cmp(&b.reading.at))?.reading;
        let known = heights(self.file, survey);
        let place = |k: usize| {
            let walked = foot * k as f64;
            (self.from.x + along.0 * walked, self.from.y + along.1 * walked)
        };
        let height_at = |(x, y): (f64, f64)| {
            known.iter().find(|one| (one.point.x - x).hypot(one.point.y - y) <= ON_POINT).map(|one| one.z)
        };
        let start = height_at(place(0));
        let rise = start.and_then(|start| Some(height_at(place(on.len()))? - start)).filter(|_| !on.is_empty());
        let foot_sd = self.steps.first()?.reading.sd_mm;
        let closed = Closing { foot: Length::mm(foot), sd: Length::mm(foot_sd), on: &on, back: &back, rise }.closed();
        let station = |(k, (z, u)): (usize, (Length, Length))| TiltStation {
            at: place(k),
            from_walls: from_walls(&self.file.plan, place(k)),
            s: foot * k as f64,
            z: z.to_mm(),
            u: u.to_mm(),
        };
        let walk = TiltWalk {
            from: self.from.id.clone(),
            start: start.map(Length::to_mm),
            foot,
            steps: on.len() as u32,
            back: back.len() as u32,
            stations: closed.heights.into_iter().enumerate().map(station).collect(),
            closed_on: closed.on,
            error: closed.error.map(|(error, _)| error.to_mm()),
            limit: closed.error.map(|(_, limit)| limit.to_mm()),
            closes: closed.error.map_or(Verdict::NotTested, |(error, limit)| {
                if error.abs().at_most(limit) { Verdict::Within } else { Verdict::Out }
            }),
            last: last.id.clone(),
        };
        Some((last.at.clone(), walk))
    }
}

/// What closes a walk, and the heights that come of it.
struct Closing<'t> {
    foot: Length,
    /// Of the rise over one foot.
    sd: Length,
    on: &'t [Slope],
    back: &'t [Slope],
    /// The rise from the start to the last rest, where both heights are known.
    rise: Option<Length>,
}

struct Closed {
    heights: Vec<(Length, Length)>,
    on: Option<ClosedOn>,
    error: Option<(Length, Length)>,
}

impl Closing<'_> {
    fn closed(&self) -> Closed {
        match self.rise {
            _ if !self.back.is_empty() && self.back.len() == self.on.len() => self.there_and_back(),
            Some(rise) => self.to_point(rise),
            None => self.open(),
        }
    }

    /// Nothing closes it: the uncertainty grows with the root of the steps.
    fn open(&self) -> Closed {
        let heights = self.walked(self.on);
        let u = |k: usize| self.sd * (k as f64).sqrt();
        Closed { heights: heights.into_iter().enumerate().map(|(k, z)| (z, u(k))).collect(), on: None, error: None }
    }

    /// What is left at the end is shared out evenly, and both ends are held.
    fn to_point(&self, rise: Length) -> Closed {
        let n = self.on.len();
        let walk = self.evened(self.on, rise);
        let u = |k: usize| self.sd * (k as f64 * (n - k.min(n)) as f64 / n.max(1) as f64).sqrt();
        let heights = walk.heights.into_iter().enumerate().map(|(k, z)| (z, u(k))).collect();
        Closed { heights, on: Some(ClosedOn::Point), error: Some((walk.misclosure.error, walk.misclosure.limit)) }
    }

    /// There and back is a loop; each rest was passed twice, so its height is the mean of both.
    fn there_and_back(&self) -> Closed {
        let all: Vec<Slope> = self.on.iter().chain(self.back).copied().collect();
        let walk = self.evened(&all, Length::ZERO);
        let n = self.on.len();
        let at = |k: usize| walk.heights.get(k).copied().unwrap_or_default();
        // Of a closed walk the heights at k and 2n - k vary together: their mean has the variance of k / 2 steps.
        let heights = (0..=n).map(|k| ((at(k) + at(2 * n - k)) * 0.5, self.sd * (k as f64 / 2.0).sqrt())).collect();
        Closed { heights, on: Some(ClosedOn::Start), error: Some((walk.misclosure.error, walk.misclosure.limit)) }
    }

    fn walked(&self, tilts: &[Slope]) -> Vec<Length> {
        tilt_walk::heights(self.foot, &angles(tilts))
    }

    fn evened(&self, tilts: &[Slope], rise: Length) -> tilt_walk::Closed {
        let sd = Slope::ratio(self.sd.ratio_to(self.foot).to_f64()).to_angle();
        tilt_walk::closed(self.foot, &angles(tilts), rise, sd)
    }
}

fn angles(tilts: &[Slope]) -> Vec<survey::units::Angle> {
    tilts.iter().map(|tilt| tilt.to_angle()).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    const FOOT: f64 = 30.0 * 25.4;

    /// The hall bath with tilts read along J1 from its near end: rises over the foot in mm, on and back.
    fn walked(on: &[f64], back: &[f64]) -> RoomFile {
        let mut file = crate::demo("kestrel").expect("the demo room");
        let start = file.plan.points.iter().find(|point| point.id == "J1@0").cloned().expect("a point");
        let like = file.readings.first().cloned().expect("a reading");
        let mut step = |k: usize, rise: f64, note: Option<&str>| {
            let id = format!("tilt-{}", file.readings.len());
            let at = format!("2031-04-02T08:{:02}:00-05:00", file.readings.len());
            file.readings.push(Reading {
                id,
                at,
                setup: String::new(),
                point: "J1@0".into(),
                sense: Sense::Tilt,
                entered: format!("{rise}"),
                value: rise / FOOT,
                sd_mm: 0.5,
                length: Some(FOOT),
                to: Some((start.x, start.y + FOOT * k as f64)),
                note: note.map(str::to_string),
                ..like.clone()
            });
        };
        on.iter().enumerate().for_each(|(k, &rise)| step(k + 1, rise, None));
        let far = on.len();
        back.iter().enumerate().for_each(|(k, &rise)| step(far - k - 1, rise, Some(BACK)));
        file
    }

    fn told(on: &[f64], back: &[f64]) -> TiltWalk {
        tilt_walks(&walked(on, back), None).expect("walks").walks.into_iter().next().expect("a walk")
    }

    fn z(walk: &TiltWalk) -> Vec<f64> {
        walk.stations.iter().map(|station| (station.z * 1e6).round() / 1e6).collect()
    }

    #[test]
    fn no_tilt_no_walk() {
        assert!(tilt_walks(&walked(&[], &[]), None).expect("walks").walks.is_empty());
    }

    #[test]
    fn a_walk_to_a_known_point_closes_on_it() {
        // J1 lies level from 0 to 90, and is 1/16 lower at 30 and 60.
        let walk = told(&[-1.6, 0.1, 1.8], &[]);
        assert_eq!((walk.steps, walk.closed_on, walk.closes), (3, Some(ClosedOn::Point), Verdict::Within));
        assert!((walk.error.expect("an error") - 0.3).abs() < 1e-9);
        assert_eq!(z(&walk), [0.0, -1.7, -1.7, 0.0]);
        assert_eq!(walk.stations[0].u, 0.0);
        assert!(walk.stations[3].u.abs() < 1e-12 && walk.stations[1].u > 0.4);
    }

    #[test]
    fn there_and_back_takes_a_level_that_leans_out() {
        // Every tilt reads half a millimetre high; nothing is known beyond two feet of the way.
        let lean = 0.5;
        let walk = told(&[1.0 + lean, 2.0 + lean], &[-2.0 + lean, -1.0 + lean]);
        assert_eq!((walk.steps, walk.back, walk.closed_on), (2, 2, Some(ClosedOn::Start)));
        assert!((walk.error.expect("an error") - 4.0 * lean).abs() < 1e-9);
        assert_eq!(z(&walk), [0.0, 1.0, 3.0]);
    }

    #[test]
    fn a_walk_that_does_not_close_is_said_to_be_out() {
        let walk = told(&[5.0, 5.0, 5.0], &[]);
        assert_eq!(walk.closes, Verdict::Out);
    }

    #[test]
    fn a_step_read_again_counts_as_it_was_read_last() {
        let mut file = walked(&[1.0, 2.0], &[]);
        let mut again = file.readings.last().cloned().expect("a tilt");
        again.id = "again".into();
        again.value = 7.0 / FOOT;
        file.readings.push(again);
        let walks = tilt_walks(&file, None).expect("walks").walks;
        assert_eq!((walks.len(), walks[0].steps), (1, 2));
    }
}
