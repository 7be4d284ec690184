//! The plan of a room, replaced whole.

use super::{Apply, Page, inverse};
use crate::fault::Fault;
use crate::forms::{Fixture, Joist, Plan, PlanPoint, PlanSet};
use judge::forms::fields::{length, positions, positive};
use judge::{Kind, Refusal};
use std::collections::HashSet;
use store::Inverse;

/// More points than anyone reads in a bathroom.
const MOST_POINTS: usize = 20_000;

impl Apply for PlanSet {
    fn check(&self, page: &Page<'_>) -> Result<(), Fault> {
        let Some(plan) = &self.plan else { return Ok(()) };
        check_plan(plan)?;
        let read = page.tx.readings().current_of_room(page.room)?;
        match read.iter().find(|reading| !plan.points.iter().any(|point| point.id == reading.point)) {
            Some(reading) => Err(Refusal::new(
                Kind::DoesNotFit,
                format!("The new plan has no point {}, which has been read. Keep the point.", reading.point),
            )
            .field("plan.points")
            .into()),
            None => Ok(()),
        }
    }

    fn apply(&self, page: &Page<'_>) -> Result<Option<Inverse>, Fault> {
        let old = page.document("plan")?;
        page.put("plan", self.plan.as_ref())?;
        inverse(&PlanSet { plan: old })
    }
}

/// Whether a plan can be worked with.
///
/// # Errors
/// A refusal that names the field.
pub(crate) fn check_plan(plan: &Plan) -> Result<(), Refusal> {
    let outline = positions("plan.outline", &plan.outline)?;
    if !outline.is_empty() && !survey::is_outline(&outline) {
        let message = "The outline of the plan makes no room: walls cross or touch. Move or take out a corner.";
        return Err(Refusal::new(Kind::NotSimple, message).field("plan.outline"));
    }
    if plan.points.len() > MOST_POINTS {
        let message = format!("The plan has {} points; at most {MOST_POINTS} are taken.", plan.points.len());
        return Err(Refusal::new(Kind::TooManyRows, message).field("plan.points"));
    }
    unique("plan.joists", plan.joists.iter().map(|joist| joist.id.as_str()))?;
    unique("plan.surveys", plan.surveys.iter().map(|survey| survey.id.as_str()))?;
    unique("plan.points", plan.points.iter().map(|point| point.id.as_str()))?;
    plan.joists.iter().enumerate().try_for_each(|(i, joist)| check_joist(i, joist))?;
    plan.fixtures.iter().enumerate().try_for_each(|(i, fixture)| check_fixture(i, fixture))?;
    plan.points.iter().enumerate().try_for_each(|(i, point)| check_point(plan, i, point))
}

fn check_joist(i: usize, joist: &Joist) -> Result<(), Refusal> {
    length(&format!("plan.joists[{i}].at"), joist.at)?;
    length(&format!("plan.joists[{i}].first_bearing"), joist.first_bearing)?;
    positive(&format!("plan.joists[{i}].depth"), joist.depth)?;
    positive(&format!("plan.joists[{i}].span"), joist.span)?;
    Ok(())
}

fn check_fixture(i: usize, fixture: &Fixture) -> Result<(), Refusal> {
    let field = |name: &str| format!("plan.fixtures[{i}].{name}");
    positions(&field("from"), &[fixture.from])?;
    positions(&field("to"), &[fixture.to])?;
    let (wide, deep) = (fixture.to.0 - fixture.from.0, fixture.to.1 - fixture.from.1);
    positive(&field("to"), wide.abs().min(deep.abs()))?;
    Ok(())
}

fn check_point(plan: &Plan, i: usize, point: &PlanPoint) -> Result<(), Refusal> {
    length(&format!("plan.points[{i}].x"), point.x)?;
    length(&format!("plan.points[{i}].y"), point.y)?;
    if !plan.surveys.iter().any(|survey| survey.id == point.survey) {
        return Err(names_nothing(&format!("plan.points[{i}].survey"), "survey", &point.survey));
    }
    match &point.joist {
        Some(id) if !plan.joists.iter().any(|joist| &joist.id == id) => {
            Err(names_nothing(&format!("plan.points[{i}].joist"), "joist", id))
        }
        _ => Ok(()),
    }
}

fn names_nothing(field: &str, what: &str, name: &str) -> Refusal {
    Refusal::not_found(what, name).field(field)
}

/// Whether no name is there twice.
///
/// # Errors
/// `already-there`.
pub(super) fn unique<'a>(field: &str, names: impl Iterator<Item = &'a str>) -> Result<(), Refusal> {
    let mut seen = HashSet::new();
    for (i, name) in names.enumerate() {
        let field = format!("{field}[{i}].id");
        if name.trim().is_empty() {
            return Err(Refusal::out_of_range(field, "at least one letter"));
        }
        if !seen.insert(name) {
            return Err(
                Refusal::new(Kind::AlreadyThere, format!("There are two named {name:?}. Rename one.")).field(field)
            );
        }
    }
    Ok(())
}
