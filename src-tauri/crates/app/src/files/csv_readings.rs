//! Readings from a CSV file: one import, one journal entry, nothing half-written.
//!
//! The header is required. Every length column says its unit in its name: `_mm`, `_in`, or `_text` for site notation.
//! A row whose point is `BM` reads the benchmark: the first of a set-up opens it, the second closes it.

mod cells;
mod columns;
mod compare;
mod rows;
mod write;

pub(crate) use compare::check_against;
pub(crate) use write::write;

use crate::app::{App, record};
use crate::forms::{CsvAsk, CsvLook, Imported, RoomFile};
use crate::rooms::private::each_of_readings;
use crate::rooms::sealing::Sealing;
use judge::forms::json;
use judge::{Kind, Refusal};
use std::collections::HashSet;
use store::{Entry, RoomId};

/// The most rows one import takes.
pub const MOST_ROWS: usize = 20_000;

impl App {
    /// Takes readings in from a CSV file.
    ///
    /// # Errors
    /// `wrong-header`, `too-many-rows` with the count, `datum-or-link-missing`, or what is wrong with a row, with its
    /// line number; nothing was written then.
    pub fn import_readings(&self, ask: &CsvAsk) -> Result<Imported, Refusal> {
        let file = self.room_state(&ask.room)?;
        let mut import = read(&file, ask, &self.clock.now())?;
        let readings = import.readings.len() as u32;
        let mut sealing = Sealing::of(self, &ask.id)?;
        each_of_readings(&mut import.readings, &mut |_, text| sealing.seal(text))?;
        let entry =
            Entry::new(ask.id.as_str(), &self.clock.now(), self.device(), "readings-import", json::write(&import)?);
        let written = self.change(|tx| {
            sealing.keep(tx)?;
            record(tx, entry.in_room(&RoomId::from(ask.room.as_str())))
        })?;
        self.tell(&ask.room, written);
        Ok(Imported { room: ask.room.clone(), readings })
    }
}

impl App {
    /// What a table of readings would bring in, before anything is done.
    ///
    /// # Errors
    /// As [`App::import_readings`].
    pub fn look_at_readings(&self, ask: &CsvAsk) -> Result<CsvLook, Refusal> {
        let file = self.room_state(&ask.room)?;
        let import = read(&file, ask, &self.clock.now())?;
        let known = file.plan.points.len();
        let read: HashSet<&str> = judge::room::current_readings(&file).map(|one| one.point.as_str()).collect();
        let new: HashSet<&str> = import.readings.iter().map(|one| one.point.as_str()).collect();
        let first = import.readings.iter().take(SHOWN).map(|one| (one.point.clone(), one.entered.clone()));
        Ok(CsvLook {
            readings: import.readings.len() as u32,
            points: import.plan.as_ref().map_or(0, |plan| plan.points.len().saturating_sub(known)) as u32,
            setups: import.setups.len() as u32,
            again: new.intersection(&read).count() as u32,
            first: first.collect(),
        })
    }
}

/// So many readings of a table are shown before it is taken in.
const SHOWN: usize = 5;

/// The import that a CSV text means in a room.
fn read(file: &RoomFile, ask: &CsvAsk, now: &str) -> Result<crate::forms::ReadingsImport, Refusal> {
    let text = ask.csv.strip_prefix('\u{feff}').unwrap_or(&ask.csv);
    // Lines are counted at their ends, which the spreadsheets of the world write in three ways.
    let text = text.replace("\r\n", "\n").replace('\r', "\n");
    let mut reader = csv::ReaderBuilder::new().trim(csv::Trim::All).flexible(false).from_reader(text.as_bytes());
    let header = reader.headers().map_err(|error| unreadable(&error))?.clone();
    let columns = columns::Columns::of(&header)?;
    let mut records = Vec::new();
    let mut count = 0usize;
    for record in reader.records() {
        count += 1;
        if count <= MOST_ROWS {
            records.push(record.map_err(|error| unreadable(&error))?);
        }
    }
    if count > MOST_ROWS {
        let message = format!("The file has {count} rows; one import takes at most {MOST_ROWS}. Split the file.");
        return Err(Refusal::new(Kind::TooManyRows, message).field("csv"));
    }
    rows::import(file, &columns, &records, &ask.id, now)
}

fn unreadable(error: &csv::Error) -> Refusal {
    let line = error.position().map(|position| position.line());
    let place = line.map_or("csv".to_string(), |line| format!("line {line}"));
    Refusal::new(Kind::WrongHeader, format!("{place}: the row does not have the columns of the header ({error})."))
        .field(place)
}
