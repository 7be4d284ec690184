//! Where the drain may go.

use super::{Verdict, wire, words};

words! {
    /// What stands against a drain at a place, the gravest.
    pub enum DrainBar {
        Free,
        Wall,
        Joist,
        Fall,
        Trap,
    }
}

wire! {
    pub struct DrainAsk {
        pub room: String,
        /// A line along the wall farthest from the entry, not a point.
        #[serde(default)]
        pub linear: bool,
        /// The place that is looked at; where the drain is if absent.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub at: Option<(f64, f64)>,
    }

    pub struct DrainView {
        pub linear: bool,
        /// The window as a field of places, from the least x and y on, row by row.
        pub origin: (f64, f64),
        pub step: f64,
        pub columns: u32,
        pub bars: Vec<DrainBar>,
        /// How much of the field is free.
        pub free: f64,
        pub at: DrainPlace,
        /// The free place nearest to where the drain is.
        pub nearest: Option<DrainPlace>,
        pub hole: f64,
        pub clearance: f64,
    }

    /// A drain at a place and what it costs there.
    pub struct DrainPlace {
        pub at: (f64, f64),
        pub bars: Vec<DrainBar>,
        pub joists: Vec<String>,
        /// The rise that the farthest corner needs and the nearest wall allows.
        pub needs: Option<f64>,
        pub allows: Option<f64>,
        /// The fall at the nearest wall if the farthest corner has its least.
        pub steepest: Option<f64>,
        pub trap_arm: Option<f64>,
        /// How far it moves.
        pub moved: f64,
        pub verdict: Verdict,
    }
}
