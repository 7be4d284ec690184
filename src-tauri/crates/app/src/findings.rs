//! What the readings of a room say: judged, placed, and put in order.

pub(crate) mod closing;
mod fall;
mod framing;
mod headline;
mod lines;
mod map;
mod noise;
mod place;
mod ponds;
mod straightedges;
mod walked;

use crate::app::App;
use crate::heights::{heights, pooled_sd, survey_of};
use crate::refusal::{Kind, Refusal};
use crate::rules::Figures;
use crate::wire::*;
pub(crate) use framing::{decision, verdict};
pub(crate) use map::map_bands;
use noise::Noise;
use std::collections::HashMap;

/// A room being judged.
pub(crate) struct Judging<'f> {
    pub(crate) file: &'f RoomFile,
    pub(crate) survey: &'f Survey,
    pub(crate) figures: Figures,
    pub(crate) heights: Vec<crate::heights::Height<'f>>,
    by_point: HashMap<&'f str, usize>,
    noise: Noise,
    pub(crate) sd: survey::units::Length,
    water: ponds::Water,
}

impl App {
    /// The findings of a survey, at once: what noise alone would show is told where it was drawn before.
    ///
    /// # Errors
    /// `not-found` for an unknown room or survey.
    pub fn findings(&self, room: &str, survey: Option<&str>) -> Result<FindingsView, Refusal> {
        judged(&self.room_state(room)?, survey, Noise::Known)
    }

    /// The findings of a survey with what noise alone would show, which takes ten thousand draws.
    ///
    /// # Errors
    /// As [`Self::findings`].
    pub fn findings_with_noise(&self, room: &str, survey: Option<&str>) -> Result<FindingsView, Refusal> {
        findings(&self.room_state(room)?, survey)
    }
}

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
pub(crate) fn at_once(file: &RoomFile) -> Result<FindingsView, Refusal> {
    judged(file, None, Noise::Known)
}

fn judged(file: &RoomFile, survey: Option<&str>, noise: Noise) -> Result<FindingsView, Refusal> {
    Ok(judging(file, survey_named(file, survey)?, noise).view())
}

fn judging<'f>(file: &'f RoomFile, survey: &'f Survey, noise: Noise) -> Judging<'f> {
    let heights = heights(file, &survey.id);
    let sd = pooled_sd(&heights);
    let by_point = heights.iter().enumerate().map(|(k, height)| (height.point.id.as_str(), k)).collect();
    Judging {
        file,
        survey,
        figures: Figures::of(&file.rules),
        heights,
        by_point,
        noise,
        sd,
        water: ponds::Water::default(),
    }
}

/// The ways of a survey to the drain: the points of each, the nearest to the drain first.
pub(crate) fn ways_to_drain(file: &RoomFile, survey: &Survey) -> Vec<Vec<String>> {
    let judging = judging(file, survey, Noise::Known);
    let lines = lines::lines(&judging);
    fall::ways_by_point(&judging, &lines)
}

/// The survey asked for, or the one to show.
pub(crate) fn survey_named<'f>(file: &'f RoomFile, asked: Option<&'f str>) -> Result<&'f Survey, Refusal> {
    if let Some(name) = asked.filter(|name| !file.plan.surveys.iter().any(|survey| survey.id == *name)) {
        return Err(Refusal::not_found("survey", name).field("survey"));
    }
    survey_of(file, asked)
        .ok_or_else(|| Refusal::new(Kind::NotReady, "This room has no plan yet. Lay it out, then read its points."))
}

impl<'f> Judging<'f> {
    fn view(&self) -> FindingsView {
        let lines = lines::lines(self);
        let bars = straightedges::lay(self, &lines, &self.straightedge_rules());
        let mut findings = closing::findings(self);
        findings.extend(straightedges::findings(self, &lines, &bars));
        let mut problems = Vec::new();
        if self.survey.surface == Surface::Framing {
            let (of_joists, of_data) = framing::findings(self);
            findings.extend(of_joists);
            problems = of_data;
        }
        if self.survey.surface == Surface::Fall {
            let (ponds, of_water) = ponds::findings(self);
            findings.extend(ponds);
            findings.extend(fall::findings(self, &lines));
            problems.extend(of_water);
        }
        let walk = walked::walk(self);
        findings.extend(walk.as_ref().and_then(|walk| walked::finding(self, walk)));
        findings.sort_by_key(urgency);
        let headline = headline::headline(self, &findings, walk.as_ref().map(walked::short));
        let bar = straightedges::worst(&bars).and_then(|bar| bar.on_plan(&lines));
        let map = map::map(self, &findings, bar);
        FindingsView {
            survey: self.survey.id.clone(),
            headline,
            map,
            profiles: straightedges::profiles(&lines, &bars),
            findings,
            problems,
            method: self.method(),
        }
    }

    /// The rules whose straightedges are laid on this surface; a floor that falls is no flat one.
    fn straightedge_rules(&self) -> Vec<&'static str> {
        match self.survey.surface {
            Surface::Framing => vec!["framing-flat", "framing-flat-short"],
            Surface::Floor => self.figures.tile_rules(self.file.rules.tile.as_ref()).to_vec(),
            Surface::Fall => Vec::new(),
        }
    }

    fn method(&self) -> Method {
        let setups: Vec<&Setup> = self.setups().collect();
        let closing = setups.iter().filter_map(|setup| closing::error(setup)).map(f64::abs).reduce(f64::max);
        Method { straightedge: "supported".to_string(), setups: setups.len() as u32, sd_mm: self.sd.to_mm(), closing }
    }

    /// The height of a point of the plan; none where it was not read.
    pub(crate) fn height_of(&self, point: &str) -> Option<survey::units::Length> {
        self.heights.get(*self.by_point.get(point)?).map(|height| height.z)
    }

    pub(crate) fn setups(&self) -> impl Iterator<Item = &'f Setup> {
        let survey = self.survey.id.as_str();
        self.file.setups.iter().filter(move |setup| setup.survey == survey && !setup.withdrawn)
    }
}

/// A finding of which only this is known.
fn plain(kind: FindingKind, subject: &str, rule: RuleRef, verdict: Verdict) -> Finding {
    Finding {
        kind,
        subject: subject.to_string(),
        place: place::nowhere(),
        value: None,
        u: None,
        limit: None,
        least: None,
        reach: None,
        rule,
        verdict,
        retake: Vec::new(),
        noise_alone: None,
    }
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
