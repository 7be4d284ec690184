//! The payloads of the commands that change a room, and the envelope they travel in.

use super::{
    Approval, Benchmark, Decision, Entered, FromInstrument, GateAnswer, Layers, Plan, PrivateText, Sense, Target, Tile,
    Units, wire,
};

wire! {
    /// One change on its way to the journal.
    pub struct Write {
        /// A UUIDv7 made where the change was entered. Sending it again is harmless.
        pub id: String,
        pub room: String,
        /// The command's name: `reading-add`.
        pub command: String,
        /// The payload as JSON text; it is stored as it stands.
        pub payload: String,
        /// When it was entered, if not now.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub at: Option<String>,
        /// Who entered it.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub person: Option<String>,
        /// The private texts whose digests the payload names.
        #[serde(skip_serializing_if = "Vec::is_empty", default)]
        #[ts(as = "Option<Vec<PrivateText>>")]
        pub private: Vec<PrivateText>,
    }

    /// What became of a change.
    pub struct Written {
        pub id: String,
        pub seq: u32,
        /// It had already been written; nothing was done again.
        pub repeat: bool,
    }

    pub struct RoomNew {
        pub name: String,
        pub units: Units,
        /// The digest of a private text.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub place: Option<String>,
        pub created: String,
    }

    pub struct RoomRename {
        pub name: String,
    }

    pub struct RoomArchive {
        /// When it was put away; absent to take it out again.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub at: Option<String>,
    }

    /// The whole room file as its own text: a room that came from elsewhere.
    pub struct RoomImport {
        pub file: String,
    }

    /// Replaces the whole plan; absent takes it away.
    pub struct PlanSet {
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub plan: Option<Plan>,
    }

    pub struct SetupOpen {
        pub setup: String,
        pub survey: String,
        pub instrument: String,
        pub sd_mm: f64,
        pub benchmark: Benchmark,
        pub opening: Entered,
    }

    pub struct SetupWithdraw {
        pub setup: String,
    }

    pub struct SetupClose {
        pub setup: String,
        /// The benchmark read again; absent opens the set-up again.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub closing: Option<Entered>,
    }

    pub struct ReadingAdd {
        pub reading: String,
        pub setup: String,
        pub point: String,
        pub sense: Sense,
        pub entered: String,
        pub value: f64,
        pub sd_mm: f64,
        pub source: String,
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub edge: Option<String>,
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub length: Option<f64>,
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub to: Option<(f64, f64)>,
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub note: Option<String>,
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub supersedes: Option<String>,
        /// When it was taken, where that is not when it was entered.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub at: Option<String>,
        /// Who took it, where that is not who entered it.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub by: Option<String>,
        /// What an instrument sent, where one did.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub from: Option<FromInstrument>,
    }

    /// Takes readings back, or puts them in force again. They stay in the room either way.
    pub struct ReadingsWithdraw {
        pub readings: Vec<String>,
        pub withdrawn: bool,
    }

    /// Many readings at once, from one file, with the set-ups and points they need.
    pub struct ReadingsImport {
        pub setups: Vec<SetupOpen>,
        pub readings: Vec<ReadingAdd>,
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub plan: Option<Plan>,
        /// Set-ups of the file whose benchmark was read again at the end.
        #[serde(skip_serializing_if = "Vec::is_empty", default)]
        #[ts(as = "Option<Vec<SetupClose>>")]
        pub closings: Vec<SetupClose>,
    }

    /// Undoes a [`ReadingsImport`].
    pub struct ImportWithdraw {
        pub setups: Vec<String>,
        pub readings: Vec<String>,
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub plan: Option<Plan>,
    }

    pub struct GateSet {
        pub answer: GateAnswer,
    }

    pub struct GateClear {
        pub question: String,
        pub subject: String,
    }

    pub struct ApprovalAdd {
        pub approval: Approval,
    }

    pub struct ApprovalWithdraw {
        pub approval: String,
        pub withdrawn: bool,
    }

    /// Changes one figure of one rule; absent goes back to its default.
    pub struct RuleSet {
        pub rule: String,
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub value: Option<f64>,
    }

    pub struct DecisionSet {
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub decision: Option<Decision>,
    }

    pub struct TileSet {
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub tile: Option<Tile>,
    }

    /// Chooses the rule for the fall of a wet floor by its name; absent goes back to the first.
    pub struct FallsSet {
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub falls: Option<String>,
    }

    pub struct LayersSet {
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub layers: Option<Layers>,
    }

    pub struct TargetSet {
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub target: Option<Target>,
    }

    pub struct TickSet {
        pub item: String,
        pub done: bool,
    }
}
