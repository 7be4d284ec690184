//! Findings: what the readings say about the room, where, and how surely.

use super::WireProblem;
use super::{RuleRef, Verdict, wire, words};

words! {
    /// What a finding is about.
    pub enum FindingKind {
        /// How the set-up closed on its benchmark.
        Closing,
        /// A joist's largest departure from its own chord.
        CrownOrSag,
        /// A joist's largest departure from the plane of the rest.
        OfTheRest,
        /// A joist's far end against its near end.
        OutOfLevel,
        /// A joist's two edges against each other.
        Twist,
        /// A joist sags over its own ends beyond the ratio.
        SagRatio,
        /// A joist drops sharply near a bearing: look underneath.
        SharpDrop,
        /// The gap under a straightedge laid along a line of points.
        StraightedgeAlong,
        /// The gap under a straightedge laid across the joists or the rows.
        StraightedgeAcross,
        /// What the gauges found under the bar, where it was laid.
        StraightedgeWalk,
        /// One reading that does not fit its neighbours.
        Blunder,
        /// The one reading that everything hangs on.
        Governs,
        /// Nobody has looked at the framing.
        NotLookedAt,
        /// Water that stands on a floor that should run to its drain.
        Pond,
        /// The fall of a whole row of readings, from its far end to the drain.
        FallRow,
        /// The fall between two readings of a row.
        FallRun,
        /// Runs too short to be decided as they were read.
        FallShort,
    }
}

wire! {
    /// One finding.
    pub struct Finding {
        pub kind: FindingKind,
        /// The joist, line, set-up or point it is about.
        pub subject: String,
        pub place: Place,
        /// The measured figure in mm, or as a ratio for a sag ratio; absent where nothing could be tested.
        pub value: Option<f64>,
        /// Its standard uncertainty.
        pub u: Option<f64>,
        pub limit: Option<f64>,
        /// The least it must be, where there is a least as well.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub least: Option<f64>,
        /// The length of the straightedge or the reach of the rule.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub reach: Option<f64>,
        pub rule: RuleRef,
        pub verdict: Verdict,
        /// The points to read again before deciding.
        pub retake: Vec<String>,
        /// What a perfect floor read this way would show.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub noise_alone: Option<NoiseAlone>,
    }

    /// Where a finding lies.
    pub struct Place {
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub point: Option<(f64, f64)>,
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub line: Option<((f64, f64), (f64, f64))>,
        /// The distances of the point, or of the line's middle, from the two named walls.
        pub from_walls: Vec<FromWall>,
    }

    pub struct FromWall {
        pub wall: String,
        pub distance: f64,
    }

    /// The gap that noise alone would show.
    pub struct NoiseAlone {
        pub mean: f64,
        pub p95: f64,
    }

    /// What noise alone would show under one bar, and which finding is about that bar.
    pub struct NoiseUnderBar {
        pub kind: FindingKind,
        pub subject: String,
        pub reach: f64,
        pub noise_alone: NoiseAlone,
    }

    /// All that the Findings screen shows.
    pub struct FindingsView {
        pub survey: String,
        pub headline: Headline,
        /// Worst first.
        pub findings: Vec<Finding>,
        pub map: MapView,
        pub profiles: Vec<Profile>,
        pub problems: Vec<WireProblem>,
        /// What was read with what, for the foot of the screen.
        pub method: Method,
    }

    /// The room's verdict, and what makes it so.
    pub struct Headline {
        pub verdict: Verdict,
        /// The joists or lines that are out, worst first.
        pub out: Vec<String>,
        /// The ones that are too close to call.
        pub close: Vec<String>,
        /// Whether all the rest lies in one plane within the limit.
        pub rest_even: bool,
        /// Whether it is a floor that is to be flat: then its highs and lows are told, not its lines.
        pub floor: bool,
        /// The longest edge of the tile that is to be laid on it.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub tile_edge: Option<f64>,
        pub read: u32,
        pub points: u32,
        /// What the gauges say, where the bar was laid: they decide how flat it is.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub walk: Option<Walked>,
    }

    /// The straightedge walk in short.
    pub struct Walked {
        pub verdict: Verdict,
        /// How many places were gauged, of how many.
        pub gauged: u32,
        pub places: u32,
        /// At how many of them the gauge alone says out.
        pub out: u32,
    }

    pub struct Method {
        /// The definition of the straightedge: `supported`.
        pub straightedge: String,
        pub setups: u32,
        /// The standard uncertainty of one reading.
        pub sd_mm: f64,
        pub closing: Option<f64>,
    }

    /// The floor as coloured bands, with the marks to chalk on it.
    pub struct MapView {
        pub outline: Vec<(f64, f64)>,
        /// The height at which the bands are neither high nor low.
        pub reference: f64,
        pub bands: Vec<MapBand>,
        pub points: Vec<MapPoint>,
        pub joists: Vec<MapLine>,
        pub marks: Vec<Mark>,
        /// The straightedge that shows most.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub bar: Option<MapLine>,
        /// Where a drop from each reading of a wet floor runs.
        pub ways: Vec<MapWay>,
        /// Where water stands on a wet floor as it was read, the largest volume first.
        #[serde(default)]
        pub ponds: Vec<MapPond>,
    }

    /// A pond up to the height at which it spills.
    pub struct MapPond {
        pub polygons: Vec<Vec<(f64, f64)>>,
        /// At its lowest reading.
        pub depth: f64,
    }

    /// The way of a drop, from place to place.
    pub struct MapWay {
        pub places: Vec<(f64, f64)>,
        /// Whether it ends in standing water, not at the drain.
        pub stands: bool,
    }

    /// The part of the floor between two heights over the reference.
    pub struct MapBand {
        pub from: f64,
        pub to: f64,
        pub polygons: Vec<Vec<(f64, f64)>>,
    }

    pub struct MapPoint {
        pub id: String,
        pub x: f64,
        pub y: f64,
        /// Height over the datum; absent where it was not read.
        pub z: Option<f64>,
    }

    pub struct MapLine {
        pub name: String,
        pub from: (f64, f64),
        pub to: (f64, f64),
    }

    /// A high (X) or a low (O), as chalked on the floor.
    pub struct Mark {
        pub high: bool,
        pub name: String,
        pub x: f64,
        pub y: f64,
        /// How much above or below the rest; always positive.
        pub amount: f64,
        pub from_walls: Vec<FromWall>,
    }

    /// The heights along one line of points.
    pub struct Profile {
        pub name: String,
        /// Whether it runs along a joist.
        pub along: bool,
        pub points: Vec<ProfilePoint>,
        /// The straightedge resting where the gap is largest: its two ends.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub bar: Option<ProfileBar>,
    }

    pub struct ProfilePoint {
        pub point: String,
        /// The distance along the line from its first point's wall.
        pub s: f64,
        pub z: Option<f64>,
    }

    pub struct ProfileBar {
        pub from: f64,
        pub to: f64,
        pub z_from: f64,
        pub z_to: f64,
        pub lowest_at: f64,
        pub gap: f64,
        pub length: f64,
    }
}
