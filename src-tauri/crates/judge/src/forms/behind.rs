//! What will be covered, beside the plan and beside what was planned.

use super::{FromWall, RecordEntry, Verdict, wire, words};

words! {
    /// One side of the entry line.
    pub enum BuiltSide {
        Room,
        Shower,
    }
}

wire! {
    /// The layers of one side as they were laid, from the deck up.
    pub struct AsBuilt {
        pub side: BuiltSide,
        /// Where they were measured: "at the entry", "left of the drain".
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub place: Option<String>,
        pub layers: Vec<BuiltLayer>,
    }

    /// One layer as it was laid.
    pub struct BuiltLayer {
        pub name: String,
        pub thickness: f64,
        /// Its thickness at the drain, where that was measured.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub at_drain: Option<f64>,
        /// The standard uncertainty of what was measured; absent for the usual.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub u: Option<f64>,
    }

    /// The layers of one side as laid beside those planned.
    pub struct BuiltView {
        /// The entry they stand in.
        pub entry: String,
        pub at: String,
        pub side: BuiltSide,
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub place: Option<String>,
        pub lines: Vec<BuiltLine>,
        /// All planned layers together, at the entry line.
        pub planned: f64,
        /// All that was laid together; absent while a planned layer is not measured.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub built: Option<f64>,
    }

    /// One layer, planned and laid.
    pub struct BuiltLine {
        pub name: String,
        /// This is its thickness at the drain.
        pub at_drain: bool,
        /// Absent where nobody planned it.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub planned: Option<f64>,
        /// Absent where it was not laid or not measured.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub built: Option<f64>,
        /// How much thicker it is than planned; negative is thinner.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub more: Option<f64>,
        /// By how much it may be off, either way.
        pub tolerance: f64,
        pub verdict: Verdict,
    }

    /// Places tapped on the plan.
    pub struct PlacesAsk {
        pub room: String,
        pub places: Vec<(f64, f64)>,
    }

    /// The distances of each from two fixed walls.
    pub struct PlacesView {
        pub places: Vec<Placed>,
    }

    pub struct Placed {
        pub at: (f64, f64),
        pub from_walls: Vec<FromWall>,
        /// It lies outside the walls of the plan.
        pub outside: bool,
    }

    /// Where something under the floor lies, place by place.
    pub struct HiddenView {
        /// The entry it stands in.
        pub entry: String,
        pub places: Vec<Placed>,
    }

    /// The entries of a room that are no tests.
    pub struct EntriesView {
        pub entries: Vec<RecordEntry>,
        /// What lies under the floor, with its distances from two walls.
        pub hidden: Vec<HiddenView>,
        /// The layers as laid beside those planned, the latest first.
        pub built: Vec<BuiltView>,
    }
}
