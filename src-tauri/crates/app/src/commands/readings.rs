//! Readings are added, corrected by later ones, and taken back; none is ever overwritten.

use super::{Apply, Page, inverse};
use crate::fault::Fault;
use crate::forms::{FromInstrument, Plan, Reading, ReadingAdd, ReadingsWithdraw, Sense, Units};
use data_encoding::{HEXLOWER, HEXLOWER_PERMISSIVE};
use judge::forms::fields::{length, positive};
use judge::forms::time::check_time;
use judge::reading::length_text;
use judge::room::rules::Figures;
use judge::{Kind, Refusal};
use store::{Inverse, Measured, ProfileName, ReadingId, SetupId};
use survey::PlanPosition;
use survey::units::{Length, Slope};

impl Apply for ReadingAdd {
    fn check(&self, page: &Page<'_>) -> Result<(), Fault> {
        check_numbers(self)?;
        if !(self.setup.is_empty() && self.sense.stands_alone()) {
            page.setup(&self.setup)?;
        }
        let plan: Option<Plan> = page.document("plan")?;
        if !plan.is_some_and(|plan| plan.points.iter().any(|point| point.id == self.point)) {
            return Err(Refusal::not_found("point", &self.point).field("point").into());
        }
        check_entered(page, &self.entered, self.value, self.sense)
    }

    fn apply(&self, page: &Page<'_>) -> Result<Option<Inverse>, Fault> {
        insert(page, self)?;
        inverse(&ReadingsWithdraw { readings: vec![self.reading.clone()], withdrawn: true })
    }
}

/// Whether a typed text means the value that came with it.
///
/// # Errors
/// `not-understood`, or `does-not-fit` where it means another.
fn check_entered(page: &Page<'_>, text: &str, value: f64, sense: Sense) -> Result<(), Fault> {
    if sense == Sense::Tilt {
        return Ok(());
    }
    let room = page.tx.rooms().get(page.room)?.ok_or_else(|| Refusal::not_found("room", page.room.as_str()))?;
    let units = if room.units == store::Units::Inches { Units::In } else { Units::Mm };
    let figures = Figures::of(&page.rules()?);
    let meant = length_text::parse("entered", text, units, &figures)?;
    if (meant - Length::mm(value)).abs().at_most(Length::ZERO) {
        return Ok(());
    }
    let message = format!("{text:?} means {} mm, but {value} mm came with it.", meant.to_mm());
    Err(Refusal::new(Kind::DoesNotFit, message).field("value").into())
}

/// Whether the numbers of a reading can be measurements, and its time one.
///
/// # Errors
/// A refusal that names the field.
pub(super) fn check_numbers(reading: &ReadingAdd) -> Result<(), Refusal> {
    length("value", reading.value)?;
    positive("sd_mm", reading.sd_mm)?;
    raw(reading)?;
    if let Some(mm) = reading.length {
        positive("length", mm)?;
    }
    reading.at.as_deref().map_or(Ok(()), |at| check_time("at", at))
}

/// Writes one reading into its table.
pub(super) fn insert(page: &Page<'_>, reading: &ReadingAdd) -> Result<(), Fault> {
    let at = reading.at.as_deref().unwrap_or(page.at).to_string();
    let by = reading.by.clone().or_else(|| page.person.map(str::to_string));
    page.tx.readings().insert(&store::Reading {
        room: page.room.clone(),
        id: ReadingId::from(reading.reading.as_str()),
        setup: (!reading.setup.is_empty()).then(|| SetupId::from(reading.setup.as_str())),
        point: reading.point.clone(),
        measured: measured(reading),
        entered: reading.entered.clone(),
        edge: reading.edge.clone(),
        source: reading.source.clone(),
        raw: raw(reading)?,
        profile: reading
            .from
            .as_ref()
            .map(|from| ProfileName { name: from.profile.clone(), version: from.profile_version }),
        at,
        by,
        sd: Some(Length::mm(reading.sd_mm)),
        note: reading.note.clone(),
        supersedes: reading.supersedes.as_deref().map(ReadingId::from),
        withdrawn: false,
    })?;
    Ok(())
}

/// The bytes an instrument sent.
fn raw(reading: &ReadingAdd) -> Result<Option<Vec<u8>>, Refusal> {
    let Some(from) = &reading.from else { return Ok(None) };
    let bytes = HEXLOWER_PERMISSIVE.decode(from.raw.as_bytes()).ok();
    bytes.map(Some).ok_or_else(|| Refusal::out_of_range("from.raw", "pairs of hexadecimal digits"))
}

fn measured(reading: &ReadingAdd) -> Measured {
    let value = Length::mm(reading.value);
    let length = reading.length.map(Length::mm);
    let to = reading.to.map(|(x, y)| PlanPosition { x: Length::mm(x), y: Length::mm(y) });
    match reading.sense {
        Sense::Down => Measured::Down(value),
        Sense::Up => Measured::Up(value),
        Sense::Gap => Measured::Gap { gap: value, length, to },
        Sense::Tilt => Measured::Tilt { tilt: Slope::ratio(reading.value), foot: length, to },
    }
}

impl Apply for ReadingsWithdraw {
    fn check(&self, page: &Page<'_>) -> Result<(), Fault> {
        for id in &self.readings {
            if page.tx.readings().get(page.room, &ReadingId::from(id.as_str()))?.is_none() {
                return Err(Refusal::new(Kind::NotFound, format!("There is no reading {id:?} here."))
                    .field("readings")
                    .into());
            }
        }
        Ok(())
    }

    fn apply(&self, page: &Page<'_>) -> Result<Option<Inverse>, Fault> {
        let mut changed = Vec::new();
        for id in &self.readings {
            let old = page.tx.readings().get(page.room, &ReadingId::from(id.as_str()))?;
            if old.is_some_and(|old| old.withdrawn != self.withdrawn) && !changed.contains(id) {
                changed.push(id.clone());
            }
        }
        withdraw(page, &self.readings, self.withdrawn)?;
        // What was as it is now stays so when this is undone.
        inverse(&ReadingsWithdraw { readings: changed, withdrawn: !self.withdrawn })
    }
}

/// Marks readings as taken back, or as in force again.
pub(super) fn withdraw(page: &Page<'_>, readings: &[String], withdrawn: bool) -> Result<(), Fault> {
    for id in readings {
        page.tx.readings().set_withdrawn(page.room, &ReadingId::from(id.as_str()), withdrawn)?;
    }
    Ok(())
}

/// What an instrument sent, if one did.
fn from_instrument(row: &store::Reading) -> Option<FromInstrument> {
    let (raw, profile) = (row.raw.as_ref()?, row.profile.as_ref()?);
    let device = row.source.strip_prefix("device:").unwrap_or(&row.source).to_string();
    Some(FromInstrument {
        device,
        profile: profile.name.clone(),
        profile_version: profile.version,
        raw: HEXLOWER.encode(raw),
    })
}

/// A reading as it travels.
pub(crate) fn reading(row: store::Reading) -> Reading {
    let sense = match row.measured {
        Measured::Down(_) => Sense::Down,
        Measured::Up(_) => Sense::Up,
        Measured::Gap { .. } => Sense::Gap,
        Measured::Tilt { .. } => Sense::Tilt,
    };
    let (value, length, to) = match row.measured {
        Measured::Down(value) | Measured::Up(value) => (value.to_mm(), None, None),
        Measured::Gap { gap, length, to } => (gap.to_mm(), length, to),
        Measured::Tilt { tilt, foot, to } => (tilt.to_ratio(), foot, to),
    };
    let from = from_instrument(&row);
    Reading {
        id: row.id.to_string(),
        setup: row.setup.map(|setup| setup.to_string()).unwrap_or_default(),
        point: row.point,
        sense,
        entered: row.entered,
        value,
        sd_mm: row.sd.map(Length::to_mm).unwrap_or_default(),
        source: row.source,
        at: row.at,
        by: row.by,
        edge: row.edge,
        length: length.map(Length::to_mm),
        to: to.map(|to| (to.x.to_mm(), to.y.to_mm())),
        note: row.note,
        supersedes: row.supersedes.map(|id| id.to_string()),
        from,
        withdrawn: row.withdrawn,
    }
}

/// A reading of a file as the command that adds it.
pub(super) fn as_added(reading: &Reading) -> ReadingAdd {
    let Reading {
        id,
        setup,
        point,
        sense,
        entered,
        value,
        sd_mm,
        source,
        at,
        by,
        edge,
        length,
        to,
        note,
        supersedes,
        from,
        ..
    } = reading.clone();
    ReadingAdd {
        reading: id,
        setup,
        point,
        sense,
        entered,
        value,
        sd_mm,
        source,
        edge,
        length,
        to,
        note,
        supersedes,
        at: Some(at),
        by,
        from,
    }
}
