//! What the plan is made to: stops, limits, the doorway and what each kind of work counts.

use crate::units::{Length, Ratio, Slope};

/// Everything the plan depends on beside the joists.
#[derive(Debug, Clone, PartialEq)]
pub struct Settings {
    pub strip: StripStops,
    pub dress: Dress,
    /// A joist that hangs more than one part in so many below its own ends is sistered.
    pub sag_ratio: Ratio,
    pub doorway: Option<Doorway>,
    /// How much the floor may rise at the door.
    pub door_budget: Option<Length>,
    /// A level height to hold, for the alternative of that name.
    pub height: Option<Length>,
    /// How far the floor may tilt each way in the alternative that is flat but not level; level if zero.
    pub max_tilt: Slope,
    /// Whether water is spilled here.
    pub wet_room: bool,
    pub cost: Cost,
}

/// Up to which lift what is put on a joist.
///
/// # Source
/// Common practice.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StripStops {
    /// Less is not worth making.
    pub least: Length,
    /// Sheet material below this, ripped strips from here.
    pub sheet_below: Length,
    /// The most a strip makes up.
    pub most: Length,
    /// The most a tall strip, ripped from 2x stock, makes up where only height is missing.
    pub tall: Length,
    pub allow_tall: bool,
}

/// How deep a joist may be dressed: never more than 1/8 in, whatever is asked.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Dress {
    pub most: Length,
}

/// The doorway in the wall at the first station.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Doorway {
    pub from: Length,
    pub to: Length,
}

/// What each kind of work counts when the alternatives are ranked; plain numbers, only their ratios matter.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cost {
    pub strip: Ratio,
    /// For each mm of lift at each station.
    pub strip_mm: Ratio,
    pub sister: Ratio,
    pub dress: Ratio,
    /// For each mm the floor rises at the door.
    pub door_mm: Ratio,
}

impl Default for StripStops {
    fn default() -> Self {
        let sixteenths = |count: f64| Length::inches(count / 16.0);
        Self {
            least: sixteenths(1.0),
            sheet_below: sixteenths(2.0),
            most: sixteenths(12.0),
            tall: sixteenths(24.0),
            allow_tall: false,
        }
    }
}

impl Default for Dress {
    fn default() -> Self {
        Self { most: crate::guard::dressing_most() }
    }
}

impl Default for Cost {
    fn default() -> Self {
        let [strip, strip_mm, sister, dress, door_mm] = [1.0, 0.02, 10.0, 2.0, 0.5].map(Ratio::of);
        Self { strip, strip_mm, sister, dress, door_mm }
    }
}

impl Default for Settings {
    fn default() -> Self {
        Self {
            strip: StripStops::default(),
            dress: Dress::default(),
            sag_ratio: Ratio::of(360.0),
            doorway: None,
            door_budget: None,
            height: None,
            max_tilt: Slope::ZERO,
            wet_room: true,
            cost: Cost::default(),
        }
    }
}
