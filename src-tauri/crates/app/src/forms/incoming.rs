//! What is looked for, and what comes in from files.

use super::{Here, RoomHead, Verdict};
use judge::wire;

wire! {
    /// Asks for rooms.
    #[derive(Default)]
    pub struct RoomsAsk {
        /// Words that each stand somewhere in name, place, day, or an entry of the record.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub text: Option<String>,
        /// Only rooms that stand so.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub verdict: Option<Verdict>,
        /// Only rooms that were last changed on this day or later, as 2031-04-02 or the beginning of it.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub since: Option<String>,
        /// Only rooms that were begun on this day or earlier.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub until: Option<String>,
        /// So many at most, the newest first.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub most: Option<u32>,
    }

    /// What a file would bring in.
    pub struct FileLook {
        pub room: RoomHead,
        pub readings: u32,
        /// The entries of its journal; none in a file written by hand.
        pub entries: u32,
        /// When its last entry was made.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub last: Option<String>,
        pub here: Here,
        /// What is taken from it where it is a drawing.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub drawing: Option<DrawingLook>,
        /// Why it cannot be relied on; absent where it holds.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub fault: Option<String>,
    }

    pub struct CsvAsk {
        pub id: String,
        pub room: String,
        pub csv: String,
    }

    /// What a drawing gives: the outline of a room, and the points on it.
    pub struct DrawingLook {
        pub corners: u32,
        /// How far the outline reaches along the base wall and into the room.
        pub wide: f64,
        pub deep: f64,
        pub points: u32,
        /// The layers of which nothing is taken.
        pub left: Vec<String>,
    }

    /// What a table of readings would bring in.
    pub struct CsvLook {
        pub readings: u32,
        /// New points of the plan.
        pub points: u32,
        pub setups: u32,
        /// Points that were read before: the new readings take their place, the old ones stay on the record.
        pub again: u32,
        /// The first of them: point and reading as it stands in the file.
        pub first: Vec<(String, String)>,
    }

    /// What a file proves.
    pub struct Verified {
        pub room: String,
        pub entries: u32,
        /// When its first and its last entry were made.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub first: Option<String>,
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub last: Option<String>,
        /// The last entry's hash, as it is printed on every page.
        pub head: String,
        /// What is carried inside and is as it was written.
        pub files: Vec<String>,
        /// What is there and is not proved: the pages that are seen, drawings.
        #[serde(skip_serializing_if = "Vec::is_empty", default)]
        #[ts(as = "Option<Vec<String>>")]
        pub not_covered: Vec<String>,
        /// The room that this one began as a copy of.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub copy_of: Option<CopyOf>,
    }

    /// Where a second room came from.
    pub struct CopyOf {
        /// The id of the other room.
        pub room: String,
        /// The last hash of its journal.
        pub head: String,
    }

    pub struct Imported {
        pub room: String,
        pub readings: u32,
    }
}
