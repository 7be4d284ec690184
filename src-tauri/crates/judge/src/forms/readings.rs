//! Set-ups and readings, as they were entered and as they are understood.

use super::{wire, words};

words! {
    /// What the number of a reading means.
    pub enum Sense {
        /// Down from the line: bigger is lower.
        Down,
        /// Up from the datum.
        Up,
        /// The gap under a straightedge.
        Gap,
        /// The tilt of a foot, as rise over run.
        Tilt,
    }
}

wire! {
    /// Where the reading of an instrument came from, kept with it.
    pub struct FromInstrument {
        /// The name this device gives the instrument.
        pub device: String,
        pub profile: String,
        pub profile_version: u32,
        /// The message as it came, in hexadecimal digits.
        pub raw: String,
    }

    /// One standing of the instrument.
    pub struct Setup {
        pub id: String,
        pub survey: String,
        /// What it was read with, in words.
        pub instrument: String,
        /// The standard uncertainty of one reading.
        pub sd_mm: f64,
        pub benchmark: Benchmark,
        pub opening: Entered,
        /// The benchmark read again at the end.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub closing: Option<Entered>,
        #[serde(skip_serializing_if = "std::ops::Not::not", default)]
        #[ts(as = "Option<bool>")]
        pub withdrawn: bool,
    }

    /// The mark that every set-up reads first and last.
    pub struct Benchmark {
        pub name: String,
        /// Its height above the room datum.
        pub height: f64,
    }

    /// A number as typed, and as understood.
    pub struct Entered {
        pub text: String,
        pub mm: f64,
        pub at: String,
    }

    /// One reading. It is never overwritten: a correction is a new one that supersedes it.
    pub struct Reading {
        pub id: String,
        pub setup: String,
        pub point: String,
        pub sense: Sense,
        /// The raw text as typed or received.
        pub entered: String,
        /// Its value in mm, or rise over run for a tilt.
        pub value: f64,
        /// The standard uncertainty it was given, mm.
        pub sd_mm: f64,
        /// `typed`, `keyboard`, `csv`, `practice`, or `device:` and its name.
        pub source: String,
        pub at: String,
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub by: Option<String>,
        /// The edge of the joist, where both were read.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub edge: Option<String>,
        /// The length of the straightedge or of the tilting foot.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub length: Option<f64>,
        /// The far end of the straightedge or of the tilting foot.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub to: Option<(f64, f64)>,
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub note: Option<String>,
        /// The reading that this one corrects.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub supersedes: Option<String>,
        /// What an instrument sent, where one did.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub from: Option<FromInstrument>,
        #[serde(skip_serializing_if = "std::ops::Not::not", default)]
        #[ts(as = "Option<bool>")]
        pub withdrawn: bool,
    }
}

impl Sense {
    /// Whether a reading says what it says without a line to count from: a gap or a tilt does.
    pub fn stands_alone(self) -> bool {
        matches!(self, Self::Gap | Self::Tilt)
    }
}
