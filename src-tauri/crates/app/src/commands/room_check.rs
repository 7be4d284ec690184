//! Whether a room file can be taken as it stands: everything in it is such as the screens would have let in.

use super::approvals::check_approval;
use super::entries::check_entry;
use super::plan::{check_plan, unique};
use super::readings::{as_added, check_numbers};
use super::rooms::{check_id, named};
use super::setups::{check_opened, check_read};
use crate::forms::*;
use judge::room::rules::{check_change, falls};
use judge::{Kind, Refusal};
use std::collections::HashSet;

/// # Errors
/// A refusal that names the field.
pub(crate) fn check_file(file: &RoomFile) -> Result<(), Refusal> {
    check_head(file)?;
    check_plan(&file.plan)?;
    check_rules(&file.rules)?;
    file.entries.iter().try_for_each(check_entry)?;
    unique("approvals", file.approvals.iter().map(|approval| approval.id.as_str()))?;
    for (i, approval) in file.approvals.iter().enumerate() {
        check_approval(approval).map_err(|refusal| instead("approval", &format!("approvals[{i}]"), refusal))?;
    }
    check_setups(&file.setups)?;
    check_readings(file)
}

fn check_head(file: &RoomFile) -> Result<(), Refusal> {
    if file.journal.as_ref().is_some_and(Vec::is_empty) {
        let message = "The journal of this room file is empty, so nothing in it can be proved. It was altered: ask for \
                       the file again. In one written by hand, leave the journal out.";
        return Err(Refusal::new(Kind::DoesNotFit, message).field("journal"));
    }
    check_id(&file.room.id).map_err(|refusal| instead("room", "room.id", refusal))?;
    named(&file.room.name).map_err(|refusal| within("room", refusal))
}

fn check_rules(rules: &Rules) -> Result<(), Refusal> {
    for (id, value) in &rules.changed {
        check_change(id, Some(*value)).map_err(|refusal| refusal.field(format!("rules.changed.{id}")))?;
    }
    rules.falls.as_deref().map_or(Ok(()), falls::check).map_err(|refusal| within("rules", refusal))
}

fn check_setups(setups: &[Setup]) -> Result<(), Refusal> {
    unique("setups", setups.iter().map(|setup| setup.id.as_str()))?;
    for (i, setup) in setups.iter().enumerate() {
        let place = |refusal| within(&format!("setups[{i}]"), refusal);
        let Setup { id, survey, instrument, sd_mm, benchmark, opening, closing, .. } = setup.clone();
        check_opened(&SetupOpen { setup: id, survey, instrument, sd_mm, benchmark, opening }).map_err(place)?;
        closing.map_or(Ok(()), |closing| check_read("closing", &closing)).map_err(place)?;
    }
    Ok(())
}

fn check_readings(file: &RoomFile) -> Result<(), Refusal> {
    let setups: HashSet<&str> = file.setups.iter().map(|setup| setup.id.as_str()).collect();
    let points: HashSet<&str> = file.plan.points.iter().map(|point| point.id.as_str()).collect();
    let mut before: HashSet<&str> = HashSet::new();
    for (i, reading) in file.readings.iter().enumerate() {
        let field = |name: &str| format!("readings[{i}].{name}");
        check_numbers(&as_added(reading)).map_err(|refusal| within(&format!("readings[{i}]"), refusal))?;
        check_corrects(reading, i, &before)?;
        if !before.insert(&reading.id) {
            let message = format!("There are two readings with the id {:?}. Give one of them another.", reading.id);
            return Err(Refusal::new(Kind::AlreadyThere, message).field(field("id")));
        }
        let alone = reading.setup.is_empty() && reading.sense.stands_alone();
        if !alone && !setups.contains(reading.setup.as_str()) {
            let message = format!(
                "Reading {} names the set-up {:?}, which the file does not have. Add the set-up.",
                reading.id, reading.setup
            );
            return Err(Refusal::new(Kind::DatumOrLinkMissing, message).field(field("setup")));
        }
        if !points.contains(reading.point.as_str()) {
            return Err(Refusal::not_found("point", &reading.point).field(field("point")));
        }
    }
    Ok(())
}

/// Whether the reading that one corrects stands before it.
fn check_corrects(reading: &Reading, i: usize, before: &HashSet<&str>) -> Result<(), Refusal> {
    match &reading.supersedes {
        Some(other) if !before.contains(other.as_str()) => {
            let message = format!(
                "Reading {} corrects the reading {other:?}, which does not stand before it in the file. Put that one \
                 before it, or leave \"supersedes\" out.",
                reading.id
            );
            Err(Refusal::new(Kind::NotFound, message).field(format!("readings[{i}].supersedes")))
        }
        _ => Ok(()),
    }
}

fn within(place: &str, refusal: Refusal) -> Refusal {
    let field = refusal.field.as_ref().map_or(place.to_string(), |field| format!("{place}.{field}"));
    refusal.field(field)
}

/// The same refusal, its field beginning with another name.
fn instead(name: &str, place: &str, refusal: Refusal) -> Refusal {
    let field = refusal.field.as_deref().unwrap_or_default();
    let field = format!("{place}{}", field.strip_prefix(name).unwrap_or(field));
    refusal.field(field)
}
