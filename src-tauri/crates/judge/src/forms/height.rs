//! The height to build to: the alternatives side by side, and the cut list of one of them.

use super::WireProblem;
use super::{Approval, FixtureKind, Target, wire, words};

words! {
    /// What is done to one joist.
    pub enum Action {
        Leave,
        Sheet,
        Strip,
        TallStrip,
        Sister,
        Dress,
        DressAndStrip,
        AskEngineer,
    }
}

words! {
    /// Why a joist gets the work it gets.
    pub enum WhyKind {
        Unsound,
        Sags,
        NotRead,
        LiftTooLarge,
        Governs,
        OldTopAbove,
        Dressing,
        ByApproval,
        NeedsApproval,
    }

    /// Why the guard does not allow a cut.
    pub enum Forbids {
        Engineered,
        UnknownKind,
        MiddleThird,
        DressingTooDeep,
        NotchTooDeep,
        NotDressing,
        OutsideApproval,
        DeeperThanApproved,
        BoreTooWide,
        BoreTooNear,
    }
}

wire! {
    /// One reason for the work on a joist, for the screens to say in their own language.
    pub struct Why {
        pub kind: WhyKind,
        /// The lift that is too large, or how far an old top stands above.
        pub amount: Option<f64>,
        pub cut: Option<WantedCut>,
        pub forbids: Vec<Forbidden>,
    }

    /// Wood to come off the top: how deep at most, and from where to where along the joist.
    pub struct WantedCut {
        pub depth: f64,
        pub from: f64,
        pub to: f64,
    }

    pub struct Forbidden {
        pub by: Forbids,
        /// The limit that the cut goes beyond.
        pub limit: Option<f64>,
        /// How long a notch may be, where the cut is longer.
        pub notch: Option<f64>,
    }

    /// All that the Height screen shows.
    pub struct HeightView {
        pub survey: String,
        /// Best first.
        pub alternatives: Vec<AlternativeView>,
        /// The name of the best that needs nobody's approval; absent if there is none.
        pub best: Option<String>,
        /// The one that was chosen, else the best.
        pub chosen: Option<String>,
        pub target: Option<Target>,
        pub stations: Vec<f64>,
        /// The reading on the benchmark, so that a height can be said as a reading down from the line.
        pub line: Option<f64>,
        pub problems: Vec<WireProblem>,
        /// What the floor may rise in the doorway: as the plan says, else as the hall and the door leave.
        pub budget: Option<f64>,
    }

    /// How far the floor rises at the middle of a fixture; absent where the joists were not read around it.
    pub struct FixtureRise {
        pub kind: FixtureKind,
        pub rise: Option<f64>,
    }

    /// One way to make the floor flat.
    pub struct AlternativeView {
        pub name: String,
        /// The height over the datum at the middle of the joists.
        pub height: f64,
        /// The same as a reading down from the line; absent where the plane tilts or the line is not known.
        pub hold: Option<f64>,
        pub tilt_x: f64,
        pub tilt_y: f64,
        pub objective: f64,
        pub needs_approval: bool,
        pub over_door_budget: bool,
        /// May be chosen for a room where water is spilled.
        pub caution_water: bool,
        pub door_rise: Vec<Option<f64>>,
        /// The rise at the first station of each joist.
        pub rise: Vec<Option<f64>>,
        pub fixtures: Vec<FixtureRise>,
        pub strips: u32,
        pub sisters: u32,
        pub cuts: u32,
        pub joists: Vec<JoistWork>,
    }

    /// The work on one joist.
    pub struct JoistWork {
        pub id: String,
        pub action: Action,
        pub lifts: Vec<Option<f64>>,
        pub cuts: Vec<Option<f64>>,
        pub reasons: Vec<String>,
        /// The same, not yet in words.
        pub why: Vec<Why>,
        /// The strips as they will be cut.
        pub strips: Vec<StripView>,
        /// The cut is allowed by a recorded approval.
        #[serde(skip_serializing_if = "Option::is_none", default)]
        pub approval: Option<Approval>,
        pub done: bool,
    }

    /// One strip: where it lies on the joist and how thick it is there.
    pub struct StripView {
        pub from: f64,
        pub to: f64,
        /// The thickness at its ends and at every station between them.
        pub figures: Vec<Figure>,
    }

    pub struct Figure {
        pub station: f64,
        pub thickness: f64,
    }
}
