//! What `framing-plan` and `joists` read: the grid of joists and all that the plan is made to.

use crate::forms::fields::{length, not_negative, positive};
use crate::forms::refusal::{Kind, Refusal};
use schemars::JsonSchema;
use serde::Deserialize;
use survey::framing::{Cost, Doorway, Dress, Settings, StripStops};
use survey::guard::{Approval, Member, MemberKind};
use survey::joists::{Grid, Joist, Misfit};
use survey::units::{Length, Ratio, Slope};

#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Input {
    /// From the door wall, the nearest first.
    station_y: Vec<f64>,
    joists: Vec<WireJoist>,
    /// The standard uncertainty of one reading.
    u: f64,
    #[serde(default)]
    strip: WireStrip,
    #[serde(default)]
    dress: WireDress,
    /// A joist that sags more than one part in so many is sistered.
    #[serde(default = "three_sixty")]
    sag_ratio: f64,
    #[serde(default)]
    doorway: Option<WireDoorway>,
    #[serde(default)]
    door_budget: Option<f64>,
    /// A level height to hold.
    #[serde(default)]
    height: Option<f64>,
    #[serde(default)]
    max_tilt: f64,
    #[serde(default = "yes")]
    wet_room: bool,
    #[serde(default)]
    cost: WireCost,
}

#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
struct WireJoist {
    id: String,
    x: f64,
    /// The height of its top at each station; `null` where it was not read.
    tops: Vec<Option<f64>>,
    /// The height of its other top edge at each station, where both were read; the higher counts.
    #[serde(default)]
    other_edge: Option<Vec<Option<f64>>>,
    kind: WireKind,
    depth: f64,
    span: f64,
    /// Where the bearing nearest the door wall stands; may be negative.
    first_bearing: f64,
    /// `null` if nobody has looked.
    #[serde(default)]
    sound: Option<bool>,
    #[serde(default)]
    approval: Option<WireApproval>,
}

#[derive(Debug, Clone, Copy, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
enum WireKind {
    Sawn,
    Engineered,
    Unknown,
}

#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
struct WireApproval {
    depth: f64,
    from: f64,
    to: f64,
}

#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
struct WireDoorway {
    from: f64,
    to: f64,
}

#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
struct WireStrip {
    least: f64,
    sheet_below: f64,
    most: f64,
    tall: f64,
    allow_tall: bool,
}

#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
struct WireDress {
    most: f64,
}

#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
struct WireCost {
    strip: f64,
    strip_mm: f64,
    sister: f64,
    dress: f64,
    door_mm: f64,
}

impl Default for WireStrip {
    fn default() -> Self {
        let StripStops { least, sheet_below, most, tall, allow_tall } = StripStops::default();
        let [least, sheet_below, most, tall] = [least, sheet_below, most, tall].map(Length::to_mm);
        Self { least, sheet_below, most, tall, allow_tall }
    }
}

impl Default for WireDress {
    fn default() -> Self {
        Self { most: Dress::default().most.to_mm() }
    }
}

impl Default for WireCost {
    fn default() -> Self {
        let Cost { strip, strip_mm, sister, dress, door_mm } = Cost::default();
        let [strip, strip_mm, sister, dress, door_mm] = [strip, strip_mm, sister, dress, door_mm].map(Ratio::to_f64);
        Self { strip, strip_mm, sister, dress, door_mm }
    }
}

fn three_sixty() -> f64 {
    360.0
}

fn yes() -> bool {
    true
}

impl Input {
    /// The grid of joists.
    ///
    /// # Errors
    /// `not-finite` or `out-of-range` naming the field.
    pub fn grid(&self) -> Result<Grid, Refusal> {
        let stations = self.station_y.iter().enumerate().map(|(k, y)| length(&format!("station_y[{k}]"), *y));
        let joists = self.joists.iter().enumerate().map(|(j, joist)| joist.read(&format!("joists[{j}]")));
        Ok(Grid {
            stations: stations.collect::<Result<_, _>>()?,
            joists: joists.collect::<Result<_, _>>()?,
            u: not_negative("u", self.u)?,
        })
    }

    /// What the plan is made to.
    ///
    /// # Errors
    /// `not-finite` or `out-of-range` naming the field.
    pub fn settings(&self) -> Result<Settings, Refusal> {
        let doorway = |door: &WireDoorway| -> Result<Doorway, Refusal> {
            Ok(Doorway { from: length("doorway.from", door.from)?, to: length("doorway.to", door.to)? })
        };
        Ok(Settings {
            strip: self.strip.read()?,
            dress: Dress { most: not_negative("dress.most", self.dress.most)? },
            sag_ratio: self.sag_ratio()?,
            doorway: self.doorway.as_ref().map(doorway).transpose()?,
            door_budget: self.door_budget.map(|budget| length("door_budget", budget)).transpose()?,
            height: self.height.map(|height| length("height", height)).transpose()?,
            max_tilt: Slope::ratio(not_negative("max_tilt", self.max_tilt)?.to_mm()),
            wet_room: self.wet_room,
            cost: self.cost.read()?,
        })
    }

    /// # Errors
    /// `not-finite` or `out-of-range`.
    pub fn sag_ratio(&self) -> Result<Ratio, Refusal> {
        positive("sag_ratio", self.sag_ratio).map(|ratio| Ratio::of(ratio.to_mm()))
    }
}

impl WireJoist {
    fn read(&self, field: &str) -> Result<Joist, Refusal> {
        let tops = |name: &str, tops: &[Option<f64>]| {
            let top = |(k, z): (usize, &Option<f64>)| z.map(|z| length(&format!("{field}.{name}[{k}]"), z)).transpose();
            tops.iter().enumerate().map(top).collect::<Result<Vec<_>, _>>()
        };
        let approval = |approval: &WireApproval| approval.read(&format!("{field}.approval"));
        Ok(Joist {
            id: self.id.clone(),
            x: length(&format!("{field}.x"), self.x)?,
            tops: tops("tops", &self.tops)?,
            other_edge: tops("other_edge", self.other_edge.as_deref().unwrap_or_default())?,
            member: Member {
                kind: self.kind.into(),
                depth: positive(&format!("{field}.depth"), self.depth)?,
                span: positive(&format!("{field}.span"), self.span)?,
                first_bearing: length(&format!("{field}.first_bearing"), self.first_bearing)?,
            },
            sound: self.sound,
            approval: self.approval.as_ref().map(approval).transpose()?,
        })
    }
}

impl WireApproval {
    fn read(&self, field: &str) -> Result<Approval, Refusal> {
        Ok(Approval {
            depth: not_negative(&format!("{field}.depth"), self.depth)?,
            from: length(&format!("{field}.from"), self.from)?,
            to: length(&format!("{field}.to"), self.to)?,
        })
    }
}

impl WireStrip {
    fn read(&self) -> Result<StripStops, Refusal> {
        Ok(StripStops {
            least: not_negative("strip.least", self.least)?,
            sheet_below: not_negative("strip.sheet_below", self.sheet_below)?,
            most: not_negative("strip.most", self.most)?,
            tall: not_negative("strip.tall", self.tall)?,
            allow_tall: self.allow_tall,
        })
    }
}

impl WireCost {
    fn read(&self) -> Result<Cost, Refusal> {
        let weight =
            |name: &str, value| not_negative(&format!("cost.{name}"), value).map(|cost| Ratio::of(cost.to_mm()));
        Ok(Cost {
            strip: weight("strip", self.strip)?,
            strip_mm: weight("strip_mm", self.strip_mm)?,
            sister: weight("sister", self.sister)?,
            dress: weight("dress", self.dress)?,
            door_mm: weight("door_mm", self.door_mm)?,
        })
    }
}

impl From<WireKind> for MemberKind {
    fn from(kind: WireKind) -> Self {
        match kind {
            WireKind::Sawn => Self::Sawn,
            WireKind::Engineered => Self::Engineered,
            WireKind::Unknown => Self::Unknown,
        }
    }
}

/// Why the grid cannot be computed with, naming the field.
pub fn misfit(why: Misfit) -> Refusal {
    let (kind, field) = match why {
        Misfit::NoJoists | Misfit::NothingRead => (Kind::TooFewPoints, "joists".to_string()),
        Misfit::NoStations => (Kind::TooFewPoints, "station_y".to_string()),
        Misfit::StationsNotAscending { at } => (Kind::OutOfRange, format!("station_y[{at}]")),
        Misfit::TopsDoNotMatch { joist } => (Kind::OutOfRange, format!("joists[{joist}].tops")),
    };
    Refusal::new(kind, why.to_string()).field(field)
}
