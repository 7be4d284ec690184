use serde::Serialize;

use super::{Alternatives, Caution, CutList, Map, Mark, Profiles, Readings, Verdict};

/// One document about one room. What is `None` or empty is left out, its heading with it.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Sheet {
    pub paper: Paper,
    pub title: TitleBlock,
    pub evidence: Option<Evidence>,
    pub finding: Option<Finding>,
    pub verdicts: Vec<Verdict>,
    pub cautions: Vec<Caution>,
    /// What the tests of the room came to.
    pub tests: Vec<Verdict>,
    /// Short names of what nobody looked at, "bounce", "moisture": at the foot of every page.
    pub not_looked_at: Vec<String>,
    pub map: Option<Map>,
    pub alternatives: Option<Alternatives>,
    pub cut_list: Option<CutList>,
    pub profiles: Option<Profiles>,
    pub readings: Option<Readings>,
    pub photographs: Vec<Picture>,
    /// What will be covered, the materials, the people: one list a heading.
    pub lists: Vec<Listed>,
    pub signatures: Vec<Signature>,
    pub method: Vec<Method>,
    /// Carried inside the file, listed on its last page.
    pub attachments: Vec<Attachment>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Paper {
    /// For rooms in inches.
    Letter,
    /// For rooms in millimetres.
    A4,
}

#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct TitleBlock {
    /// A sentence: what this sheet is, "Findings and cut list".
    pub kind: String,
    /// Typed.
    pub room: String,
    /// Typed.
    pub place: Option<String>,
    pub date: Moment,
    /// Typed: who took the readings.
    pub who: Option<String>,
    /// Typed.
    pub instrument: Option<String>,
}

/// A moment with its offset from UTC. Any value is a real date.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub struct Moment {
    year: i32,
    month: u8,
    day: u8,
    hour: u8,
    minute: u8,
    second: u8,
    offset_minutes: i32,
}

/// The place of this sheet in the room's journal.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Evidence {
    /// The head hash, in hexadecimal.
    pub head: String,
    /// What the code image says; `None` draws none.
    pub code: Option<String>,
}

/// The answer in one breath.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Finding {
    pub mark: Mark,
    /// A sentence: "Out: two joists. The rest is one even slope."
    pub sentence: String,
    /// Sentences: what to do, the most pressing first.
    pub todo: Vec<String>,
}

/// One line about how it was measured and judged.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Method {
    /// "straightedge", "instrument", "closing", "uncertainty", "decision rule".
    pub name: String,
    /// A sentence.
    pub text: String,
}

/// A photograph, made small for the page.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Picture {
    /// Typed: wall, viewpoint, time.
    pub caption: String,
    /// What is said in its place where it cannot be seen.
    pub alt: String,
    /// A JPEG.
    #[serde(skip)]
    pub bytes: Vec<u8>,
}

/// Lines under a heading.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Listed {
    /// A sentence.
    pub heading: String,
    /// Typed.
    pub lines: Vec<String>,
}

/// A name drawn with a finger.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Signature {
    /// Typed: name, role and time.
    pub caption: String,
    /// Typed: what was signed for.
    pub about: String,
    /// Each stroke as places from 0 to 1, across and down.
    pub strokes: Vec<Vec<(f64, f64)>>,
}

/// A file inside the file.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Attachment {
    /// A plain file name, different from every other.
    pub name: String,
    /// "application/json".
    pub mime: String,
    #[serde(skip)]
    pub bytes: Vec<u8>,
    pub relationship: Relationship,
    /// A sentence.
    pub description: String,
}

/// What an attachment is to the sheet.
///
/// # Source
/// ISO 19005-3 names these relationships (recalled, not read); their names are those of the typesetting library.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Relationship {
    /// The sheet was made from it.
    Source,
    /// It is the data behind a picture or table.
    Data,
    /// It says the same in another form.
    Alternative,
    /// It adds something.
    Supplement,
}

impl Moment {
    /// The moment, if there is such a day and time and the offset is within a day.
    ///
    /// ```
    /// use report::model::Moment;
    /// assert!(Moment::new(2026, 3, 14, [9, 26, 53], -300).is_some());
    /// assert!(Moment::new(2026, 2, 29, [0, 0, 0], 0).is_none());
    /// ```
    pub fn new(year: i32, month: u8, day: u8, [hour, minute, second]: [u8; 3], offset_minutes: i32) -> Option<Self> {
        let moment = Self { year, month, day, hour, minute, second, offset_minutes };
        moment.timestamp().map(|_| moment)
    }

    /// The moment as a PDF writes it: `D:20260314092653-05'00`.
    pub(crate) fn in_pdf(self) -> String {
        let Self { year, month, day, hour, minute, second, offset_minutes } = self;
        let (sign, offset) = (if offset_minutes < 0 { '-' } else { '+' }, offset_minutes.abs());
        let time = format!("D:{year:04}{month:02}{day:02}{hour:02}{minute:02}{second:02}");
        format!("{time}{sign}{:02}'{:02}", offset / 60, offset % 60)
    }

    pub(crate) fn timestamp(self) -> Option<typst_pdf::Timestamp> {
        let Self { year, month, day, hour, minute, second, offset_minutes } = self;
        let year = (0..=9999).contains(&year).then_some(year)?;
        let datetime = typst::foundations::Datetime::from_ymd_hms(year, month, day, hour, minute, second)?;
        typst_pdf::Timestamp::new_local(datetime, offset_minutes)
    }
}
