//! What comes from a file: many readings at once, or a whole room written by hand.

use super::plan::check_plan;
use super::readings::{as_added, check_numbers, insert, withdraw};
use super::room_check::check_file;
use super::rooms::check_id;
use super::setups::check_read;
use super::{Apply, Page, inverse};
use crate::fault::Fault;
use crate::forms::*;
use judge::{Kind, Refusal};
use store::Inverse;

impl Apply for ReadingsImport {
    fn check(&self, page: &Page<'_>) -> Result<(), Fault> {
        let known: Option<Plan> = page.document("plan")?;
        let Some(plan) = self.plan.as_ref().or(known.as_ref()) else {
            return Err(Refusal::new(Kind::NotReady, "The room has no plan yet. Lay it out, then import.").into());
        };
        check_plan(plan)?;
        self.closings
            .iter()
            .filter_map(|closing| closing.closing.as_ref())
            .try_for_each(|read| check_read("closing", read))?;
        Ok(self.readings.iter().try_for_each(check_numbers)?)
    }

    fn apply(&self, page: &Page<'_>) -> Result<Option<Inverse>, Fault> {
        let old = match &self.plan {
            Some(plan) => {
                let old = page.document("plan")?;
                page.put("plan", Some(plan))?;
                old
            }
            None => None,
        };
        for setup in &self.setups {
            setup.apply(page)?;
        }
        for reading in &self.readings {
            insert(page, reading)?;
        }
        for closing in &self.closings {
            closing.apply(page)?;
        }
        inverse(&ImportWithdraw {
            setups: self.setups.iter().map(|setup| setup.setup.clone()).collect(),
            readings: self.readings.iter().map(|reading| reading.reading.clone()).collect(),
            plan: old,
        })
    }
}

impl Apply for ImportWithdraw {
    fn apply(&self, page: &Page<'_>) -> Result<Option<Inverse>, Fault> {
        withdraw(page, &self.readings, true)?;
        for setup in &self.setups {
            SetupWithdraw { setup: setup.clone() }.apply(page)?;
        }
        if let Some(plan) = &self.plan {
            page.put("plan", Some(plan))?;
        }
        Ok(None)
    }
}

impl Apply for RoomImport {
    fn check(&self, page: &Page<'_>) -> Result<(), Fault> {
        if page.tx.rooms().get(page.room)?.is_some() {
            return Err(Refusal::new(Kind::AlreadyThere, "This room is already here.").field("room").into());
        }
        check_id(page.room.as_str())?;
        Ok(check_file(&RoomFile::read(&self.file)?)?)
    }

    /// Writes the room as the file states it.
    fn apply(&self, page: &Page<'_>) -> Result<Option<Inverse>, Fault> {
        let file = RoomFile::read(&self.file)?;
        let RoomHead { name, units, place, created, .. } = file.room;
        RoomNew { name, units, place, created }.apply(page)?;
        page.put("plan", Some(&file.plan))?;
        if file.rules != Rules::default() {
            page.put("rules", Some(&file.rules))?;
        }
        page.put("layers", file.layers.as_ref())?;
        page.put_works(&file.works)?;
        page.put("target", file.target.as_ref())?;
        file.setups.iter().try_for_each(|setup| put_setup(page, setup))?;
        file.readings.iter().try_for_each(|reading| put_reading(page, reading))?;
        file.gate.iter().try_for_each(|answer| GateSet { answer: answer.clone() }.apply(page).map(drop))?;
        file.approvals
            .iter()
            .try_for_each(|approval| ApprovalAdd { approval: approval.clone() }.apply(page).map(drop))?;
        file.entries.iter().try_for_each(|entry| EntryPut { entry: entry.clone() }.apply(page).map(drop))?;
        file.done.iter().try_for_each(|item| TickSet { item: item.clone(), done: true }.apply(page).map(drop))?;
        Ok(None)
    }
}

fn put_setup(page: &Page<'_>, setup: &Setup) -> Result<(), Fault> {
    let Setup { id, survey, instrument, sd_mm, benchmark, opening, closing, withdrawn } = setup.clone();
    SetupOpen { setup: id.clone(), survey, instrument, sd_mm, benchmark, opening }.apply(page)?;
    if closing.is_some() {
        SetupClose { setup: id.clone(), closing }.apply(page)?;
    }
    if withdrawn {
        SetupWithdraw { setup: id }.apply(page)?;
    }
    Ok(())
}

fn put_reading(page: &Page<'_>, reading: &Reading) -> Result<(), Fault> {
    insert(page, &as_added(reading))?;
    if reading.withdrawn {
        withdraw(page, std::slice::from_ref(&reading.id), true)?;
    }
    Ok(())
}
