//! The build-up on both sides of the entry line, the fall that the shower's gives, and where its drain may go.

use super::{Layers, Provenance, RuleRef, Verdict, wire, words};

words! {
    /// How the finished floors meet at the entry line.
    pub enum Meeting {
        Flush,
        /// The shower is lower by no more than is accepted.
        Low,
        /// The shower is lower by more than is accepted.
        TooLow,
        /// The shower stands proud: never accepted.
        Proud,
    }

    /// From where a fall is measured.
    pub enum Origin {
        Centre,
        Rim,
    }
}

wire! {
    pub struct BuildUpAsk {
        pub room: String,
        /// Layers to try out; the room's own if absent.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub layers: Option<Layers>,
    }

    /// All that the build-up of a room comes to.
    pub struct BuildUpView {
        pub room: SideView,
        pub shower: SideView,
        /// The shower's finished floor over the room's at the entry line; negative is lower.
        pub step: f64,
        /// Its standard uncertainty by the layers' tolerances.
        pub u: f64,
        pub meeting: Meeting,
        /// How low the shower may be.
        pub accepted: f64,
        /// What stands against building it so: no membrane past the entry line, a shower that stands proud.
        pub not_ready: Vec<String>,
        /// Each layer that, changed alone, makes the entry flush.
        pub ways: Vec<FlushWay>,
        /// The cleats that carry the deck, below the tops of the joists.
        pub cleats: f64,
        /// The top of the recessed deck over the room's subfloor; negative is lower.
        pub deck: f64,
        /// What is left of the bed over each joist that stands up into it.
        pub beds: Vec<BedOver>,
        /// The shower's finished floor at the drain, over the room's subfloor.
        pub at_drain: f64,
        /// The length to cut the drain's riser to, where its ends are known.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub riser: Option<f64>,
        pub falls: Vec<FallDesign>,
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub drain: Option<DrainClash>,
    }

    /// One side of the entry line, its heights over the room's subfloor.
    pub struct SideView {
        /// The top of what carries the layers.
        pub structure: f64,
        /// From below up.
        pub layers: Vec<LayerStanding>,
        pub finished: f64,
    }

    pub struct LayerStanding {
        pub name: String,
        pub thickness: f64,
        /// The height of its top.
        pub top: f64,
        /// The same at the drain, where the layer is thinner there.
        pub top_at_drain: f64,
    }

    /// The bed over a joist whose top stands above the deck.
    pub struct BedOver {
        pub joist: String,
        /// How far its top stands above the deck.
        pub proud: f64,
        /// The bed over the deck where the joist comes nearest to the drain.
        pub bed: f64,
        pub left: f64,
        pub u: f64,
        pub least: f64,
        pub verdict: Verdict,
        pub rule: RuleRef,
    }

    /// A layer changed so that the entry is flush.
    pub struct FlushWay {
        pub layer: String,
        pub in_shower: bool,
        pub from: f64,
        pub to: f64,
    }

    /// The fall from a level perimeter to the drain, seen from one origin.
    pub struct FallDesign {
        pub origin: Origin,
        /// The perimeter over the drain.
        pub rise: f64,
        pub far: FallTo,
        pub near: FallTo,
        /// The least rise that the farthest corner needs.
        pub needs: f64,
        /// The greatest rise that the nearest wall allows.
        pub allows: f64,
        /// Whether any level perimeter does for both.
        pub possible: bool,
    }

    /// The fall to one place of the perimeter against its limit.
    pub struct FallTo {
        pub distance: f64,
        pub fall: f64,
        /// Its standard uncertainty.
        pub u: f64,
        pub limit: f64,
        pub verdict: Verdict,
        pub rule: RuleRef,
    }

    /// Whether the hole for the drain meets a joist.
    pub struct DrainClash {
        pub hole: f64,
        /// The joists that it meets.
        pub joists: Vec<String>,
        /// The nearest centres across the joists where it meets none.
        pub clear_at: Vec<f64>,
        pub provenance: Provenance,
    }
}
