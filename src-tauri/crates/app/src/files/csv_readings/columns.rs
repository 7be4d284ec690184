//! The columns of a CSV of readings, by their names.

use csv::StringRecord;
use judge::{Kind, Refusal};

/// The unit a length column names.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Unit {
    Mm,
    In,
    Text,
}

/// A length column: where it stands and in which unit.
pub(super) type LengthColumn = Option<(usize, Unit)>;

/// Where each column stands.
#[derive(Debug, Default)]
pub(super) struct Columns {
    pub(super) point: usize,
    pub(super) sense: usize,
    pub(super) setup: usize,
    pub(super) reading: LengthColumn,
    pub(super) x: LengthColumn,
    pub(super) y: LengthColumn,
    pub(super) length: LengthColumn,
    pub(super) x2: LengthColumn,
    pub(super) y2: LengthColumn,
    pub(super) foot: LengthColumn,
    pub(super) sd: LengthColumn,
    pub(super) time: Option<usize>,
    pub(super) by: Option<usize>,
    pub(super) note: Option<usize>,
    /// The text as it was entered, where the reading is a number.
    pub(super) entered: Option<usize>,
    /// Whether the reading is in force.
    pub(super) stands: Option<usize>,
}

impl Columns {
    /// The columns that a header names.
    ///
    /// # Errors
    /// `wrong-header`, naming the column that is missing, unknown, or there twice.
    pub(super) fn of(header: &StringRecord) -> Result<Self, Refusal> {
        for (i, name) in header.iter().enumerate() {
            if header.iter().take(i).any(|other| other == name) {
                return Err(wrong(&format!("the column {name:?} is there twice"), name));
            }
            if !known(name) {
                return Err(wrong(&format!("the column {name:?} is not known"), name));
            }
        }
        let place = |name: &str| header.iter().position(|column| column == name);
        let must = |name: &str| place(name).ok_or_else(|| wrong(&format!("the column {name:?} is missing"), name));
        let lengths = |stem: &str| length_column(header, stem);
        let columns = Self {
            point: must("point")?,
            sense: must("sense")?,
            setup: must("setup")?,
            reading: lengths("reading")?,
            x: lengths("x")?,
            y: lengths("y")?,
            length: lengths("length")?,
            x2: lengths("x2")?,
            y2: lengths("y2")?,
            foot: lengths("foot")?,
            sd: lengths("sd")?,
            time: place("time"),
            by: place("by"),
            note: place("note"),
            entered: place("entered"),
            stands: place("stands"),
        };
        match columns.reading {
            Some(_) => Ok(columns),
            None => Err(wrong("the column \"reading_mm\", \"reading_in\" or \"reading_text\" is missing", "reading")),
        }
    }
}

const STEMS: [&str; 8] = ["reading", "x", "y", "length", "x2", "y2", "foot", "sd"];

fn known(name: &str) -> bool {
    let plain = ["point", "sense", "setup", "time", "by", "note", "entered", "stands"].contains(&name);
    plain || STEMS.iter().any(|stem| unit_of(name, stem).is_some())
}

fn unit_of(name: &str, stem: &str) -> Option<Unit> {
    match name.strip_prefix(stem)? {
        "_mm" => Some(Unit::Mm),
        "_in" => Some(Unit::In),
        "_text" => Some(Unit::Text),
        _ => None,
    }
}

fn length_column(header: &StringRecord, stem: &str) -> Result<LengthColumn, Refusal> {
    let mut found = header.iter().enumerate().filter_map(|(i, name)| unit_of(name, stem).map(|unit| (i, unit)));
    match (found.next(), found.next()) {
        (_, Some(_)) => Err(wrong(&format!("{stem:?} is there in two units"), stem)),
        (first, None) => Ok(first),
    }
}

fn wrong(what: &str, field: &str) -> Refusal {
    let message = format!(
        "The header is not that of readings: {what}. It reads \
         point,x_mm,y_mm,sense,reading_in,setup,time,by,sd_mm,note, with _mm, _in or _text behind every length."
    );
    Refusal::new(Kind::WrongHeader, message).field(field)
}
