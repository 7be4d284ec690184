//! Where the drain may go.

use super::{FallPlan, Verdict, wire, words};

words! {
    /// What stands against a drain at a place, the gravest.
    pub enum DrainBar {
        Free,
        Wall,
        Joist,
        /// The trough of a line drain hangs below the tops of the joists, over one of them.
        Trough,
        Fall,
        Trap,
    }

    /// What is known of the trough of a line drain.
    pub enum TroughStanding {
        /// Its size was not put in: its outlet alone is looked at.
        NotTyped,
        /// Without layers nobody knows how much of it the floor holds.
        NoLayers,
        /// The floor over the joists holds it.
        Held,
        /// It hangs below the tops of the joists.
        Sunk,
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
        /// What is tried out; the room's own if absent.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub plan: Option<FallPlan>,
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
        /// Where a line drain at the place would begin and end.
        pub line: Option<((f64, f64), (f64, f64))>,
        /// Of a line drain over joists.
        pub trough: Option<TroughView>,
        /// How far the whole shower moves for the hole to clear the joists; positive toward the greater coordinate.
        pub slide: Option<f64>,
    }

    /// The trough of a line drain: how far its underside lies below the tops of the joists, negative above them.
    pub struct TroughView {
        pub standing: TroughStanding,
        pub below: Option<f64>,
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
