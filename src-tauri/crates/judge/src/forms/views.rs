//! What the screens ask for, and what they are shown.

use super::{
    Approval, Decision, FallsView, GateAnswer, Layers, Plan, RoomHead, RuleView, Sense, Setup, Surface, Target, Tile,
    Units, Verdict, Works, wire, words,
};

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

words! {}

wire! {
    pub struct HeightAsk {
        pub room: String,
        /// A level height over the datum to hold, besides the alternatives.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub height: Option<f64>,
    }

    pub struct DemoCard {
        pub name: String,
        pub title: String,
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

    /// Two or more readings of one point by different people, all in force: one of them counts, or their mean.
    pub struct Doubled {
        pub point: String,
        pub survey: String,
        pub readings: Vec<DoubledReading>,
    }

    pub struct DoubledReading {
        pub id: String,
        pub entered: String,
        pub value: f64,
        pub at: String,
        /// Absent for the home device.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub by: Option<String>,
    }
}
