//! The plan of a room: its outline, its joists, its openings, and where points are to be read.

use super::{wire, words};

words! {
    /// How a room is read and printed.
    pub enum Units {
        /// Inches and fractions.
        In,
        /// Millimetres.
        Mm,
    }

    /// What a joist is made of, since only sawn lumber may ever be dressed.
    pub enum JoistKind {
        Sawn,
        Engineered,
        Unknown,
    }

    /// Along which axis of the plan the joists run.
    #[derive(Default)]
    pub enum Axis {
        X,
        #[default]
        Y,
    }

    /// What stands on the floor, so that nothing is read there.
    pub enum FixtureKind {
        /// A toilet's flange and what is around it.
        Toilet,
        Vanity,
        Tub,
        Other,
    }

    /// What a survey looks at.
    pub enum Surface {
        /// Bare joist tops.
        Framing,
        /// A deck, bed or finished floor that should be flat.
        Floor,
        /// A floor that should run to a drain.
        Fall,
    }
}

wire! {
    /// The plan: origin at a named corner, x along the base wall, y into the room.
    pub struct Plan {
        /// The corners of the room in order.
        pub outline: Vec<(f64, f64)>,
        /// The name of the wall from which y is measured: "door wall".
        pub base_wall: String,
        /// The name of the wall from which x is measured: "left wall".
        pub side_wall: String,
        /// The axis along which the joists run; their stations lie on it. Into the room unless it is said.
        #[serde(default)]
        pub joists_along: Axis,
        #[serde(default)]
        pub joists: Vec<Joist>,
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub doorway: Option<Doorway>,
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub drain: Option<Drain>,
        /// A drain besides that takes water, too; the fall is designed for the first.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub second_drain: Option<Drain>,
        /// The line over which one steps into the shower.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub entry: Option<((f64, f64), (f64, f64))>,
        /// What stands on the floor: nothing is read there.
        #[serde(skip_serializing_if = "Vec::is_empty", default)]
        #[ts(as = "Option<Vec<Fixture>>")]
        pub fixtures: Vec<Fixture>,
        /// The surveys in the order they are done.
        pub surveys: Vec<Survey>,
        /// The points to read, in the order they are walked.
        pub points: Vec<PlanPoint>,
    }

    /// One joist and what is known of it.
    pub struct Joist {
        pub id: String,
        /// Its centreline, across the direction in which the joists run.
        pub at: f64,
        pub kind: JoistKind,
        /// Its actual depth.
        pub depth: f64,
        /// The clear span between bearings.
        pub span: f64,
        /// Where the first bearing lies along it; negative if that is behind the wall.
        pub first_bearing: f64,
        /// Whether it was looked at and found sound; absent if nobody has looked.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub sound: Option<bool>,
    }

    /// The doorway in the wall where the joists' first station lies.
    pub struct Doorway {
        pub from: f64,
        pub to: f64,
        /// How much the finished height may rise there.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub budget: Option<f64>,
    }

    /// A drain: a point, or a line between two ends.
    pub struct Drain {
        pub from: (f64, f64),
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub to: Option<(f64, f64)>,
        /// The width of the grate.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub grate: Option<f64>,
    }

    /// One thing on the floor, by two opposite corners of the rectangle it takes.
    pub struct Fixture {
        pub kind: FixtureKind,
        pub from: (f64, f64),
        pub to: (f64, f64),
    }

    /// One survey of one surface: the joists as found, the deck, the tiled floor.
    pub struct Survey {
        pub id: String,
        pub name: String,
        pub surface: Surface,
    }

    /// A place to be read.
    pub struct PlanPoint {
        pub id: String,
        pub survey: String,
        pub x: f64,
        pub y: f64,
        /// The joist it lies on.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub joist: Option<String>,
    }
}

impl Default for Plan {
    /// The plan of a room that has none yet.
    fn default() -> Self {
        Self {
            outline: Vec::new(),
            base_wall: "door wall".to_string(),
            side_wall: "left wall".to_string(),
            joists_along: Axis::Y,
            joists: Vec::new(),
            doorway: None,
            drain: None,
            second_drain: None,
            entry: None,
            fixtures: Vec::new(),
            surveys: Vec::new(),
            points: Vec::new(),
        }
    }
}
