//! How ledges pitch and how tiles come out.

use super::{Ledge, RuleRef, Tiling, Verdict, wire};

wire! {
    pub struct LedgesAsk {
        pub room: String,
        /// What is tried out; the room's own if absent.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub ledges: Option<Vec<Ledge>>,
    }

    pub struct LedgesView {
        pub ledges: Vec<LedgeView>,
        pub least: f64,
        pub most: f64,
    }

    /// A ledge with its verdict; `not-tested` before it was read.
    pub struct LedgeView {
        pub id: String,
        /// Positive where water runs off its front.
        pub pitch: Option<f64>,
        pub u: Option<f64>,
        /// The same over its depth.
        pub drop: Option<f64>,
        pub verdict: Verdict,
        pub rule: RuleRef,
    }

    pub struct TilingAsk {
        pub room: String,
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub tiling: Option<Tiling>,
    }

    pub struct TilingView {
        pub surfaces: Vec<SurfaceLayout>,
        pub tiles: u32,
        /// With the waste on top.
        pub order: u32,
        /// In mm².
        pub area: f64,
        pub bed: BedView,
        /// The mortar under all of them, in litres.
        pub mortar: f64,
        pub niche: Option<NicheView>,
        pub build_out: Option<f64>,
        pub lippage: Vec<LippageView>,
        /// The rules for lippage there are.
        pub lippage_rules: Vec<RuleRef>,
        pub lippage_rule: RuleRef,
    }

    pub struct SurfaceLayout {
        pub name: String,
        pub wide: f64,
        pub high: f64,
        pub across: RowView,
        pub up: RowView,
        pub tiles: u32,
        pub cut: u32,
        /// The left edges and widths of the pieces across, and the lower edges and heights up.
        pub columns: Vec<(f64, f64)>,
        pub rows: Vec<(f64, f64)>,
    }

    pub struct RowView {
        pub first: f64,
        pub last: f64,
        pub whole: u32,
        pub cuts: u32,
        pub sliver: bool,
    }

    /// The notch commonly taken.
    pub struct BedView {
        pub notch_wide: f64,
        pub notch_deep: f64,
        pub bed: f64,
        pub contact_dry: f64,
        pub contact_wet: f64,
        pub back_buttered: bool,
    }

    /// The rough opening of a niche.
    pub struct NicheView {
        pub from: f64,
        pub to: f64,
        pub foot: f64,
        pub head: f64,
        /// How far its middle was moved to the module.
        pub moved_across: f64,
        pub moved_up: f64,
        /// Its opening reaches over an edge of the wall.
        pub outside: bool,
    }

    pub struct LippageView {
        pub place: String,
        pub step: f64,
        pub u: f64,
        pub limit: Option<f64>,
        pub verdict: Verdict,
    }
}
