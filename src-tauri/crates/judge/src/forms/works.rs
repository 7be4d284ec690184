//! What is planned beyond the framing: the pour, the fall, the ledges, the tiles. Each is kept whole.

use super::{Origin, wire, words};

words! {
    /// What is poured or laid.
    pub enum PourKind {
        /// Levelling compound, to one level.
        Compound,
        /// A mortar bed laid to fall.
        Bed,
    }

    /// How the edge of a floor that falls is to stand.
    pub enum EdgeShape {
        /// At one height over the drain all round.
        Level,
        /// Rising evenly with the distance from the drain.
        Even,
    }

    pub enum LedgeKind {
        Bench,
        Niche,
        Shelf,
        Curb,
        Sill,
    }

    /// Where a row of tiles begins.
    pub enum SetOut {
        /// The same cut at both ends.
        Balanced,
        WholeFirst,
        WholeLast,
    }
}

wire! {
    /// What was planned in a room beyond its framing.
    #[derive(Default)]
    pub struct Works {
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub pour: Option<Pour>,
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub fall: Option<FallPlan>,
        #[serde(skip_serializing_if = "Vec::is_empty", default)]
        #[ts(as = "Option<Vec<Ledge>>")]
        pub ledges: Vec<Ledge>,
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub tiling: Option<Tiling>,
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub door: Option<DoorHeights>,
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub stock: Option<StockList>,
    }

    /// What sheets and shims there are, as they are called and as they measure.
    pub struct StockList {
        pub pieces: Vec<StockPiece>,
        /// Strips that such a piece fits come from it rather than being ripped.
        #[serde(default)]
        pub in_place: bool,
    }

    /// A sheet or a shim.
    pub struct StockPiece {
        pub called: f64,
        pub actual: f64,
        /// Ripped to the width of the joist; else a solid shim.
        #[serde(default)]
        pub plywood: bool,
    }

    pub struct StockSet {
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub stock: Option<StockList>,
    }

    /// What the hall and the door leave, all over what was read at the doorway.
    pub struct DoorHeights {
        /// The hall's finished floor.
        pub hall: f64,
        /// All that goes on what is built to: subfloor, layers, tile.
        pub build_up: f64,
        /// The door's lower edge over the hall's floor, and the gap to be left under it.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub edge: Option<f64>,
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub gap: Option<f64>,
    }

    pub struct DoorSet {
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub door: Option<DoorHeights>,
    }

    /// Levelling compound or a bed, with what its bag and its sheet say.
    pub struct Pour {
        pub kind: PourKind,
        /// Its name and batch as they stand on the bag.
        #[serde(default)]
        pub product: String,
        /// How deep it stands over the highest reading; of a bed, its thickness at the drain.
        pub over: f64,
        /// Of a bed: how much higher its far edge stands than its drain.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub rise: Option<f64>,
        /// What one bag yields, in litres.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub yield_litres: Option<f64>,
        /// What one bag weighs with its water, in kg.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub bag_kg: Option<f64>,
        /// The share on top for waste.
        pub waste: f64,
        /// The least and the greatest depth of the product's sheet.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub least: Option<f64>,
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub most: Option<f64>,
        /// What the floor may carry of it, in kg on a square metre.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub load_most: Option<f64>,
    }

    /// How a wet floor is to fall.
    pub struct FallPlan {
        pub edge: EdgeShape,
        pub origin: Origin,
        /// The edge over the drain where it is farthest; absent for the middle of what is possible.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub rise: Option<f64>,
        /// What the shower head gives, in litres a minute.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub flow: Option<f64>,
        /// Where the waste pipe goes down or is vented.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub stack: Option<(f64, f64)>,
        /// How long the arm from the trap to it may be.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub trap_arm: Option<f64>,
        /// The body of a line drain.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub trough: Option<Trough>,
    }

    /// The body of a line drain, from its sheet.
    pub struct Trough {
        pub wide: f64,
        /// From its grate down to its underside.
        pub deep: f64,
    }

    /// A bench, a shelf, a sill: read at its back and its front, or with a level on it.
    pub struct Ledge {
        pub id: String,
        pub kind: LedgeKind,
        pub name: String,
        /// From its back reading to its front one.
        pub depth: f64,
        /// Down from a line over it, so that more is lower.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub back: Option<f64>,
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub front: Option<f64>,
        /// In degrees, positive where water runs off its front; in place of the readings.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub tilt: Option<f64>,
    }

    /// The tiles of a room and how they are set out.
    pub struct Tiling {
        /// Along the wall, or across the floor.
        pub wide: f64,
        /// Up the wall, or into the room.
        pub high: f64,
        pub joint: f64,
        /// The movement joint against the walls.
        pub edge: f64,
        /// The narrowest cut that is wanted.
        pub least_cut: f64,
        pub waste: f64,
        /// How far the tile itself is warped.
        #[serde(default)]
        pub warpage: f64,
        pub surfaces: Vec<TiledSurface>,
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub niche: Option<Niche>,
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub build_out: Option<BuildOut>,
        /// The name of the rule for lippage; the first that is known if absent.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub lippage_rule: Option<String>,
        #[serde(skip_serializing_if = "Vec::is_empty", default)]
        #[ts(as = "Option<Vec<LippageRead>>")]
        pub lippage: Vec<LippageRead>,
    }

    /// A floor or a wall that is tiled.
    pub struct TiledSurface {
        pub name: String,
        pub wide: f64,
        pub high: f64,
        pub across: SetOut,
        pub up: SetOut,
    }

    /// A niche in the first wall that is tiled.
    pub struct Niche {
        pub wide: f64,
        pub high: f64,
        /// Around the unit.
        pub clearance: f64,
        /// Where its middle is wanted, from the wall's first end and over the foot of its tiles.
        pub across: f64,
        pub up: f64,
        /// Moved so that it begins at a joint.
        pub on_module: bool,
    }

    /// Two tiles whose faces are to be flush: their thickness and their beds.
    pub struct BuildOut {
        pub tile: f64,
        pub bed: f64,
        pub thin_tile: f64,
        pub thin_bed: f64,
    }

    /// Lippage as it was read after setting.
    pub struct LippageRead {
        pub place: String,
        pub step: f64,
        pub joint: f64,
    }

    pub struct PourSet {
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub pour: Option<Pour>,
    }

    pub struct FallPlanSet {
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub fall: Option<FallPlan>,
    }

    pub struct LedgesSet {
        pub ledges: Vec<Ledge>,
    }

    pub struct TilingSet {
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub tiling: Option<Tiling>,
    }
}
