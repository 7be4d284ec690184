use serde::Serialize;
use survey::PlanPosition;
use survey::units::Length;

use super::mm;

/// The plan of the room as found: x along the base wall, y into the room, the base wall drawn below.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Map {
    /// A sentence: what the map shows.
    pub caption: String,
    /// A sentence: what the bands are high or low of.
    pub reference: String,
    /// The corners in order; without any there is no map.
    #[serde(serialize_with = "mm::places")]
    pub outline: Vec<PlanPosition>,
    pub walls: Walls,
    /// Heights, from low to high.
    pub bands: Vec<Band>,
    /// Where water stands, each up to its spill: closed rings as those of a band.
    #[serde(serialize_with = "mm::rings")]
    pub ponds: Vec<Vec<PlanPosition>>,
    pub joists: Vec<JoistLine>,
    pub openings: Vec<Opening>,
    pub spots: Vec<Spot>,
    /// The bar that decides.
    pub straightedge: Option<Straightedge>,
    /// Where readings were taken.
    #[serde(serialize_with = "mm::places")]
    pub readings: Vec<PlanPosition>,
}

/// What the two walls are called from which places are measured (typed).
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Walls {
    /// The base wall, y = 0: places are so far *from* it in y.
    pub base: String,
    /// The side wall, x = 0.
    pub side: String,
}

/// All parts of the floor whose height lies between two steps.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Band {
    /// Height above the reference, up positive.
    #[serde(serialize_with = "mm::length")]
    pub from: Length,
    #[serde(serialize_with = "mm::length")]
    pub to: Length,
    /// A figure, "1/16 to 1/8 high".
    pub figure: String,
    /// Closed rings without the closing point, filled even-odd: many small facets or few outlines with holes.
    #[serde(serialize_with = "mm::rings")]
    pub rings: Vec<Vec<PlanPosition>>,
}

#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct JoistLine {
    pub name: String,
    #[serde(serialize_with = "mm::place")]
    pub from: PlanPosition,
    #[serde(serialize_with = "mm::place")]
    pub to: PlanPosition,
}

/// A doorway, or the entry line of a shower.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Opening {
    /// Typed, "door to the hall".
    pub name: String,
    #[serde(serialize_with = "mm::place")]
    pub from: PlanPosition,
    #[serde(serialize_with = "mm::place")]
    pub to: PlanPosition,
}

/// Which way a spot stands out: chalked X for high, O for low.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Side {
    High,
    Low,
}

/// A place chalked on the floor.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Spot {
    pub side: Side,
    #[serde(serialize_with = "mm::place")]
    pub at: PlanPosition,
    /// A figure without a sign, "7/16".
    pub amount: String,
    /// A sentence: where it is, "J4 at 60".
    pub name: String,
    /// A figure: distance from the base wall, "60 in".
    pub from_base: String,
    /// A figure: distance from the side wall, "48 in".
    pub from_side: String,
}

/// A bar lying on two supports over a gap.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Straightedge {
    /// A sentence, "The bar across at 60 rests on J4 and J7 and shows 11/16 in at J6."
    pub sentence: String,
    #[serde(serialize_with = "mm::place")]
    pub from: PlanPosition,
    #[serde(serialize_with = "mm::place")]
    pub to: PlanPosition,
    #[serde(serialize_with = "mm::places")]
    pub supports: Vec<PlanPosition>,
    #[serde(serialize_with = "mm::place")]
    pub gap_at: PlanPosition,
}
