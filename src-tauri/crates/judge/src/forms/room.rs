//! The room file: everything about one room in one JSON document.

use super::json;
use super::refusal::{Kind, Refusal};
use super::{EntryKind, Photograph, Plan, Reading, RecordEntry, Rules, Setup, Units, Works, wire};

/// The version of the room file that this program writes.
pub const SCHEMA: u32 = 1;

fn is_default(works: &Works) -> bool {
    *works == Works::default()
}

wire! {
    /// A room as a file. Older files always open; newer ones are refused.
    pub struct RoomFile {
        pub schema: u32,
        pub room: RoomHead,
        pub plan: Plan,
        pub setups: Vec<Setup>,
        pub readings: Vec<Reading>,
        #[serde(default)]
        #[ts(as = "Option<Rules>")]
        pub rules: Rules,
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub layers: Option<Layers>,
        #[serde(skip_serializing_if = "is_default", default)]
        #[ts(as = "Option<Works>")]
        pub works: Works,
        #[serde(skip_serializing_if = "Vec::is_empty", default)]
        #[ts(as = "Option<Vec<GateAnswer>>")]
        pub gate: Vec<GateAnswer>,
        #[serde(skip_serializing_if = "Vec::is_empty", default)]
        #[ts(as = "Option<Vec<Approval>>")]
        pub approvals: Vec<Approval>,
        /// The height that was chosen to build to.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub target: Option<Target>,
        /// The work that was ticked off.
        #[serde(skip_serializing_if = "Vec::is_empty", default)]
        #[ts(as = "Option<Vec<String>>")]
        pub done: Vec<String>,
        /// Tests, photographs, what lies behind the surfaces, people: in the order they happened.
        #[serde(skip_serializing_if = "Vec::is_empty", default)]
        #[ts(as = "Option<Vec<RecordEntry>>")]
        pub entries: Vec<RecordEntry>,
        /// Every change in order. Absent in a file written by hand.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub journal: Option<Vec<JournalEntry>>,
        /// The private texts whose digests stand in the journal. Left out of a blacked-out copy, which still verifies.
        #[serde(skip_serializing_if = "Vec::is_empty", default)]
        #[ts(as = "Option<Vec<PrivateText>>")]
        pub private: Vec<PrivateText>,
    }

    /// A private text: in the journal only SHA-256 over salt and value appears, as `sha256:` and hexadecimal digits.
    pub struct PrivateText {
        /// In hexadecimal digits.
        pub salt: String,
        pub value: String,
    }

    /// What a room is called.
    pub struct RoomHead {
        pub id: String,
        pub name: String,
        pub units: Units,
        /// Where it is: private, so in the journal it stands as a digest.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub place: Option<String>,
        pub created: String,
    }

    /// The build-up on both sides of the entry line, from the deck up.
    pub struct Layers {
        pub room: Vec<Layer>,
        pub shower: Vec<Layer>,
        /// The top of the shower deck below the top of the room's subfloor; negative is lower.
        pub shower_deck: f64,
        /// How far the membrane runs past the entry line; absent if it does not.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub membrane_lap: Option<f64>,
        /// What the drain's riser is cut to; absent until it was measured.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub riser: Option<Riser>,
    }

    /// The two ends between which the drain's riser stands.
    pub struct Riser {
        /// The stop in the pipe's fitting over the top of the room's subfloor; negative is lower.
        pub pipe: f64,
        /// The stop in the drain's body below the top of its grate.
        pub body: f64,
        /// How far the grate is to stand below the finished floor beside it.
        pub below: f64,
    }

    /// One layer.
    pub struct Layer {
        pub name: String,
        /// Its thickness at the entry line.
        pub thickness: f64,
        /// Its thickness at the drain, where that differs.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub at_drain: Option<f64>,
        /// By how much its thickness may be off, either way; absent for the usual.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub tolerance: Option<f64>,
    }

    /// What was seen when the framing was looked at.
    pub struct GateAnswer {
        /// `bounce`, `rot`, `cut`, `moisture` and so on.
        pub question: String,
        /// The joist it is about; empty for the floor as a whole.
        #[serde(default)]
        pub subject: String,
        /// `sound`, `unsound` or `not-looked-at`.
        pub answer: String,
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub note: Option<String>,
    }

    /// A cut that somebody entitled to has approved.
    pub struct Approval {
        pub id: String,
        pub joist: String,
        /// The greatest depth.
        pub depth: f64,
        /// The stretch along the joist in which it holds.
        pub from: f64,
        pub to: f64,
        pub by: String,
        pub date: String,
        pub reference: String,
        #[serde(skip_serializing_if = "std::ops::Not::not", default)]
        #[ts(as = "Option<bool>")]
        pub withdrawn: bool,
    }

    /// The height chosen to build to.
    pub struct Target {
        /// The name of the alternative, or `held`.
        pub alternative: String,
        /// The level height, where one is held.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub height: Option<f64>,
    }

    /// One change, exactly as it was stored.
    pub struct JournalEntry {
        pub seq: u32,
        pub id: String,
        pub at: String,
        pub device: String,
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub person: Option<String>,
        pub command: String,
        pub form: u32,
        /// The payload's own text.
        pub payload: String,
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub undoes: Option<String>,
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub inverse: Option<InverseEntry>,
        /// The hash it had in the journal of another device.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub origin: Option<String>,
        /// SHA-256 over the hash before it, the header line and the payload, in hexadecimal.
        pub hash: String,
    }

    /// The command that takes an entry back.
    pub struct InverseEntry {
        pub command: String,
        pub form: u32,
        pub payload: String,
    }
}

impl RoomFile {
    /// A room file of this or an older version.
    ///
    /// # Errors
    /// `newer-version`, or what is wrong with the file's form.
    pub fn read(text: &str) -> Result<Self, Refusal> {
        #[derive(serde::Deserialize)]
        struct Version {
            schema: u32,
        }
        let Version { schema } = json::read(text)?;
        if schema > SCHEMA {
            let message = format!(
                "This room file is of form {schema}; this Truefall knows up to {SCHEMA}. Update Truefall, then open it again."
            );
            return Err(Refusal::new(Kind::NewerVersion, message).field("schema"));
        }
        json::read(text)
    }

    /// The photographs of a room in the order of its record.
    pub fn photographs(&self) -> impl Iterator<Item = &Photograph> {
        self.entries.iter().filter_map(|entry| match &entry.what {
            EntryKind::Photograph(photograph) => Some(photograph),
            _ => None,
        })
    }
}
