//! How much levelling compound or bed a floor takes, how deep it lies, what it weighs, and where it would run out.

use crate::forms::bounds::{BAG, LOAD, WASTE, YIELD, within};
use crate::forms::refusal::{Kind, Refusal};
use crate::forms::*;
use crate::room::bands::map_bands;
use crate::room::point_heights::{Height, heights, pooled_sd};
use crate::room::positions::{outlet, position};
use crate::room::rules::{Figures, LengthId};
use crate::room::surveys::survey_named;
use crate::room::verdict::{decision, verdict};
use survey::bed::{self, Shape};
use survey::drainage::{Drain as Outlet, FallRule};
use survey::fill::{Fill, FillNoise, FillTo, fill};
use survey::perimeter_marks::way_to;
use survey::triangulation::{Triangulation, triangulate};
use survey::units::{Area, Estimate, Length, Ratio, Volume};
use survey::verdict::{Limits, conformance};
use survey::{PlanPosition, Point};

/// What a pour comes to in a room, with another than its own where one is tried out.
///
/// # Errors
/// As [`pour()`].
pub fn asked(mut file: RoomFile, ask: &PourAsk) -> Result<PourView, Refusal> {
    let new = ask.pour.as_ref().filter(|new| file.works.pour.as_ref() != Some(new));
    new.map_or(Ok(()), check_new)?;
    file.works.pour = ask.pour.clone().or(file.works.pour);
    pour(&file, ask.survey.as_deref())
}

/// What the pour of a room comes to, from its file.
///
/// # Errors
/// `not-ready` where nothing was put in, nothing was read, or only bare joists were; `out-of-range` naming what cannot
/// be poured.
pub fn pour(file: &RoomFile, survey: Option<&str>) -> Result<PourView, Refusal> {
    let Some(pour) = &file.works.pour else {
        let message = "Put in what is poured and how deep it stands over the highest reading, then ask again.";
        return Err(Refusal::new(Kind::NotReady, message).field("pour"));
    };
    check(pour)?;
    match pour.kind {
        PourKind::Compound => compound(file, pour, survey),
        PourKind::Bed => bed(file, pour),
    }
}

/// Whether something can be poured so.
///
/// # Errors
/// `out-of-range` or `not-finite`, naming the field.
pub fn check(pour: &Pour) -> Result<(), Refusal> {
    let zero_or_more = [
        ("pour: depth", Some(pour.over)),
        ("pour: rise", pour.rise),
        ("pour: waste", Some(pour.waste)),
        ("pour: least depth", pour.least),
        ("pour: greatest depth", pour.most),
    ];
    let above_zero =
        [("pour: yield of a bag", pour.yield_litres), ("pour: a bag", pour.bag_kg), ("pour: load", pour.load_most)];
    for (field, value) in zero_or_more {
        if value.is_some_and(|value| value.is_nan() || value < 0.0) {
            return Err(Refusal::out_of_range(field, "zero or more"));
        }
    }
    for (field, value) in above_zero {
        if value.is_some_and(|value| value.is_nan() || value <= 0.0) {
            return Err(Refusal::out_of_range(field, "more than zero. It stands on the bag or its sheet"));
        }
    }
    match pour.least.zip(pour.most) {
        Some((least, most)) if least > most => {
            Err(Refusal::out_of_range("pour: greatest depth", "no less than the least depth"))
        }
        _ => Ok(()),
    }
}

/// Whether something can be put in so: what was kept before there were bounds is still looked at.
///
/// # Errors
/// As [`check`], and `out-of-range` with both bounds for what no bag has.
pub fn check_new(pour: &Pour) -> Result<(), Refusal> {
    check(pour)?;
    within("pour: waste", Some(pour.waste), WASTE)?;
    within("pour: yield of a bag", pour.yield_litres, YIELD)?;
    within("pour: a bag", pour.bag_kg, BAG)?;
    within("pour: load", pour.load_most, LOAD)
}

fn compound(file: &RoomFile, pour: &Pour, survey: Option<&str>) -> Result<PourView, Refusal> {
    let survey = survey_named(file, survey)?;
    if survey.surface == Surface::Framing {
        let message = "Compound is poured on a deck, never over bare joists. Read the deck as a survey of its own.";
        return Err(Refusal::new(Kind::NotReady, message));
    }
    let heights = heights(file, &survey.id);
    let highest = heights
        .iter()
        .map(|height| height.z)
        .fold(None, |high: Option<Length>, z| Some(high.map_or(z, |high| high.max(z))));
    let Some(highest) = highest else {
        return Err(Refusal::new(Kind::NotReady, "Nothing of this floor was read yet. Read it, then ask again."));
    };
    let level = highest + Length::mm(pour.over);
    let surface = laid(file, &heights)?;
    let noise = FillNoise { reading_sd: pooled_sd(&heights), level_sd: Length::ZERO };
    let filled = fill(&surface, FillTo::Level(level), Some(noise));
    Ok(Poured { file, pour, figures: Figures::of(&file.rules) }.view(survey, &heights, &surface, level, &filled))
}

fn laid(file: &RoomFile, heights: &[Height<'_>]) -> Result<Triangulation, Refusal> {
    let points: Vec<Point> = heights.iter().map(Height::at).collect();
    let outline: Vec<PlanPosition> = file.plan.outline.iter().map(position).collect();
    let surface = triangulate(&points, &outline).or_else(|_| triangulate(&points, &[]));
    let surface =
        surface.map_err(|why| Refusal::new(Kind::NotReady, format!("There is no floor to pour on: {why}.")))?;
    Ok(surface.value)
}

struct Poured<'a> {
    file: &'a RoomFile,
    pour: &'a Pour,
    figures: Figures,
}

impl Poured<'_> {
    fn view(
        &self,
        survey: &Survey,
        heights: &[Height<'_>],
        surface: &Triangulation,
        level: Length,
        filled: &Fill,
    ) -> PourView {
        let depth = |height: &Height<'_>| PourDepth {
            point: height.point.id.clone(),
            x: height.point.x,
            y: height.point.y,
            depth: (level - height.z).to_mm(),
        };
        let depths: Vec<PourDepth> = heights.iter().map(depth).collect();
        let u = pooled_sd(heights).to_mm();
        let by_depth = |a: &&PourDepth, b: &&PourDepth| a.depth.total_cmp(&b.depth);
        let (shallow, deep) = (depths.iter().min_by(by_depth), depths.iter().max_by(by_depth));
        let down =
            |setup: &&Setup| self.file.readings.iter().any(|one| one.setup == setup.id && one.sense == Sense::Down);
        let standing = |setup: &&Setup| setup.survey == survey.id && !setup.withdrawn;
        let setup = self.file.setups.iter().find(|setup| standing(setup) && down(setup));
        let load = |depth: f64| self.density().map(|density| density * depth);
        let mean = filled.volume.to_litres() * 1e6 / filled.area.to_mm2().max(1.0);
        PourView {
            survey: Some(survey.id.clone()),
            level: Some(level.to_mm()),
            hold: setup.map(|setup| setup.benchmark.height + setup.opening.mm - level.to_mm()),
            least: self.pour.least.zip(shallow).map(|(least, at)| self.limit(at, u, least, true)),
            most: self.pour.most.zip(deep).map(|(most, at)| self.limit(at, u, most, false)),
            load_deepest: deep.and_then(|deep| load(deep.depth)),
            load: load(mean),
            dams: self.dams(surface, level),
            bands: map_bands(surface, self.file.room.units, level.to_mm()),
            bare: depths.iter().filter(|at| at.depth <= 1e-6).map(|at| at.point.clone()).collect(),
            ..self.amount(filled.area, filled.volume, filled.u_volume, depths)
        }
        .weighed(self)
    }

    /// What every pour has: area, volume, bags, mass.
    fn amount(&self, area: Area, volume: Volume, u: Option<Volume>, depths: Vec<PourDepth>) -> PourView {
        let filled = Fill { area, volume, u_volume: u };
        let bags = self.pour.yield_litres.and_then(|per| filled.bags(Volume::litres(per), Ratio::of(self.pour.waste)));
        PourView {
            survey: None,
            level: None,
            hold: None,
            area: area.to_mm2(),
            volume: volume.to_litres(),
            u_volume: u.map(Volume::to_litres),
            bags: bags.map(|bags| bags as u32),
            mass: self.density().map(|density| filled.mass(Ratio::of(density)).to_kg()),
            load: None,
            load_deepest: None,
            depths,
            bands: Vec::new(),
            least: None,
            most: None,
            load_limit: None,
            dams: Vec::new(),
            bare: Vec::new(),
        }
    }

    /// In kg per litre.
    fn density(&self) -> Option<f64> {
        self.pour.bag_kg.zip(self.pour.yield_litres).map(|(bag, yields)| bag / yields)
    }

    /// A depth against the product's sheet.
    fn limit(&self, at: &PourDepth, u: f64, limit: f64, at_least: bool) -> PourLimit {
        let mm = Length::mm(limit);
        let limits = if at_least { Limits::at_least(mm) } else { Limits::at_most(mm) };
        let depth = Estimate::new(Length::mm(at.depth), Length::mm(u));
        let sure = self.figures.confidence();
        let found = conformance(depth, limits, sure, decision(self.figures.decision()));
        PourLimit {
            value: at.depth,
            u,
            limit,
            point: at.point.clone(),
            verdict: found.map_or(Verdict::NotTested, |found| verdict(found.verdict)),
            provenance: Provenance::Own,
        }
    }

    /// The openings that the pour reaches, with its depth there.
    fn dams(&self, surface: &Triangulation, level: Length) -> Vec<Dam> {
        let plan = &self.file.plan;
        let doorway = plan.doorway.as_ref().map(|door| match plan.joists_along {
            Axis::Y => ("doorway", (door.from, 0.0), (door.to, 0.0)),
            Axis::X => ("doorway", (0.0, door.from), (0.0, door.to)),
        });
        let entry = plan.entry.map(|(from, to)| ("entry", from, to));
        let dam = |(opening, from, to): (&str, (f64, f64), (f64, f64))| {
            let height = deepest(surface, level, from, to)?;
            (height > 0.0).then(|| Dam { opening: opening.to_string(), from, to, height })
        };
        doorway.into_iter().chain(entry).filter_map(dam).collect()
    }
}

impl PourView {
    /// With the load judged against what the floor may carry.
    fn weighed(self, poured: &Poured<'_>) -> Self {
        let load_limit = poured.pour.load_most.zip(self.load_deepest).map(|(limit, value)| PourLimit {
            value,
            u: 0.0,
            limit,
            point: String::new(),
            verdict: if value <= limit * (1.0 + 1e-9) { Verdict::Within } else { Verdict::Out },
            provenance: Provenance::Own,
        });
        Self { load_limit, ..self }
    }
}

/// How many places of an opening are looked at, besides the readings on it, which lie this near to it, in mm.
const LOOKS: u32 = 20;
const ON_LINE: f64 = 5.0;

/// The greatest depth of a pour along an opening; none where the floor was not read there.
fn deepest(surface: &Triangulation, level: Length, from: (f64, f64), to: (f64, f64)) -> Option<f64> {
    let at = |k: u32| {
        let share = f64::from(k) / f64::from(LOOKS);
        position(&(from.0 + share * (to.0 - from.0), from.1 + share * (to.1 - from.1)))
    };
    let between = (0..=LOOKS).filter_map(|k| surface.height_at(at(k)));
    let line = Outlet::Line(position(&from), position(&to));
    let near = |point: &Point| way_to(&line, PlanPosition { x: point.x, y: point.y }, FallRule::Path);
    let read = surface.points().into_iter().filter(|point| near(point).is_some_and(|away| away.to_mm() <= ON_LINE));
    let heights = between.chain(read.map(|point| point.z));
    heights.map(|height| (level - height).to_mm()).max_by(f64::total_cmp)
}

fn bed(file: &RoomFile, pour: &Pour) -> Result<PourView, Refusal> {
    let plan = &file.plan;
    let Some(drain) = plan.drain.as_ref().filter(|_| plan.outline.len() > 2) else {
        let message = "A bed falls to a drain. Put the drain on the plan, then ask again.";
        return Err(Refusal::new(Kind::NotReady, message));
    };
    let shape = match outlet(drain) {
        Outlet::Line(..) => Shape::ToALine,
        _ => Shape::ToAPoint,
    };
    let (area, rise) = (outline_area(&plan.outline), pour.rise.unwrap_or(0.0));
    let volume = bed::volume(shape, area, Length::mm(pour.over), Length::mm(rise));
    let poured = Poured { file, pour, figures: Figures::of(&file.rules) };
    let end = |point: &str, depth: f64| PourDepth { point: point.into(), x: 0.0, y: 0.0, depth };
    let (shallow, deep) = (end("", pour.over), end("", pour.over + rise));
    let u = poured.figures.length(LengthId::LayerSd).to_mm();
    let density = poured.density();
    let mean = volume.to_litres() * 1e6 / area.to_mm2().max(1.0);
    Ok(PourView {
        least: pour.least.map(|least| poured.limit(&shallow, u, least, true)),
        most: pour.most.map(|most| poured.limit(&deep, u, most, false)),
        load: density.map(|density| density * mean),
        load_deepest: density.map(|density| density * deep.depth),
        ..poured.amount(area, volume, None, Vec::new())
    }
    .weighed(&poured))
}

/// The plan area that an outline encloses.
pub fn outline_area(outline: &[(f64, f64)]) -> Area {
    let next = outline.iter().cycle().skip(1);
    let twice: f64 = outline.iter().zip(next).map(|(a, b)| a.0 * b.1 - b.0 * a.1).sum();
    Area::mm2(twice.abs() / 2.0)
}
