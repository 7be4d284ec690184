//! What the screens ask for, and what they are shown.

use super::{
    Approval, Decision, Doubled, FallsView, GateAnswer, Layers, Plan, RoomHead, RuleView, Sense, Setup, Surface,
    Target, Tile, Units, Verdict, Works, wire, words,
};
use crate::refusal::Refusal;

words! {
    /// Why a reading is asked about before it is kept.
    pub enum Slip {
        Inch,
        Foot,
        TenMillimetres,
        HundredMillimetres,
        SwappedDigits,
        /// The sign the other way round.
        Sense,
        /// The other edge of the line than before.
        LineEdge,
    }
}

words! {
    /// Which sheets a record holds.
    pub enum Contents {
        /// Everything.
        Full,
        /// One page without a figure that has to be explained.
        Client,
        Installer,
        Inspector,
        /// What keeps the work from going on.
        NotReady,
        /// Quantities beyond what was agreed.
        ChangeOrder,
        /// A code image for the vanity door.
        Label,
    }

    /// How the room of a file stands to the rooms that are here.
    pub enum Here {
        /// It is not here.
        No,
        /// It is here, with the same entries.
        Same,
        /// It is here, and the file has more.
        Behind,
        /// It is here, with everything in the file and more.
        Ahead,
        /// It is here and went another way.
        Differs,
    }
}

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

    pub struct HeightAsk {
        pub room: String,
        /// A level height over the datum to hold, besides the alternatives.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub height: Option<f64>,
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

    pub struct DemoCard {
        pub name: String,
        pub title: String,
    }

    pub struct DemoAsk {
        pub name: String,
        /// The id of the write that opens the copy.
        pub id: String,
    }

    /// Everything about one room but its findings.
    pub struct RoomView {
        pub room: RoomHead,
        pub plan: Option<Plan>,
        pub surveys: Vec<SurveyView>,
        pub setups: Vec<SetupView>,
        pub gate: Vec<GateView>,
        pub approvals: Vec<Approval>,
        pub decision: Decision,
        pub tile: Option<Tile>,
        pub layers: Option<Layers>,
        pub works: Works,
        pub target: Option<Target>,
        pub done: Vec<String>,
        /// What *undo* would take back.
        pub undo: Option<UndoView>,
        /// The last entry's hash, in hexadecimal; absent while the room is empty.
        pub head: Option<String>,
        /// It was put away.
        pub archived: bool,
        /// Points that several people read, of which nobody has chosen yet.
        pub doubled: Vec<Doubled>,
    }

    pub struct SurveyView {
        pub id: String,
        pub name: String,
        pub surface: Surface,
        pub points: Vec<PointView>,
        pub read: u32,
        /// The next point to read, in walking order.
        pub next: Option<String>,
    }

    pub struct PointView {
        pub id: String,
        pub x: f64,
        pub y: f64,
        pub joist: Option<String>,
        /// Its distance along the joist, or into the room.
        pub station: f64,
        pub reading: Option<ReadingView>,
        /// The readings in force of its single edges, where a twisted joist was read on both.
        pub edges: Vec<EdgeReading>,
    }

    /// What was read on one edge of a joist: `left` or `right`.
    pub struct EdgeReading {
        pub edge: String,
        pub reading: String,
        pub entered: String,
    }

    /// The reading in force at a point.
    pub struct ReadingView {
        pub id: String,
        pub setup: String,
        pub sense: Sense,
        pub entered: String,
        pub value: f64,
        /// Over the room datum; absent where the sense gives none.
        pub z: Option<f64>,
        pub sd_mm: f64,
        pub at: String,
        pub source: String,
        /// How many readings were corrected before this one.
        pub corrections: u32,
    }

    pub struct SetupView {
        pub setup: Setup,
        /// Closing minus opening; absent while it stands open.
        pub closing_error: Option<f64>,
        pub closes: Option<Verdict>,
    }

    /// One question of the structure gate, and how it was answered.
    pub struct GateView {
        pub question: String,
        /// For the floor as a whole.
        pub answer: Option<GateAnswer>,
        /// For single joists; each counts before the one for the floor.
        pub joists: Vec<GateAnswer>,
        /// Whether it may be answered joist by joist.
        pub each: bool,
    }

    pub struct UndoView {
        pub id: String,
        pub command: String,
        /// The point or thing it was about.
        pub subject: Option<String>,
    }

    pub struct UndoAsk {
        pub id: String,
        pub room: String,
    }

    /// Asks what a number would mean as the reading of a point; of the mark of the set-up where none is named.
    pub struct EntryAsk {
        pub room: String,
        pub setup: String,
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub point: Option<String>,
        pub text: String,
    }

    pub struct EntryView {
        pub value: f64,
        pub echo: Echo,
        pub sd_mm: f64,
        /// How it stands to readings nearby: positive is higher.
        pub differences: Vec<Difference>,
        /// Far from what the neighbours lead one to expect, but no known slip.
        pub unusual: bool,
        pub question: Option<SlipView>,
        /// What was expected, where the reading lies so far from it that it is asked about.
        pub far: Option<Expected>,
    }

    /// What the readings around a point lead one to expect there, as the number that would be read, and the standard
    /// uncertainty of that.
    pub struct Expected {
        pub value: f64,
        pub u: f64,
    }

    pub struct Echo {
        pub fraction: String,
        pub decimal_in: String,
        pub mm: String,
    }

    pub struct Difference {
        pub point: String,
        pub mm: f64,
    }

    /// A suspected slip: what it may have been instead.
    pub struct SlipView {
        pub slip: Slip,
        pub text: String,
        pub value: f64,
    }

    pub struct LengthAsk {
        pub text: String,
        pub units: Units,
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub room: Option<String>,
    }

    pub struct LengthView {
        pub mm: f64,
        pub echo: Echo,
    }

    pub struct RulesView {
        pub rules: Vec<RuleView>,
        pub decision: Decision,
        pub tile: Option<Tile>,
        pub falls: Vec<FallsView>,
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

    /// A file as text, to be shown or saved.
    pub struct FileText {
        pub name: String,
        pub text: String,
    }

    /// A file as bytes in base 64.
    pub struct FileBytes {
        pub name: String,
        pub mime: String,
        pub base64: String,
    }

    /// Asks for the room file.
    pub struct ExportAsk {
        pub room: String,
        /// Without people, place and notes: only their digests stay, and it still verifies.
        #[serde(default)]
        #[ts(as = "Option<bool>")]
        pub black_out: bool,
    }

    /// Asks for the record.
    pub struct RecordAsk {
        pub room: String,
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub contents: Option<Contents>,
        #[serde(default)]
        #[ts(as = "Option<bool>")]
        pub black_out: bool,
    }

    /// Asks for a file made of the room: `csv`, `dxf`, `svg` or `ics`.
    pub struct DrawingAsk {
        pub room: String,
        pub kind: String,
    }

    pub struct ImportAsk {
        /// The id of the write.
        pub id: String,
        /// The room file's text.
        pub file: String,
        /// Keep it as a second room under this new id if the room is already here.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub as_room: Option<String>,
    }

    /// A file of any kind, to be looked at or taken in.
    pub struct FileAsk {
        /// The id of the write, where it is taken in.
        pub id: String,
        /// Its bytes in base 64.
        pub base64: String,
        /// Keep it as a second room under this new id if the room is already here.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub as_room: Option<String>,
    }
}
