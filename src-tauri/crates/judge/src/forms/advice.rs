//! What the screens are advised while somebody kneels there: where to lay the bar, what the method can decide, where
//! to read next, whether the level is true, and what changed.

use super::{FromWall, RuleRef, Verdict, wire, words};

words! {
    /// Which way a bar lies: along a joist or into the room, across, or corner to corner.
    pub enum BarWay {
        Along,
        Across,
        Rising,
        Falling,
    }

    /// Why a place is worth a reading.
    pub enum Advice {
        /// It is on the plan and was not read.
        Unread,
        /// Nothing was read near it: the floor is known worst there.
        LeastKnown,
        /// Whether the floor stands too high there is least decided.
        Undecided,
    }
}

words! {
    /// What the number of a tilt is in, where none stands beside it.
    pub enum TiltUnit {
        Degrees,
        Percent,
        MmPerM,
        InPerFt,
    }

    /// What a walk with a tilting foot was closed on.
    pub enum ClosedOn {
        /// The start, walked back to.
        Start,
        /// A point whose height is known.
        Point,
    }
}

wire! {
    /// Asks what a text means as the tilt of a foot.
    pub struct TiltAsk {
        pub room: String,
        pub text: String,
        pub unit: TiltUnit,
        /// The distance between the rests of the foot, mm.
        pub foot: f64,
        /// The standard uncertainty of the level that sent it; the rule's where it was typed.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub sd_degrees: Option<f64>,
    }

    /// A tilt as rise over run, the rise over its foot, and the standard uncertainty of that rise.
    pub struct TiltView {
        pub value: f64,
        pub rise: f64,
        pub sd_mm: f64,
    }

    /// The walks with a tilting foot that were made in a survey.
    pub struct TiltWalks {
        pub survey: String,
        pub walks: Vec<TiltWalk>,
    }

    /// One walk with a tilting foot, from a point in a straight line.
    pub struct TiltWalk {
        /// The point where it begins, and the height that is known of it.
        pub from: String,
        pub start: Option<f64>,
        /// The distance between the rests of the foot.
        pub foot: f64,
        /// How many steps were walked on, and how many back.
        pub steps: u32,
        pub back: u32,
        /// The places of the rests, the first one the start.
        pub stations: Vec<TiltStation>,
        /// What it was closed on, what was left there, and what may be.
        pub closed_on: Option<ClosedOn>,
        pub error: Option<f64>,
        pub limit: Option<f64>,
        pub closes: Verdict,
        /// The reading made last.
        pub last: String,
    }

    pub struct TiltStation {
        pub at: (f64, f64),
        pub from_walls: Vec<FromWall>,
        /// How far it lies from the start.
        pub s: f64,
        /// Its height over the start, and the standard uncertainty of that; what was left at the end is shared out.
        pub z: f64,
        pub u: f64,
    }

    /// The places to lay a straightedge, in the order they are walked.
    pub struct StraightedgeWalk {
        pub survey: String,
        pub placements: Vec<Placement>,
        /// The gauges that are tried, thickness in mm; 0 where none goes under.
        pub gauges: Vec<f64>,
        /// Those tried where all of them go under.
        pub larger: Vec<f64>,
        /// The standard uncertainty of a gap read with a gauge.
        pub sd_mm: f64,
        /// What the gauges say of the whole floor.
        pub verdict: Verdict,
        /// How many of the placements were gauged.
        pub gauged: u32,
    }

    /// One place of the bar.
    pub struct Placement {
        pub way: BarWay,
        /// The point that one end lies on, and where both ends lie.
        pub point: String,
        pub from: (f64, f64),
        pub to: (f64, f64),
        pub from_walls: Vec<FromWall>,
        pub to_walls: Vec<FromWall>,
        /// From end to end, and the bar that is laid there.
        pub span: f64,
        pub bar: f64,
        pub limit: f64,
        pub rule: RuleRef,
        /// The gap that the heights lead one to expect, and where; absent where the heights say nothing.
        pub expected: Option<f64>,
        pub lowest_at: (f64, f64),
        pub lowest_walls: Vec<FromWall>,
        /// The heights say that it will rock.
        pub rocks: bool,
        pub gauged: Option<Gauged>,
    }

    /// What went under the bar.
    pub struct Gauged {
        pub reading: String,
        pub entered: String,
        pub value: f64,
        pub u: f64,
        pub rocked: bool,
        pub verdict: Verdict,
        /// The probability that the gap keeps to the limit.
        pub probability: f64,
    }

    pub struct MethodAsk {
        pub room: String,
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub survey: Option<String>,
        /// The standard uncertainty of one reading.
        pub sd_mm: f64,
    }

    /// Whether a way of reading can decide the limits of a survey at all.
    pub struct MethodCheck {
        pub rules: Vec<MethodRule>,
        /// How far apart neighbouring points lie along their lines, at most: what is narrower can hide between them.
        pub spacing: Option<f64>,
    }

    pub struct MethodRule {
        pub rule: RuleRef,
        pub limit: f64,
        pub reach: f64,
        /// Some three neighbouring points lie within the reach.
        pub tested: bool,
        /// A perfect floor would be found within nineteen times in twenty.
        pub decides: bool,
        /// The standard uncertainty of a reading that would do.
        pub needs_sd: Option<f64>,
        /// How many readings at each point would do.
        pub readings: Option<u32>,
        /// Whether a gauge under the bar decides it.
        pub gauge_decides: bool,
    }

    /// The floor as read: its readings, and the facets between them by their indices.
    pub struct FloorSurface {
        pub points: Vec<(f64, f64, f64)>,
        pub triangles: Vec<(u32, u32, u32)>,
    }

    /// Where another reading tells most, the best first.
    pub struct NextReadings {
        pub places: Vec<NextPlace>,
    }

    pub struct NextPlace {
        pub why: Advice,
        /// The point of the plan, where there is one, and the joist it lies on.
        pub point: Option<String>,
        pub joist: Option<String>,
        pub at: (f64, f64),
        pub from_walls: Vec<FromWall>,
        /// The standard deviation of the height of the floor there, as far as the readings tell.
        pub sd_mm: Option<f64>,
    }

    /// The level stands between two marks, then close to one; the text of each reading down from the line.
    pub struct TwoPegAsk {
        pub room: String,
        /// From the middle, to the first and the second mark.
        pub middle: (String, String),
        /// From beside the first mark, to the first and the second.
        pub beside: (String, String),
        /// How far apart the marks are.
        pub apart: String,
        /// The standard uncertainty of one reading.
        pub sd_mm: f64,
        /// How far away the level will read.
        pub reach: String,
    }

    /// Whether a level is true.
    pub struct TwoPeg {
        /// How far the line rises (positive) over its run, as a ratio.
        pub tilt: f64,
        pub u: f64,
        /// The error of a reading at the reach asked for: positive where the line stands too high there.
        pub error: f64,
        pub u_error: f64,
        /// The reach, and the closing limit it was held against.
        pub reach: f64,
        pub limit: f64,
        pub verdict: Verdict,
    }

    /// The same point read several times.
    pub struct RepeatAsk {
        pub room: String,
        pub texts: Vec<String>,
    }

    /// How closely one reads.
    pub struct Repeatability {
        pub values: Vec<f64>,
        pub mean: f64,
        /// The standard deviation of one reading.
        pub sd_mm: f64,
        pub range: f64,
        /// That standard deviation at most, at 95 in 100.
        pub sd_most: f64,
    }

    pub struct CompareAsk {
        pub room: String,
        pub before: String,
        pub after: String,
    }

    /// What changed between two surveys read at the same places.
    pub struct Comparison {
        pub before: String,
        pub after: String,
        pub changes: Vec<PointChange>,
        /// Places of either survey that the other did not read.
        pub unmatched: u32,
        /// The floor before and after: highest less lowest over the plane of each.
        pub range_before: Option<f64>,
        pub range_after: Option<f64>,
    }

    pub struct PointChange {
        pub point: String,
        pub x: f64,
        pub y: f64,
        pub before: f64,
        pub after: f64,
        /// After less before: positive was raised.
        pub change: f64,
        pub u: f64,
        /// More than reading alone would show, nineteen times in twenty.
        pub is_real: bool,
    }

    pub struct EngineerAsk {
        pub room: String,
        pub joist: String,
        /// The alternative that wants the cut, and its height where one is held.
        pub alternative: String,
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub height: Option<f64>,
    }

    /// The sheet for the engineer: the cut that is wanted, and what it would take.
    pub struct EngineerQuestion {
        pub joist: String,
        pub kind: super::JoistKind,
        pub depth: f64,
        pub span: f64,
        pub first_bearing: f64,
        pub cut: f64,
        pub from: f64,
        pub to: f64,
        pub depth_left: f64,
        /// The share of the section modulus and of the bending stiffness it would take.
        pub modulus_lost: f64,
        pub stiffness_lost: f64,
        pub in_middle_third: bool,
        pub middle_third: (f64, f64),
        /// Why the builder may not make it alone.
        pub why: Vec<super::Forbidden>,
    }
}
