//! What a pour comes to: how much, how deep, how heavy.

use super::{MapBand, Pour, Provenance, Verdict, wire};

wire! {
    pub struct PourAsk {
        pub room: String,
        /// The survey of the surface it goes on; the one read last if absent.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub survey: Option<String>,
        /// What is tried out; the room's own if absent.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub pour: Option<Pour>,
    }

    pub struct PourView {
        pub survey: Option<String>,
        /// Its top over the datum, and as a reading down from the line; absent for a bed.
        pub level: Option<f64>,
        pub hold: Option<f64>,
        pub area: f64,
        pub volume: f64,
        pub u_volume: Option<f64>,
        pub bags: Option<u32>,
        pub mass: Option<f64>,
        /// On a square metre: on the whole, and where it is deepest.
        pub load: Option<f64>,
        pub load_deepest: Option<f64>,
        pub depths: Vec<PourDepth>,
        /// The floor in bands below its top; empty for a bed.
        pub bands: Vec<MapBand>,
        /// Against the product's sheet and what the floor may carry.
        pub least: Option<PourLimit>,
        pub most: Option<PourLimit>,
        pub load_limit: Option<PourLimit>,
        /// What must be dammed, and how high at least.
        pub dams: Vec<Dam>,
        /// The readings that reach to its top or above it.
        pub bare: Vec<String>,
    }

    pub struct PourDepth {
        pub point: String,
        pub x: f64,
        pub y: f64,
        pub depth: f64,
    }

    /// One figure of a pour against its limit.
    pub struct PourLimit {
        pub value: f64,
        pub u: f64,
        pub limit: f64,
        /// Where it is; empty for the whole.
        pub point: String,
        pub verdict: Verdict,
        pub provenance: Provenance,
    }

    /// An opening that would let the pour run out.
    pub struct Dam {
        /// `doorway` or `entry`.
        pub opening: String,
        pub from: (f64, f64),
        pub to: (f64, f64),
        /// The pour there at its deepest.
        pub height: f64,
    }
}
