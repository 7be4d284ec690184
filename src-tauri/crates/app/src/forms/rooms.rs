//! The rooms on this device, as they are asked for and listed.

use judge::forms::{DemoCard, Units, Verdict};
use judge::{Refusal, wire};

wire! {
    /// Nothing is asked.
    pub struct Nothing {}

    pub struct OfRoom {
        pub room: String,
    }

    pub struct OfSurvey {
        pub room: String,
        /// The survey; absent for the one that was read last.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub survey: Option<String>,
    }

    pub struct RoomCard {
        pub id: String,
        pub name: String,
        pub units: Units,
        pub place: Option<String>,
        pub created: String,
        pub read: u32,
        pub points: u32,
        pub archived: bool,
        /// When it was last changed.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub last: Option<String>,
        /// How it stands; absent where nobody has judged it since its last change.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub verdict: Option<Verdict>,
    }

    pub struct RoomsView {
        pub rooms: Vec<RoomCard>,
        /// How many rooms there are that match, these among them.
        pub found: u32,
        /// How many rooms there are, whatever was asked.
        pub all: u32,
        /// How many of those asked for by verdict are still to be judged: ask again.
        pub unjudged: u32,
        /// The demo rooms that can be opened as a copy.
        pub demos: Vec<DemoCard>,
        /// What was found wrong with the file of rooms, and the way out.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub trouble: Option<Refusal>,
    }

    pub struct DemoAsk {
        pub name: String,
        /// The id of the write that opens the copy.
        pub id: String,
    }

    pub struct UndoAsk {
        pub id: String,
        pub room: String,
    }

    pub struct HistoryView {
        pub entries: Vec<HistoryEntry>,
        /// The first entry that does not fit the chain; absent if all do.
        pub broken_at: Option<u32>,
    }

    pub struct HistoryEntry {
        pub seq: u32,
        pub id: String,
        pub at: String,
        pub person: Option<String>,
        pub device: String,
        pub command: String,
        pub subject: Option<String>,
        /// What was read, as it was entered.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub entered: Option<String>,
        /// What it was read with.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub instrument: Option<String>,
        /// The standard uncertainty of what was read, mm.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub sd_mm: Option<f64>,
        pub undoes: Option<String>,
        pub hash: String,
    }
}
