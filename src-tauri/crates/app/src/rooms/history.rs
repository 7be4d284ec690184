//! The journal of a room as a readable history.

use crate::app::App;
use crate::forms::{HistoryEntry, HistoryView};
use judge::Refusal;
use serde_json::Value;
use store::{Chain, Entry, Recorded, RoomId, Setup};

impl App {
    /// Every change of a room in order, and whether the chain holds.
    ///
    /// # Errors
    /// Whatever keeps the journal from being read.
    pub fn history(&self, room: &str) -> Result<HistoryView, Refusal> {
        let room = RoomId::from(room);
        self.read(|read| {
            let entries = read.history(Some(&room))?;
            let mut shown = Vec::with_capacity(entries.len());
            let setups = read.setups().of_room(&room)?;
            for recorded in entries {
                let person = recorded.entry.person.as_deref().map(|person| read.reveal(person)).transpose()?.flatten();
                shown.push(entry_view(recorded, person, &setups));
            }
            let broken_at = match read.verify(Some(&room))? {
                Chain::Fits(_) => None,
                Chain::Breaks { seq, .. } => Some(seq),
            };
            Ok(HistoryView { entries: shown, broken_at })
        })
    }
}

fn entry_view(recorded: Recorded, person: Option<String>, setups: &[Setup]) -> HistoryEntry {
    let subject = subject(&recorded.entry);
    let payload: Value = serde_json::from_slice(&recorded.entry.payload).unwrap_or_default();
    let text = |field: &str| payload.get(field).and_then(Value::as_str).map(str::to_string);
    let setup = text("setup").and_then(|id| setups.iter().find(|setup| setup.id.as_str() == id));
    let own = payload.get("sd_mm").and_then(Value::as_f64);
    let sd_mm = own.or_else(|| setup.and_then(|setup| setup.sd).map(|sd| sd.to_mm()));
    let Recorded { seq, entry, hash } = recorded;
    HistoryEntry {
        seq,
        id: entry.id.to_string(),
        at: entry.at,
        person,
        device: entry.device,
        command: entry.command,
        subject,
        entered: text("entered"),
        instrument: setup.map(|setup| setup.instrument.clone()),
        sd_mm,
        undoes: entry.undoes.map(|id| id.to_string()),
        hash: hash.to_string(),
    }
}

/// The point or thing that a change is about, where its payload names one.
pub(crate) fn subject(entry: &Entry) -> Option<String> {
    let payload: Value = serde_json::from_slice(&entry.payload).ok()?;
    let named = ["point", "rule", "item", "setup", "name"].iter().find_map(|field| payload.get(field));
    named
        .or_else(|| payload.pointer("/answer/question"))
        .or_else(|| payload.pointer("/approval/joist"))
        .or_else(|| {
            ["product", "place", "name", "surface", "kind"]
                .iter()
                .find_map(|field| payload.pointer(&format!("/entry/what/{field}")))
        })?
        .as_str()
        .map(str::to_string)
}
