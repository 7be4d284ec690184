//! How a wet floor is to fall, how it was laid, and how it is put right.

use super::WireProblem;
use super::{FallDesign, FallPlan, FromWall, RuleRef, Verdict, wire, words};

words! {
    /// How two rules for one floor go together.
    pub enum Together {
        /// The least of one is the most of the other: one value alone keeps both.
        AtOneValue,
        /// Nothing keeps both.
        Never,
    }
}

wire! {
    pub struct FallAsk {
        pub room: String,
        /// What is tried out; the room's own if absent.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub plan: Option<FallPlan>,
    }

    pub struct FallView {
        pub plan: FallPlan,
        /// The rise in force: the one that was chosen, else that of the layers, else the middle of what is possible.
        pub rise: f64,
        /// From the drain's centre, and from its rim where a grate is known.
        pub designs: Vec<FallDesign>,
        /// Every rule that is known, for this floor.
        pub rules: Vec<FallChoice>,
        pub conflicts: Vec<FallConflict>,
        pub walls: Vec<FallWall>,
        /// Whether the marks along the entry line are at one height.
        pub entry_level: bool,
        pub entry: Option<EntryLevel>,
        pub hold: Option<HoldView>,
        pub facets: Option<FacetsView>,
        pub correction: Option<Correction>,
        pub problems: Vec<WireProblem>,
    }

    /// A rule for falls, and whether a level edge can keep it here.
    pub struct FallChoice {
        pub name: String,
        pub clause: String,
        pub edition: String,
        pub least: Option<f64>,
        pub most: Option<f64>,
        pub square_to_drain: bool,
        pub chosen: bool,
        /// The least and the greatest rise of a level edge; absent without a drain, or a limit.
        pub needs: Option<f64>,
        pub allows: Option<f64>,
        pub possible: bool,
        /// The steepest fall if the farthest place has its least.
        pub steepest: Option<f64>,
    }

    /// Two rules that hardly go together: the chosen one and another.
    pub struct FallConflict {
        pub with: String,
        pub together: Together,
        pub least: f64,
        pub most: f64,
    }

    /// One wall with its marks.
    pub struct FallWall {
        pub from: (f64, f64),
        pub to: (f64, f64),
        pub length: f64,
        /// The entry line lies along it.
        pub entry: bool,
        pub marks: Vec<FallMark>,
    }

    pub struct FallMark {
        /// From the wall's first corner.
        pub along: f64,
        /// Over the drain.
        pub height: f64,
        pub way: f64,
    }

    /// How level the entry line was laid.
    pub struct EntryLevel {
        pub points: Vec<String>,
        pub highest: String,
        pub lowest: String,
        pub difference: f64,
        pub u: f64,
        pub limit: f64,
        pub verdict: Verdict,
        pub rule: RuleRef,
    }

    /// How the facets between the readings fall, without a verdict: shares of the area, and the extremes.
    pub struct FacetsView {
        pub flatter: f64,
        pub steeper: f64,
        pub gentlest: f64,
        pub steepest: f64,
    }

    /// What the floor holds before water crosses the entry.
    pub struct HoldView {
        /// From the readings; else from the design.
        pub as_read: bool,
        /// In litres.
        pub volume: f64,
        pub deepest: f64,
        /// How long that is at the typed flow.
        pub minutes: Option<f64>,
    }

    /// What to fill, and what the floor is then.
    pub struct Correction {
        pub fills: Vec<FillSpot>,
        /// In litres.
        pub volume: f64,
        /// The fall that it is filled to.
        pub fall: f64,
        /// The runs that are too steep or backward even then: too high, which no fill puts right.
        pub left: Vec<String>,
        /// The floor judged again with the fills on it.
        pub after: Verdict,
        pub ponds_after: u32,
        pub out_after: u32,
        /// The readings that decide then.
        pub retake: Vec<String>,
        /// It may be proposed: nothing is out and no water stands after it.
        pub proposed: bool,
    }

    /// Where to fill and how deep.
    pub struct FillSpot {
        pub point: String,
        pub x: f64,
        pub y: f64,
        pub from_walls: Vec<FromWall>,
        pub depth: f64,
        /// The readings where it has faded to nothing.
        pub fades_at: Vec<String>,
    }
}
