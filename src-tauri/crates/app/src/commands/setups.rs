//! Set-ups: the instrument is stood up, the benchmark read; at the end it is read again.

use super::{Apply, Page, inverse};
use crate::fault::Fault;
use crate::forms::{Benchmark, Entered, Plan, Setup, SetupClose, SetupOpen, SetupWithdraw};
use judge::forms::fields::{length, positive};
use judge::forms::time::check_time;
use judge::{Kind, Refusal};
use store::{Inverse, SetupId, Sighting};
use survey::units::Length;

impl Apply for SetupOpen {
    fn check(&self, page: &Page<'_>) -> Result<(), Fault> {
        check_opened(self)?;
        let plan: Option<Plan> = page.document("plan")?;
        if plan.is_some_and(|plan| !plan.surveys.iter().any(|survey| survey.id == self.survey)) {
            return Err(Refusal::not_found("survey", &self.survey).field("survey").into());
        }
        Ok(())
    }

    fn apply(&self, page: &Page<'_>) -> Result<Option<Inverse>, Fault> {
        let id = SetupId::from(self.setup.as_str());
        match page.tx.setups().get(page.room, &id)? {
            // One that stands already stays when this is undone.
            Some(old) if !old.withdrawn => return inverse(self),
            Some(_) => page.tx.setups().set_withdrawn(page.room, &id, false)?,
            None => page.tx.setups().insert(&row(page, &id, self))?,
        }
        inverse(&SetupWithdraw { setup: self.setup.clone() })
    }
}

/// Whether the numbers and times of a set-up that is opened can be such.
///
/// # Errors
/// A refusal that names the field.
pub(super) fn check_opened(open: &SetupOpen) -> Result<(), Refusal> {
    positive("sd_mm", open.sd_mm)?;
    length("benchmark.height", open.benchmark.height)?;
    check_read("opening", &open.opening)
}

/// The same of a benchmark that was read.
///
/// # Errors
/// A refusal that names the field.
pub(super) fn check_read(field: &str, read: &Entered) -> Result<(), Refusal> {
    length(&format!("{field}.mm"), read.mm)?;
    check_time(&format!("{field}.at"), &read.at)
}

fn row(page: &Page<'_>, id: &SetupId, open: &SetupOpen) -> store::Setup {
    store::Setup {
        room: page.room.clone(),
        id: id.clone(),
        survey: open.survey.clone(),
        instrument: open.instrument.clone(),
        method: String::new(),
        sd: Some(Length::mm(open.sd_mm)),
        benchmark: Some(open.benchmark.name.clone()),
        benchmark_height: Some(Length::mm(open.benchmark.height)),
        opened_at: open.opening.at.clone(),
        opening: Some(sighting(&open.opening)),
        closed_at: None,
        closing: None,
        withdrawn: false,
    }
}

fn sighting(entered: &Entered) -> Sighting {
    Sighting { entered: entered.text.clone(), value: Length::mm(entered.mm) }
}

impl Apply for SetupWithdraw {
    fn apply(&self, page: &Page<'_>) -> Result<Option<Inverse>, Fault> {
        let id = SetupId::from(self.setup.as_str());
        let old = page.setup(&self.setup)?;
        if old.withdrawn {
            return inverse(self);
        }
        page.tx.setups().set_withdrawn(page.room, &id, true)?;
        inverse(&SetupOpen {
            setup: old.id,
            survey: old.survey,
            instrument: old.instrument,
            sd_mm: old.sd_mm,
            benchmark: old.benchmark,
            opening: old.opening,
        })
    }
}

impl Apply for SetupClose {
    fn check(&self, page: &Page<'_>) -> Result<(), Fault> {
        self.closing.as_ref().map_or(Ok(()), |closing| check_read("closing", closing))?;
        page.setup(&self.setup).map(drop)
    }

    fn apply(&self, page: &Page<'_>) -> Result<Option<Inverse>, Fault> {
        let id = SetupId::from(self.setup.as_str());
        let old = page.setup(&self.setup)?;
        match &self.closing {
            Some(closing) => page.tx.setups().close(page.room, &id, &closing.at, Some(&sighting(closing)))?,
            None => page.tx.setups().reopen(page.room, &id)?,
        }
        inverse(&SetupClose { setup: self.setup.clone(), closing: old.closing })
    }
}

impl Page<'_> {
    /// A set-up that must be there.
    pub(super) fn setup(&self, id: &str) -> Result<Setup, Fault> {
        let row = self.tx.setups().get(self.room, &SetupId::from(id))?;
        Ok(row.and_then(setup).ok_or_else(|| {
            let message = format!(
                "There is no set-up {id:?} in this room. Stand the instrument up and read the benchmark first."
            );
            Refusal::new(Kind::NotFound, message).field("setup")
        })?)
    }
}

/// A set-up as it travels; none for a row without a benchmark, which nothing here writes.
pub(crate) fn setup(row: store::Setup) -> Option<Setup> {
    let opening = row.opening?;
    let closing = row.closing.map(|closing| Entered {
        text: closing.entered,
        mm: closing.value.to_mm(),
        at: row.closed_at.clone().unwrap_or_default(),
    });
    Some(Setup {
        id: row.id.to_string(),
        survey: row.survey,
        instrument: row.instrument,
        sd_mm: row.sd?.to_mm(),
        benchmark: Benchmark { name: row.benchmark?, height: row.benchmark_height?.to_mm() },
        opening: Entered { text: opening.entered, mm: opening.value.to_mm(), at: row.opened_at },
        closing,
        withdrawn: row.withdrawn,
    })
}
