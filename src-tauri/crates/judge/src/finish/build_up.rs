//! The build-up at the entry line: what each side comes to, how they meet, and what the shower's drop gives as fall.

mod beds;
mod clash;
mod layers;

pub use self::layers::check_layers;
use self::layers::spread;
use crate::forms::refusal::{Kind, Refusal};
use crate::forms::*;
use crate::room::positions::{outlet, position};
use crate::room::rules::{Figures, LengthId, SlopeId};
use crate::room::verdict::{decision, verdict};
use survey::PlanPosition;
use survey::build_up::{Side, cleat_below, step};
use survey::level_perimeter::{LevelPerimeter, level_perimeter};
use survey::units::{Estimate, Length, Slope};
use survey::verdict::{Limits, conformance};

/// The build-up of a room, with other layers than its own where they are tried out.
///
/// # Errors
/// As [`build_up()`].
pub fn asked(file: RoomFile, ask: &BuildUpAsk) -> Result<BuildUpView, Refusal> {
    build_up(&RoomFile { layers: ask.layers.clone().or(file.layers.clone()), ..file })
}

/// The build-up of a room from its file.
///
/// # Errors
/// `not-ready` where no layers were put in, `out-of-range` for one thinner than nothing.
pub fn build_up(file: &RoomFile) -> Result<BuildUpView, Refusal> {
    let Some(layers) = &file.layers else {
        let message = "This room has no layers yet. Put in what goes on each side of the entry line, then ask again.";
        return Err(Refusal::new(Kind::NotReady, message).field("layers"));
    };
    check_layers(layers, &file.plan)?;
    let figures = Figures::of(&file.rules);
    let (dry, wet) = (side(0.0, &layers.room, &figures), side(layers.shower_deck, &layers.shower, &figures));
    let step = step(&wet, &dry);
    let accepted = figures.length(LengthId::EntryLow);
    let meeting = meeting(step.value, accepted);
    let beds = beds::beds(&file.plan, layers, &figures);
    Ok(BuildUpView {
        room: side_view(0.0, &layers.room),
        shower: side_view(layers.shower_deck, &layers.shower),
        step: step.value.to_mm(),
        u: step.u.to_mm(),
        meeting,
        accepted: accepted.to_mm(),
        not_ready: not_ready(layers, meeting, &beds),
        ways: ways(layers, step.value.to_mm()),
        cleats: cleats(layers, &figures),
        deck: layers.shower_deck,
        beds,
        at_drain: at_drain(layers),
        riser: layers.riser.as_ref().map(|riser| at_drain(layers) - riser.below - riser.body - riser.pipe),
        falls: falls(file, layers, &figures),
        drain: clash::clash(&file.plan, &figures),
    })
}

/// The shower's finished floor at the drain.
pub fn at_drain(layers: &Layers) -> f64 {
    layers.shower_deck + layers.shower.iter().map(|layer| layer.at_drain.unwrap_or(layer.thickness)).sum::<f64>()
}

fn side(structure: f64, layers: &[Layer], figures: &Figures) -> Side {
    let usual = figures.length(LengthId::LayerSd);
    let with_u = |layer: &Layer| Estimate::new(Length::mm(layer.thickness), spread(layer, usual));
    Side { structure: Estimate::new(Length::mm(structure), usual), layers: layers.iter().map(with_u).collect() }
}

fn side_view(structure: f64, layers: &[Layer]) -> SideView {
    let (mut top, mut top_at_drain) = (structure, structure);
    let mut stand = |layer: &Layer| {
        top += layer.thickness;
        top_at_drain += layer.at_drain.unwrap_or(layer.thickness);
        LayerStanding { name: layer.name.clone(), thickness: layer.thickness, top, top_at_drain }
    };
    let layers: Vec<LayerStanding> = layers.iter().map(&mut stand).collect();
    SideView { structure, layers, finished: top }
}

fn meeting(step: Length, accepted: Length) -> Meeting {
    let low = Length::ZERO - step;
    match () {
        () if step.at_most(Length::ZERO) && low.at_most(Length::ZERO) => Meeting::Flush,
        () if !step.at_most(Length::ZERO) => Meeting::Proud,
        () if low.at_most(accepted) => Meeting::Low,
        () => Meeting::TooLow,
    }
}

fn not_ready(layers: &Layers, meeting: Meeting, beds: &[BedOver]) -> Vec<String> {
    let mut all = Vec::new();
    if meeting == Meeting::Proud {
        all.push("The shower stands proud of the room: water runs out. Change a layer.".to_string());
    }
    if meeting == Meeting::TooLow {
        all.push("The shower is lower than is accepted at a flush entry. Change a layer.".to_string());
    }
    if layers.membrane_lap.is_none_or(|lap| lap <= 0.0) {
        let lap = "No membrane runs past the entry line: put in its lap from its maker's sheet or the code.";
        all.push(lap.to_string());
    }
    let thin: Vec<&str> = beds.iter().filter(|bed| bed.verdict == Verdict::Out).map(|bed| bed.joist.as_str()).collect();
    if !thin.is_empty() {
        let (names, cure) = (thin.join(" and "), "Change the layers, or have an engineer drop the joists.");
        all.push(format!("The bed over {names} is too thin. {cure}"));
    }
    all
}

/// The layers that could take up the step, each alone.
fn ways(layers: &Layers, step: f64) -> Vec<FlushWay> {
    if Length::mm(step).abs().at_most(Length::ZERO) {
        return Vec::new();
    }
    let way = |in_shower: bool, change: f64| {
        move |layer: &Layer| FlushWay {
            layer: layer.name.clone(),
            in_shower,
            from: layer.thickness,
            to: layer.thickness + change,
        }
    };
    let (room, shower) = (layers.room.iter().map(way(false, step)), layers.shower.iter().map(way(true, -step)));
    room.chain(shower).filter(|way| way.to > 0.0).collect()
}

/// The deck sheet hangs on cleats; the joists lie under the room's subfloor.
fn cleats(layers: &Layers, figures: &Figures) -> f64 {
    let exact = |mm: f64| Estimate::new(Length::mm(mm), Length::ZERO);
    let joist = exact(-figures.length(LengthId::Subfloor).to_mm());
    cleat_below(joist, exact(layers.shower_deck), exact(figures.length(LengthId::DeckSheet).to_mm())).value.to_mm()
}

/// How much lower the shower's layers are at the drain than at the entry, mm.
pub fn drop_of(layers: &Layers) -> f64 {
    layers.shower.iter().filter_map(|layer| Some(layer.thickness - layer.at_drain?)).sum()
}

/// What the shower's drop gives as fall from a level perimeter, from the drain's centre and from its rim.
fn falls(file: &RoomFile, layers: &Layers, figures: &Figures) -> Vec<FallDesign> {
    let drop = drop_of(layers);
    let Some(drain) = file.plan.drain.as_ref().filter(|_| drop > 0.0) else { return Vec::new() };
    let corners: Vec<PlanPosition> = file.plan.outline.iter().map(position).collect();
    let outlet = outlet(drain);
    let Some(perimeter) = level_perimeter(&corners, &outlet, figures.falls()) else { return Vec::new() };
    let rim = drain.grate.map(|grate| (Origin::Rim, grate / 2.0));
    let origins = [Some((Origin::Centre, 0.0)), rim];
    let design = |(origin, off): (Origin, f64)| design(&perimeter, origin, off, drop, figures);
    origins.into_iter().flatten().map(design).collect()
}

pub fn design(perimeter: &LevelPerimeter, origin: Origin, off: f64, drop: f64, figures: &Figures) -> FallDesign {
    let limits = figures.falls();
    let less = |distance: Length| distance - Length::mm(off);
    let seen = LevelPerimeter {
        nearest: less(perimeter.nearest),
        farthest: less(perimeter.farthest),
        needs: limits.minimum.times(less(perimeter.farthest)),
        allows: limits.maximum.times(less(perimeter.nearest)),
    };
    // The perimeter and the drain are each set by a reading.
    let drop = Estimate::new(Length::mm(drop), figures.length(LengthId::ReadingSd) * 2f64.sqrt());
    FallDesign {
        origin,
        rise: drop.value.to_mm(),
        far: fall_to(
            seen.farthest,
            drop,
            Limits::at_least(limits.minimum),
            (SlopeId::FallLeast, limits.minimum),
            figures,
        ),
        near: fall_to(
            seen.nearest,
            drop,
            Limits::at_most(limits.maximum),
            (SlopeId::FallMost, limits.maximum),
            figures,
        ),
        needs: seen.needs.to_mm(),
        allows: seen.allows.to_mm(),
        possible: seen.is_possible(),
    }
}

fn fall_to(
    distance: Length,
    drop: Estimate<Length>,
    limits: Limits<Slope>,
    (rule, limit): (SlopeId, Slope),
    figures: &Figures,
) -> FallTo {
    let fall = Estimate::new(drop.value.over(distance), drop.u.over(distance));
    let found = conformance(fall, limits, figures.confidence(), decision(figures.decision()));
    FallTo {
        distance: distance.to_mm(),
        fall: fall.value.to_ratio(),
        u: fall.u.to_ratio(),
        limit: limit.to_ratio(),
        verdict: found.map_or(Verdict::NotTested, |found| verdict(found.verdict)),
        rule: figures.name(rule),
    }
}
