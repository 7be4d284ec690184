//! The height to build to: every alternative with its cut list, and the one that was chosen.

use crate::forms::problems;
use crate::forms::refusal::{Kind, Refusal};
use crate::forms::*;
use crate::framing::doorway::{AsFound, budget};
use crate::framing::reasons::why;
use crate::room::joist_grid;
use crate::room::point_heights::{heights, pooled_sd};
use crate::room::rules::Figures;
use crate::room::surveys::survey_named;
use survey::framing::{self, Alternative, JoistWork as Work, Name, Strip};
use survey::units::Length;

/// The alternatives of a room's framing survey.
///
/// # Errors
/// `not-ready` where there is no framing survey or nothing of it was read.
pub fn height(file: &RoomFile, held: Option<f64>) -> Result<HeightView, Refusal> {
    let survey = framing_survey(file)?;
    let heights = heights(file, &survey.id);
    let figures = Figures::of(&file.rules);
    let grid = joist_grid::grid(file, &survey.id, &heights, pooled_sd(&heights));
    let held = held.or(file.target.as_ref().and_then(|target| target.height));
    let analysis = framing::plan(&grid, &joist_grid::settings(file, &figures, held))
        .map_err(|misfit| Refusal::new(Kind::NotReady, format!("There is no height to choose yet: {misfit}")))?;
    let line = line(file, &survey.id);
    let found = AsFound::of(file, &heights);
    let view = |alternative: &Alternative| alternative_view(file, alternative, line, &found);
    let best = analysis.value.best.map(|name| name.name().to_string());
    Ok(HeightView {
        survey: survey.id.clone(),
        alternatives: analysis.value.alternatives.iter().map(view).collect(),
        chosen: file.target.as_ref().map(|target| target.alternative.clone()).or(best.clone()),
        best,
        target: file.target.clone(),
        stations: grid.stations.iter().map(|station| station.to_mm()).collect(),
        line,
        problems: problems(analysis.problems),
        budget: budget(file),
    })
}

fn framing_survey(file: &RoomFile) -> Result<&Survey, Refusal> {
    let framing = file.plan.surveys.iter().find(|survey| survey.surface == Surface::Framing);
    match framing {
        Some(survey) => Ok(survey),
        None => {
            survey_named(file, None)?;
            Err(Refusal::new(Kind::NotReady, "This room has no joists to read. A height is chosen over bare joists."))
        }
    }
}

/// The line of the survey's first set-up over the datum, so that heights can be said as readings down from it.
fn line(file: &RoomFile, survey: &str) -> Option<f64> {
    let setup = file.setups.iter().find(|setup| setup.survey == survey && !setup.withdrawn)?;
    Some(setup.benchmark.height + setup.opening.mm)
}

fn alternative_view(
    file: &RoomFile,
    alternative: &Alternative,
    line: Option<f64>,
    found: &AsFound<'_>,
) -> AlternativeView {
    let mm = |lengths: &[Option<Length>]| lengths.iter().map(|length| length.map(Length::to_mm)).collect::<Vec<_>>();
    let target = &alternative.target;
    let (tilt_x, tilt_y) = (target.tilt_x.to_ratio(), target.tilt_y.to_ratio());
    let level = tilt_x == 0.0 && tilt_y == 0.0;
    let joists: Vec<JoistWork> = alternative.joists.iter().map(|work| joist_work(file, work)).collect();
    let count = |what: fn(&JoistWork) -> u32| joists.iter().map(what).sum();
    AlternativeView {
        name: alternative.name.name().to_string(),
        height: target.height.to_mm(),
        hold: line.filter(|_| level).map(|line| line - target.height.to_mm()),
        tilt_x,
        tilt_y,
        objective: alternative.objective.to_f64(),
        needs_approval: alternative.needs_approval,
        over_door_budget: alternative.over_door_budget,
        caution_water: alternative.name == Name::FlatNotLevel,
        door_rise: mm(&alternative.door_rise),
        rise: joists.iter().map(|work| work.lifts.first().copied().flatten()).collect(),
        fixtures: found.rises(target),
        strips: count(|work| work.strips.len() as u32),
        sisters: count(|work| u32::from(work.action == Action::Sister)),
        cuts: count(|work| u32::from(work.cuts.iter().flatten().any(|cut| *cut > 0.0))),
        joists,
    }
}

fn joist_work(file: &RoomFile, work: &Work) -> JoistWork {
    let mm = |lengths: &[Option<Length>]| lengths.iter().map(|length| length.map(Length::to_mm)).collect();
    let approval = file.approvals.iter().rev().find(|approval| approval.joist == work.id && !approval.withdrawn);
    JoistWork {
        id: work.id.clone(),
        action: action(work.action),
        lifts: mm(&work.lifts),
        cuts: mm(&work.cuts),
        reasons: work.reasons.iter().map(ToString::to_string).collect(),
        why: work.reasons.iter().map(why).collect(),
        strips: work.strips.iter().map(strip).collect(),
        approval: approval.filter(|_| work.by_approval).cloned(),
        done: file.done.contains(&format!("cut-list/{}", work.id)),
    }
}

fn strip(strip: &Strip) -> StripView {
    let figure =
        |&(station, thickness): &(Length, Length)| Figure { station: station.to_mm(), thickness: thickness.to_mm() };
    StripView {
        from: strip.from().to_mm(),
        to: strip.to().to_mm(),
        figures: strip.figures.iter().map(figure).collect(),
    }
}

fn action(action: framing::Action) -> Action {
    match action {
        framing::Action::Leave => Action::Leave,
        framing::Action::Sheet => Action::Sheet,
        framing::Action::Strip => Action::Strip,
        framing::Action::TallStrip => Action::TallStrip,
        framing::Action::Sister => Action::Sister,
        framing::Action::Dress => Action::Dress,
        framing::Action::DressAndStrip => Action::DressAndStrip,
        framing::Action::AskEngineer => Action::AskEngineer,
    }
}
