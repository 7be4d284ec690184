//! Entries of the record are put and taken off; what they were stays in the journal.

use super::{Apply, Page, inverse};
use crate::fault::Fault;
use crate::forms::*;
use judge::Refusal;
use judge::forms::bounds::{HOURS, MINUTES, OHMS, WASTE, within};
use judge::forms::time::is_time;
use store::Inverse;

/// How the document of an entry is called.
pub(crate) const PREFIX: &str = "entry/";

impl Apply for EntryPut {
    fn check(&self, _page: &Page<'_>) -> Result<(), Fault> {
        check_entry(&self.entry)?;
        Ok(bounded(&self.entry.what)?)
    }

    fn apply(&self, page: &Page<'_>) -> Result<Option<Inverse>, Fault> {
        let name = format!("{PREFIX}{}", self.entry.id);
        let old: Option<RecordEntry> = page.document(&name)?;
        page.put(&name, Some(&self.entry))?;
        match old {
            Some(entry) => inverse(&EntryPut { entry }),
            None => inverse(&EntryRemove { entry: self.entry.id.clone() }),
        }
    }
}

impl Apply for EntryRemove {
    fn apply(&self, page: &Page<'_>) -> Result<Option<Inverse>, Fault> {
        let name = format!("{PREFIX}{}", self.entry);
        let old: Option<RecordEntry> = page.document(&name)?;
        let entry = old.ok_or_else(|| Refusal::not_found("entry", &self.entry).field("entry"))?;
        page.put::<RecordEntry>(&name, None)?;
        inverse(&EntryPut { entry })
    }
}

/// Whether an entry can be one.
///
/// # Errors
/// A refusal that names the field.
pub(crate) fn check_entry(entry: &RecordEntry) -> Result<(), Refusal> {
    if entry.id.trim().is_empty() {
        return Err(Refusal::out_of_range("entry.id", "an id made where it was entered"));
    }
    time("entry.at", &entry.at)?;
    match &entry.what {
        EntryKind::Flood(test) => flood(test),
        EntryKind::Cure(cure) => {
            more_than_zero("hours", cure.hours).and_then(|()| time("entry.what.finished", &cure.finished))
        }
        EntryKind::HeatCable(cable) => heat_cable(cable),
        EntryKind::Moisture(one) => more_than_zero("most", one.most)
            .and_then(|()| zero_or_more("u", one.u))
            .and_then(|()| zero_or_more("value", one.value)),
        EntryKind::Coating(one) => more_than_zero("least", one.least)
            .and_then(|()| zero_or_more("u", one.u))
            .and_then(|()| zero_or_more("value", one.value)),
        EntryKind::SlopeWater(one) => zero_or_more("minutes", one.minutes),
        EntryKind::Photograph(one) => digest(&one.sha256),
        EntryKind::Hidden(one) if one.places.is_empty() => {
            Err(Refusal::out_of_range("entry.what.places", "one place or more"))
        }
        EntryKind::AsBuilt(built) => as_built(built),
        EntryKind::Hidden(_) | EntryKind::Material(_) => Ok(()),
        EntryKind::Note(_) | EntryKind::Person(_) | EntryKind::SignOff(_) => Ok(()),
    }
}

/// Whether the numbers of a new entry are such as a site has; what a file brings is taken as it was kept.
fn bounded(what: &EntryKind) -> Result<(), Refusal> {
    match what {
        EntryKind::Flood(test) => within("entry.what.hours", Some(test.hours), HOURS),
        EntryKind::Cure(cure) => within("entry.what.hours", Some(cure.hours), HOURS),
        EntryKind::SlopeWater(one) => within("entry.what.minutes", Some(one.minutes), MINUTES),
        EntryKind::HeatCable(cable) => {
            within("entry.what.label_ohms", Some(cable.label_ohms), OHMS)?;
            within("entry.what.more", Some(cable.more), WASTE)?;
            cable.readings.iter().enumerate().try_for_each(|(k, reading)| {
                within(&format!("entry.what.readings[{k}].ohms"), Some(reading.ohms), OHMS)
            })
        }
        _ => Ok(()),
    }
}

fn flood(test: &FloodTest) -> Result<(), Refusal> {
    more_than_zero("hours", test.hours)?;
    more_than_zero("depth", test.depth)?;
    test.marks.iter().enumerate().try_for_each(|(k, mark)| time(&format!("entry.what.marks[{k}].at"), &mark.at))
}

fn heat_cable(cable: &HeatCable) -> Result<(), Refusal> {
    more_than_zero("label_ohms", cable.label_ohms)?;
    zero_or_more("less", cable.less)?;
    zero_or_more("more", cable.more)?;
    if cable.less > 1.0 {
        return Err(Refusal::out_of_range(
            "entry.what.less",
            "a part of the label, such as 0.05 for five in a hundred",
        ));
    }
    cable.readings.iter().enumerate().try_for_each(|(k, reading)| {
        time(&format!("entry.what.readings[{k}].at"), &reading.at)?;
        zero_or_more(&format!("readings[{k}].ohms"), reading.ohms)?;
        zero_or_more(&format!("readings[{k}].u"), reading.u)
    })
}

fn as_built(built: &AsBuilt) -> Result<(), Refusal> {
    if built.layers.is_empty() {
        return Err(Refusal::out_of_range("entry.what.layers", "one layer or more"));
    }
    built.layers.iter().enumerate().try_for_each(|(k, layer)| {
        if layer.name.trim().is_empty() {
            return Err(Refusal::out_of_range(format!("entry.what.layers[{k}].name"), "what the layer is"));
        }
        let parts = [("thickness", Some(layer.thickness)), ("at_drain", layer.at_drain), ("u", layer.u)];
        parts.into_iter().try_for_each(|(part, value)| match value {
            Some(value) => zero_or_more(&format!("layers[{k}].{part}"), value),
            None => Ok(()),
        })
    })
}

fn time(field: &str, text: &str) -> Result<(), Refusal> {
    match is_time(text) {
        true => Ok(()),
        false => Err(Refusal::out_of_range(field, "a time with its offset, like 2031-04-02T07:31:05-05:00")),
    }
}

fn more_than_zero(field: &str, value: f64) -> Result<(), Refusal> {
    if value > 0.0 { Ok(()) } else { Err(Refusal::out_of_range(format!("entry.what.{field}"), "more than zero")) }
}

fn zero_or_more(field: &str, value: f64) -> Result<(), Refusal> {
    if value >= 0.0 { Ok(()) } else { Err(Refusal::out_of_range(format!("entry.what.{field}"), "zero or more")) }
}

fn digest(text: &str) -> Result<(), Refusal> {
    let fits = text.len() == 64 && text.bytes().all(|byte| matches!(byte, b'0'..=b'9' | b'a'..=b'f'));
    if fits { Ok(()) } else { Err(Refusal::out_of_range("entry.what.sha256", "64 lower-case hexadecimal digits")) }
}
