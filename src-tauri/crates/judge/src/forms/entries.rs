//! What the record holds besides readings: tests, photographs, what lies behind the surfaces, people.

use super::{AsBuilt, RuleRef, Verdict, wire, words};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

wire! {
    /// One entry of a room's record.
    pub struct RecordEntry {
        pub id: String,
        /// When it happened.
        pub at: String,
        pub what: EntryKind,
    }

    /// A test of a filled shower floor.
    pub struct FloodTest {
        pub place: String,
        /// The water at the threshold.
        pub depth: f64,
        /// How long it is to stand, hours.
        pub hours: f64,
        /// What holds the water at the entry.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub dam: Option<String>,
        /// Somebody looked at what is below, and the joists carry the water.
        pub below_looked_at: bool,
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub water_c: Option<f64>,
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub air_c: Option<f64>,
        /// Every look at the water after the start.
        pub marks: Vec<FloodMark>,
    }

    pub struct FloodMark {
        pub at: String,
        /// How far the water has dropped since the start.
        pub drop: f64,
        /// How far it dropped in the open vessel beside it, which only the air can lower.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub control: Option<f64>,
    }

    /// A membrane that has to cure before it is covered or flooded.
    pub struct MembraneCure {
        pub product: String,
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub batch: Option<String>,
        /// When the last coat or seam was finished.
        pub finished: String,
        /// By its own sheet, hours.
        pub hours: f64,
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub air_c: Option<f64>,
        /// The coldest its sheet allows.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub least_c: Option<f64>,
    }

    /// A heating cable or mat, read at each stage.
    pub struct HeatCable {
        pub product: String,
        pub label_ohms: f64,
        /// How much less than the label it may be, by the label: 0.05 is five in a hundred.
        pub less: f64,
        pub more: f64,
        /// The least resistance to earth by its sheet, megohms; zero where it gives none.
        pub insulation_least: f64,
        pub readings: Vec<CableReading>,
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub from_drain: Option<f64>,
        /// Where the sensor is.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub sensor: Option<String>,
        /// When the ground-fault device was tested.
        #[serde(skip_serializing_if = "Vec::is_empty", default)]
        #[ts(as = "Option<Vec<String>>")]
        pub device_tested: Vec<String>,
    }

    pub struct CableReading {
        pub stage: CableStage,
        pub at: String,
        pub ohms: f64,
        /// The meter's standard uncertainty.
        pub u: f64,
        /// Resistance to earth, megohms.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub insulation: Option<f64>,
        /// The voltage it was tested with.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub volts: Option<f64>,
    }

    /// A reading of moisture against a limit that the product sets.
    pub struct Moisture {
        pub substrate: String,
        pub method: String,
        pub place: String,
        pub value: f64,
        pub u: f64,
        pub most: f64,
        /// "%", "% RH".
        pub unit: String,
        /// Where the limit is from.
        pub limit_from: String,
    }

    /// Water poured on a slope before it is covered.
    pub struct SlopeWater {
        pub place: String,
        /// How long it ran off, minutes.
        pub minutes: f64,
        /// Water still stands.
        pub stands: bool,
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub deepest: Option<f64>,
    }

    /// A lap or a thickness of waterproofing against the least its sheet allows.
    pub struct Coating {
        pub measured: CoatingMeasure,
        pub product: String,
        pub place: String,
        pub value: f64,
        pub u: f64,
        pub least: f64,
        pub limit_from: String,
    }

    /// A picture; the file itself lies beside the rooms under its digest.
    pub struct Photograph {
        pub sha256: String,
        pub name: String,
        pub mime: String,
        pub bytes: f64,
        pub width: u32,
        pub height: u32,
        /// When it was taken, by the camera.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub taken: Option<String>,
        /// The wall or floor that it shows.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub wall: Option<String>,
        /// Where it was taken from.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub viewpoint: Option<String>,
        /// A tape is in the frame.
        pub tape: bool,
    }

    /// Something that will be covered: points and lines on the plan.
    pub struct Hidden {
        pub thing: HiddenThing,
        /// The surface that covers it: "floor", "left wall".
        pub surface: String,
        /// One place, or the corners of its way: on the floor x and y of the plan, on a wall along it and up.
        pub places: Vec<(f64, f64)>,
        /// Below the finished surface.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub depth: Option<f64>,
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub note: Option<String>,
    }

    pub struct Material {
        pub thing: String,
        pub product: String,
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub batch: Option<String>,
        /// The last day it may be used.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub expires: Option<String>,
    }

    pub struct Note {
        /// The digest of a private text.
        pub text: String,
    }

    pub struct Person {
        /// The digest of a private text.
        pub name: String,
        pub role: String,
    }

    /// A name drawn with a finger.
    pub struct SignOff {
        /// The digest of a private text.
        pub name: String,
        pub role: String,
        /// What is signed for.
        pub about: String,
        /// Each stroke as places from 0 to 1, across and down.
        pub strokes: Vec<Vec<(f64, f64)>>,
    }

    /// A photograph to be kept.
    pub struct PhotographAsk {
        pub room: String,
        /// The id of the write and of the entry.
        pub id: String,
        pub base64: String,
        pub name: String,
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub wall: Option<String>,
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub viewpoint: Option<String>,
        pub tape: bool,
        /// Keep what the camera wrote of the place.
        #[serde(default)]
        #[ts(as = "Option<bool>")]
        pub keep_place: bool,
    }

    pub struct OfPhotograph {
        pub sha256: String,
    }

    /// A text that is to be private.
    pub struct SealAsk {
        pub value: String,
    }

    /// What stands for a private text in the journal, and the salt it is kept under.
    pub struct Sealed {
        pub digest: String,
        pub salt: String,
    }

    pub struct EntryPut {
        pub entry: RecordEntry,
    }

    pub struct EntryRemove {
        pub entry: String,
    }
}

/// What an entry is.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema, TS)]
#[serde(tag = "kind", rename_all = "kebab-case")]
pub enum EntryKind {
    Flood(FloodTest),
    Cure(MembraneCure),
    HeatCable(HeatCable),
    Moisture(Moisture),
    SlopeWater(SlopeWater),
    Coating(Coating),
    Photograph(Photograph),
    Hidden(Hidden),
    Material(Material),
    Note(Note),
    Person(Person),
    SignOff(SignOff),
    AsBuilt(AsBuilt),
}

words! {
    /// When a cable is read.
    pub enum CableStage {
        Delivered,
        Laid,
        Covered,
        Tiled,
    }

    pub enum CoatingMeasure {
        Lap,
        Thickness,
    }

    pub enum HiddenThing {
        WaterPipe,
        DrainPipe,
        GasPipe,
        Cable,
        HeatCable,
        Plate,
        Blocking,
        Hole,
        Joist,
        Other,
    }

    /// What may be done with what was tested.
    pub enum Cover {
        /// It may be covered now.
        Yes,
        /// Something has to come first.
        NotYet,
        No,
    }

    /// Why a test came to what it came to.
    pub enum TestWhy {
        /// The hours of its sheet have not passed.
        StillCuring,
        /// It was colder than its sheet allows.
        TooCold,
        Cured,
        /// The water was not looked at yet.
        NoMark,
        /// It has not stood long enough.
        StandsOn,
        TooShallow,
        Tight,
        Leaks,
        /// Without a vessel beside it, evaporation and leak cannot be told apart.
        NoControl,
        /// The marks are too coarse or too early.
        Unsure,
        /// The stage before covering is missing.
        StageMissing,
        InsulationMissing,
        InsulationLow,
        InBand,
        OutOfBand,
        Dry,
        Wet,
        RunsOff,
        WaterStands,
        Enough,
        TooLittle,
    }
}

wire! {
    /// A test and what it came to.
    pub struct TestView {
        pub entry: RecordEntry,
        pub verdict: Verdict,
        pub why: TestWhy,
        pub cover: Cover,
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub value: Option<f64>,
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub u: Option<f64>,
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub limit: Option<f64>,
        /// Not before this time.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub not_before: Option<String>,
        /// Where the limit comes from.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub rule: Option<RuleRef>,
        /// The same as one sentence.
        pub sentence: String,
    }

    /// Every test of a room, the latest first.
    pub struct TestsView {
        pub tests: Vec<TestView>,
        pub now: String,
        /// What a new flood test is asked to hold.
        pub flood_hours: f64,
        pub flood_depth: f64,
    }
}
