//! The rows of a CSV of readings, as one import.

use super::cells::length;
use super::columns::{Columns, LengthColumn};
use crate::forms::*;
use csv::StringRecord;
use judge::forms::fields;
use judge::forms::time::is_time;
use judge::room::rules::{Figures, LengthId};
use judge::{Kind, Refusal};
use std::collections::{HashMap, HashSet};

/// The name that stands for the benchmark in the column of points.
const BENCHMARK: &str = "BM";

/// The import that rows mean in a room.
///
/// # Errors
/// What is wrong with the first bad row, with its line number.
pub(super) fn import(
    file: &RoomFile,
    columns: &Columns,
    records: &[StringRecord],
    id: &str,
    now: &str,
) -> Result<ReadingsImport, Refusal> {
    let mut table = Table {
        file,
        columns,
        figures: Figures::of(&file.rules),
        id,
        now,
        plan: file.plan.clone(),
        setups: HashMap::new(),
        closings: Vec::new(),
        read_up: HashSet::new(),
        height: None,
        readings: Vec::new(),
    };
    records.iter().try_for_each(|record| table.take(record))?;
    let plan = (table.plan != file.plan).then_some(table.plan);
    let height = table.height.or_else(|| known_height(file)).unwrap_or(0.0);
    let tied = |open: SetupOpen| SetupOpen { benchmark: Benchmark { height, ..open.benchmark.clone() }, ..open };
    let mut setups: Vec<SetupOpen> = table.setups.into_values().map(tied).collect();
    setups.sort_by(|a, b| a.setup.cmp(&b.setup));
    Ok(ReadingsImport { setups, readings: table.readings, plan, closings: table.closings })
}

/// The height over the datum of the benchmark that an earlier file brought.
fn known_height(file: &RoomFile) -> Option<f64> {
    let earlier = file.setups.iter().find(|setup| setup.benchmark.name == BENCHMARK && !setup.withdrawn)?;
    Some(earlier.benchmark.height)
}

struct Table<'a> {
    file: &'a RoomFile,
    columns: &'a Columns,
    figures: Figures,
    id: &'a str,
    now: &'a str,
    plan: Plan,
    setups: HashMap<String, SetupOpen>,
    closings: Vec<SetupClose>,
    /// The set-ups whose benchmark was read up from the datum: there is no line to read down from.
    read_up: HashSet<String>,
    /// How high the benchmark stands over the datum, by the first row that reads it up.
    height: Option<f64>,
    readings: Vec<ReadingAdd>,
}

/// The length of a straightedge or foot, and where its other end lies.
type Reach = (Option<f64>, Option<(f64, f64)>);

/// One row and where it stands in the file.
struct Row<'a> {
    record: &'a StringRecord,
    line: u64,
}

impl<'a> Row<'a> {
    fn cell(&self, column: usize) -> &'a str {
        self.record.get(column).unwrap_or_default()
    }

    fn text(&self, column: Option<usize>) -> Option<String> {
        column.map(|column| self.cell(column)).filter(|cell| !cell.is_empty()).map(str::to_string)
    }

    fn place(&self, column: &str) -> String {
        format!("line {}: {column}", self.line)
    }

    fn refuse(&self, kind: Kind, column: &str, what: &str) -> Refusal {
        let place = self.place(column);
        Refusal::new(kind, format!("{place}: {what}")).field(place)
    }
}

impl Table<'_> {
    fn take(&mut self, record: &StringRecord) -> Result<(), Refusal> {
        let row = Row { record, line: record.position().map_or(0, |position| position.line()) };
        let point = row.cell(self.columns.point);
        if point.is_empty() {
            return Err(row.refuse(Kind::MissingField, "point", "the name of the point is missing."));
        }
        // What was corrected or taken back stands in the file as evidence and is not read in.
        if row.text(self.columns.stands).is_some_and(|stands| stands != "in force") {
            return Ok(());
        }
        if point == BENCHMARK { self.take_benchmark(&row) } else { self.take_reading(&row, point) }
    }

    /// The first row of a set-up's benchmark opens it, the second closes it.
    fn take_benchmark(&mut self, row: &Row<'_>) -> Result<(), Refusal> {
        let setup = self.setup_name(row)?;
        let sense = self.check_benchmark(row)?;
        let here = self.file.setups.iter().any(|known| known.id == setup);
        if here || self.closed(&setup) {
            let what = "this set-up has its benchmark already. Give the second one another name.";
            return Err(row.refuse(Kind::AlreadyThere, "setup", what));
        }
        let read = self.entered(row)?;
        if self.setups.contains_key(&setup) {
            self.closings.push(SetupClose { setup, closing: Some(read) });
            return Ok(());
        }
        if sense == Sense::Up {
            self.read_up.insert(setup.clone());
            self.height.get_or_insert(read.mm);
        }
        let open = SetupOpen {
            setup: setup.clone(),
            survey: self.survey(),
            instrument: "from a file".to_string(),
            sd_mm: self.sd(row)?,
            benchmark: Benchmark { name: BENCHMARK.to_string(), height: 0.0 },
            opening: read,
        };
        self.setups.insert(setup, open);
        Ok(())
    }

    /// The sense of a benchmark's row, which has neither name nor note.
    fn check_benchmark(&self, row: &Row<'_>) -> Result<Sense, Refusal> {
        let sense = sense(row, row.cell(self.columns.sense))?;
        if !matches!(sense, Sense::Down | Sense::Up) {
            return Err(row.refuse(Kind::NotUnderstood, "sense", "a benchmark is read down from the line, or up."));
        }
        for (name, column) in [("by", self.columns.by), ("note", self.columns.note)] {
            if row.text(column).is_some() {
                let what = "a benchmark keeps no name and no note. Leave the cell empty, or write it beside a reading.";
                return Err(row.refuse(Kind::OutOfRange, name, what));
            }
        }
        Ok(sense)
    }

    fn closed(&self, setup: &str) -> bool {
        self.closings.iter().any(|closing| closing.setup == setup)
    }

    fn take_reading(&mut self, row: &Row<'_>, point: &str) -> Result<(), Refusal> {
        let sense = sense(row, row.cell(self.columns.sense))?;
        let alone = row.cell(self.columns.setup).is_empty() && sense.stands_alone();
        let setup = if alone { String::new() } else { self.setup_name(row)? };
        if !alone {
            self.check_setup(row, sense, &setup)?;
        }
        if self.closed(&setup) {
            let what = "this set-up was closed by its second BM row. Put that row behind its readings.";
            return Err(row.refuse(Kind::DoesNotFit, "setup", what));
        }
        self.place_point(row, point)?;
        let entered = self.entered(row)?;
        let (length, to) = self.reach(row, sense)?;
        let value = match (sense, length) {
            (Sense::Tilt, Some(foot)) => entered.mm / foot,
            _ => entered.mm,
        };
        fields::length(&row.place("reading"), value)?;
        self.readings.push(ReadingAdd {
            reading: format!("{}-{}", self.id, self.readings.len() + 1),
            setup,
            point: point.to_string(),
            sense,
            entered: entered.text,
            value,
            sd_mm: self.sd(row)?,
            source: "csv".to_string(),
            edge: None,
            length,
            to,
            note: row.text(self.columns.note),
            supersedes: None,
            at: Some(entered.at),
            by: row.text(self.columns.by),
            from: None,
        });
        Ok(())
    }

    /// Whether the set-up of a reading has a benchmark that its sense goes with.
    fn check_setup(&self, row: &Row<'_>, sense: Sense, setup: &str) -> Result<(), Refusal> {
        let opened = self.setups.contains_key(setup)
            || self.file.setups.iter().any(|known| known.id == setup && !known.withdrawn);
        if !opened {
            let what = format!("the set-up {setup:?} has no benchmark. Put its BM row before its readings.");
            return Err(row.refuse(Kind::DatumOrLinkMissing, "setup", &what));
        }
        if sense == Sense::Down && self.read_up.contains(setup) {
            let what = "its benchmark was read up from the datum, so there is no line to read down from. Give the \
                        readings down a set-up of their own.";
            return Err(row.refuse(Kind::DoesNotFit, "sense", what));
        }
        Ok(())
    }

    fn setup_name(&self, row: &Row<'_>) -> Result<String, Refusal> {
        let name = row.cell(self.columns.setup);
        if name.is_empty() {
            Err(row.refuse(Kind::DatumOrLinkMissing, "setup", "a reading needs the set-up it was taken from."))
        } else {
            Ok(name.to_string())
        }
    }

    fn cell(&self, row: &Row<'_>, column: LengthColumn, name: &str) -> Result<Option<f64>, Refusal> {
        let Some((at, unit)) = column else { return Ok(None) };
        let cell = row.cell(at);
        if cell.is_empty() {
            return Ok(None);
        }
        length(cell, unit, &row.place(name), self.file, &self.figures).map(Some)
    }

    fn entered(&self, row: &Row<'_>) -> Result<Entered, Refusal> {
        let mm = self.cell(row, self.columns.reading, "reading")?;
        let Some(mm) = mm else { return Err(row.refuse(Kind::MissingField, "reading", "the reading is missing.")) };
        let at = row.text(self.columns.time).unwrap_or_else(|| self.now.to_string());
        if !is_time(&at) {
            return Err(row.refuse(Kind::NotUnderstood, "time", "a time reads like 2031-04-02T07:31:05-05:00."));
        }
        let written = self.columns.reading.map(|(at, _)| row.cell(at).to_string()).unwrap_or_default();
        let text = row.text(self.columns.entered).unwrap_or(written);
        Ok(Entered { text, mm, at })
    }

    fn sd(&self, row: &Row<'_>) -> Result<f64, Refusal> {
        let sd =
            self.cell(row, self.columns.sd, "sd")?.unwrap_or_else(|| self.figures.length(LengthId::ReadingSd).to_mm());
        if sd > 0.0 {
            Ok(sd)
        } else {
            Err(row.refuse(Kind::OutOfRange, "sd", "the standard deviation must be more than zero."))
        }
    }

    /// The length of a straightedge or foot, and where its other end lies.
    fn reach(&self, row: &Row<'_>, sense: Sense) -> Result<Reach, Refusal> {
        let column = if sense == Sense::Tilt { self.columns.foot.or(self.columns.length) } else { self.columns.length };
        let length = self.cell(row, column, if sense == Sense::Tilt { "foot" } else { "length" })?;
        let to = self.cell(row, self.columns.x2, "x2")?.zip(self.cell(row, self.columns.y2, "y2")?);
        match (sense, length) {
            (Sense::Gap, None) => {
                Err(row.refuse(Kind::MissingField, "length", "a gap needs the length of the straightedge."))
            }
            (Sense::Tilt, None) => Err(row.refuse(Kind::MissingField, "foot", "a tilt needs the length of its foot.")),
            (_, Some(length)) if length <= 0.0 => {
                Err(row.refuse(Kind::OutOfRange, "length", "it must be more than zero."))
            }
            _ => Ok((length, to)),
        }
    }

    /// Puts a point on the plan that is not there yet.
    fn place_point(&mut self, row: &Row<'_>, point: &str) -> Result<(), Refusal> {
        let at = self.cell(row, self.columns.x, "x")?.zip(self.cell(row, self.columns.y, "y")?);
        let known = self.plan.points.iter().find(|known| known.id == point);
        match (known, at) {
            (Some(known), Some((x, y))) if (known.x - x).abs() > 0.5 || (known.y - y).abs() > 0.5 => Err(row.refuse(
                Kind::DoesNotFit,
                "point",
                "the plan has this point elsewhere. Give the new place another name.",
            )),
            (Some(_), _) => Ok(()),
            (None, None) => Err(row.refuse(
                Kind::NotFound,
                "point",
                "the plan does not have this point, and the row gives no x and y.",
            )),
            (None, Some((x, y))) => {
                let survey = self.survey();
                if self.plan.surveys.is_empty() {
                    self.plan.surveys.push(Survey {
                        id: survey.clone(),
                        name: "From a file".to_string(),
                        surface: Surface::Floor,
                    });
                }
                let joist = point.split_once('@').map(|(joist, _)| joist.to_string());
                let joist = joist.filter(|id| self.plan.joists.iter().any(|joist| &joist.id == id));
                self.plan.points.push(PlanPoint { id: point.to_string(), survey, x, y, joist });
                Ok(())
            }
        }
    }

    fn survey(&self) -> String {
        self.plan.surveys.first().map_or("from-file".to_string(), |survey| survey.id.clone())
    }
}

fn sense(row: &Row<'_>, cell: &str) -> Result<Sense, Refusal> {
    match cell {
        "down" => Ok(Sense::Down),
        "up" => Ok(Sense::Up),
        "gap" => Ok(Sense::Gap),
        "tilt" => Ok(Sense::Tilt),
        _ => Err(row.refuse(Kind::NotUnderstood, "sense", "the sense is down, up, gap or tilt.")),
    }
}
