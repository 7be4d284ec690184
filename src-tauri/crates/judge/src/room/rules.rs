//! The rules in force in a room: every figure that decides anything, where it comes from, and what it was changed to.

pub mod falls;
mod id;
mod straightedges;

pub use id::{FlagId, LengthId, NumberId, RuleId, SlopeId};

use crate::forms::bounds::{BoundUnit, Bounds};
use crate::forms::refusal::{Kind, Refusal};
use crate::forms::{Decision, Provenance, RuleRef, RuleView, Rules, RulesView};
use survey::drainage::{FallLimits, FallRule};
use survey::units::{INCH_MM, Length, Probability, Ratio, Slope};

/// One figure that may be changed, and where its default comes from.
pub struct Figure {
    pub id: RuleId,
    name: &'static str,
    default: f64,
    unit: Unit,
    /// The reach over which it holds, mm.
    reach: Option<f64>,
    clause: &'static str,
    edition: &'static str,
    provenance: Provenance,
}

/// What a figure is a figure of.
#[derive(Clone, Copy, PartialEq)]
enum Unit {
    Mm,
    Ratio,
    Slope,
    Cost,
    /// 1 yes, 0 no.
    YesNo,
}

const INCH: f64 = INCH_MM;

const fn practice(id: RuleId, name: &'static str, default: f64, unit: Unit) -> Figure {
    Figure {
        id,
        name,
        default,
        unit,
        reach: None,
        clause: "common practice",
        edition: "",
        provenance: Provenance::CommonPractice,
    }
}

const fn length(id: LengthId, name: &'static str, default: f64) -> Figure {
    practice(RuleId::Length(id), name, default, Unit::Mm)
}

const fn slope(id: SlopeId, name: &'static str, default: f64) -> Figure {
    practice(RuleId::Slope(id), name, default, Unit::Slope)
}

const fn number(id: NumberId, name: &'static str, default: f64) -> Figure {
    practice(RuleId::Number(id), name, default, Unit::Ratio)
}

const fn cost(id: NumberId, name: &'static str, default: f64) -> Figure {
    practice(RuleId::Number(id), name, default, Unit::Cost)
}

const fn flag(id: FlagId, name: &'static str, default: f64) -> Figure {
    practice(RuleId::Flag(id), name, default, Unit::YesNo)
}

/// A slope of the first rule for falls; another rule chosen brings its own.
const fn fall(id: SlopeId, name: &'static str, default: f64) -> Figure {
    quoted(slope(id, name, default), "IRC P2709.1", "2021")
}

const fn over(figure: Figure, reach: f64) -> Figure {
    Figure { reach: Some(reach), ..figure }
}

const fn quoted(figure: Figure, clause: &'static str, edition: &'static str) -> Figure {
    Figure { clause, edition, provenance: Provenance::Read, ..figure }
}

/// The tile tolerances as trade pages quote them; the standard itself was not read.
const TILE_CLAUSE: &str = "ANSI A108.02, substrate for tile, as quoted in the trade";
const TILE_EDITION: &str = "check your edition";

/// Every figure, in the order the Rules screen lists them.
pub const FIGURES: &[Figure] = &[
    length(LengthId::Closing, "Closing error of a set-up", INCH / 16.0),
    length(LengthId::ReadingSd, "Standard uncertainty of a tape read against a line", INCH / 32.0),
    length(
        LengthId::FarOff,
        "A reading this far off what its neighbours lead one to expect is asked about",
        0.75 * INCH,
    ),
    slope(SlopeId::TiltSd, "Standard uncertainty of a tilt: rise over run", 0.001),
    length(LengthId::LineWidth, "Width of the line that is read", INCH / 8.0),
    length(LengthId::Strong, "How much strong or shy means", INCH / 32.0),
    over(length(LengthId::FramingFlat, "Framing under a long straightedge", INCH / 8.0), 96.0 * INCH),
    over(length(LengthId::FramingFlatShort, "Framing under a short straightedge", INCH / 16.0), 24.0 * INCH),
    length(LengthId::FramingCrown, "Crown or sag of one joist", INCH / 8.0),
    length(LengthId::OfTheRest, "Departure up to which a joist counts as one of the rest", INCH / 4.0),
    length(LengthId::Level, "Out of level along a joist", INCH / 4.0),
    length(LengthId::Twist, "Twist of a joist top", INCH / 16.0),
    number(NumberId::SagRatio, "Sag that calls for a sister: one part in", 360.0),
    number(NumberId::EngineerSagRatio, "Sag that calls for an engineer: one part in", 240.0),
    over(
        quoted(length(LengthId::TileLargeLong, "Large tile, long reach", INCH / 8.0), TILE_CLAUSE, TILE_EDITION),
        120.0 * INCH,
    ),
    over(
        quoted(length(LengthId::TileLargeShort, "Large tile, short reach", INCH / 16.0), TILE_CLAUSE, TILE_EDITION),
        24.0 * INCH,
    ),
    over(
        quoted(length(LengthId::TileSmallLong, "Small tile, long reach", INCH / 4.0), TILE_CLAUSE, TILE_EDITION),
        120.0 * INCH,
    ),
    over(
        quoted(length(LengthId::TileSmallShort, "Small tile, short reach", INCH / 16.0), TILE_CLAUSE, TILE_EDITION),
        12.0 * INCH,
    ),
    quoted(
        length(LengthId::TileLargeEdge, "Longest edge from which a tile counts as large", 15.0 * INCH),
        TILE_CLAUSE,
        TILE_EDITION,
    ),
    fall(SlopeId::FallLeast, "Least fall toward the drain, rise over run", 1.0 / 48.0),
    fall(SlopeId::FallMost, "Most fall toward the drain, rise over run", 1.0 / 24.0),
    length(LengthId::EntryLow, "How much lower a shower may be at a flush entry", INCH / 16.0),
    length(LengthId::LayerSd, "Standard uncertainty of one layer's thickness", INCH / 64.0),
    length(LengthId::Subfloor, "Thickness of the room's subfloor over the joists", 0.75 * INCH),
    length(LengthId::DeckSheet, "Thickness of the recessed deck's sheet", 0.75 * INCH),
    length(LengthId::BedLeast, "Thinnest bed over a joist that stands up into it", 0.75 * INCH),
    length(LengthId::DrainHole, "Hole for the drain", 4.5 * INCH),
    length(LengthId::DrainClearance, "Clearance between that hole and a joist", 0.25 * INCH),
    length(LengthId::JoistThickness, "Thickness of a sawn joist", 1.5 * INCH),
    length(LengthId::FallRun, "Shortest run of a fall that is judged", 600.0),
    length(LengthId::PondDepth, "Water this deep is a film, not a pond", 1.0),
    length(LengthId::EntryLevel, "How far an entry line may be out of level", 2.0),
    slope(SlopeId::LedgeLeast, "Least pitch of a bench, sill or shelf, rise over run", 1.0 / 96.0),
    slope(SlopeId::LedgeMost, "Most pitch of a bench, sill or shelf, rise over run", 1.0 / 24.0),
    length(LengthId::LedgeSd, "Standard uncertainty of a reading on a ledge", INCH / 64.0),
    number(NumberId::LedgeTiltSd, "Standard uncertainty of a level’s angle, in degrees", 0.05),
    length(LengthId::GapSd, "Standard uncertainty of a gauge in a gap", INCH / 64.0),
    length(LengthId::StockLength, "Length of the boards that strips are ripped from", 96.0 * INCH),
    length(LengthId::StockWidth, "Width of those boards", 3.5 * INCH),
    length(LengthId::SawKerf, "What the saw takes", INCH / 8.0),
    length(LengthId::StockShort, "How far stock that takes the place of a strip may stay under it", INCH / 32.0),
    length(LengthId::SisterBearing, "Bearing of a sister on each end, at least", 1.5 * INCH),
    length(LengthId::StripLeast, "Thinnest strip worth making", INCH / 16.0),
    length(LengthId::StripSheetBelow, "Sheet material below this thickness", INCH / 8.0),
    length(LengthId::StripMost, "Thickest ripped strip", 0.75 * INCH),
    length(LengthId::StripTall, "Thickest strip ripped from a 2x", 1.5 * INCH),
    flag(FlagId::StripTallAllowed, "Tall strips where only height is missing: 1 yes, 0 no", 0.0),
    length(LengthId::DressMost, "Deepest dressing of a sawn joist outside its middle third", INCH / 8.0),
    Figure { unit: Unit::Ratio, ..slope(SlopeId::MaxTilt, "Steepest flat but not level floor", 0.0125) },
    flag(FlagId::WetRoom, "Water may be spilled here: 1 yes, 0 no", 1.0),
    cost(NumberId::CostStrip, "Weight of one strip", 1.0),
    cost(NumberId::CostStripMm, "Weight of a millimetre of lift", 0.02),
    cost(NumberId::CostSister, "Weight of one sister", 10.0),
    cost(NumberId::CostDress, "Weight of dressing one joist", 2.0),
    cost(NumberId::CostDoorMm, "Weight of a millimetre of rise at the door", 0.5),
    quoted(
        length(LengthId::FloodDepth, "Least water at the threshold in a flood test", 2.0 * INCH),
        "IPC 312.9",
        "check your edition",
    ),
    quoted(number(NumberId::FloodHours, "Hours a flood test stands", 24.0), "ASTM D5957", "check your edition"),
    length(LengthId::FloodLoss, "Most that a flood test may lose beyond evaporation", INCH / 16.0),
    length(LengthId::FloodMarkSd, "Standard uncertainty of a water mark read with a rule", 0.4),
    number(NumberId::Confidence, "Probability that makes a verdict sure", 0.95),
];

/// Figures that may only be made stricter than their default, since the default is where practice ends.
const DOWNWARD_ONLY: &[RuleId] = &[RuleId::Length(LengthId::DressMost)];

/// As many lines as ids: a new id without its line is not built.
const _: () = assert!(FIGURES.len() == RuleId::ALL.len());

/// The figures in force in one room.
#[derive(Debug, Clone, Default)]
pub struct Figures {
    rules: Rules,
}

impl Figures {
    pub fn of(rules: &Rules) -> Self {
        Self { rules: rules.clone() }
    }

    fn value(&self, id: RuleId) -> f64 {
        self.rules.changed.get(id.name()).copied().unwrap_or_else(|| self.before_change(id))
    }

    /// The figure before it was changed: its own default, or that of the rule chosen for falls.
    fn before_change(&self, id: RuleId) -> f64 {
        let own = || figure(id).map_or(0.0, |figure| figure.default);
        falls::default(&self.rules, id).unwrap_or_else(own)
    }

    pub fn length(&self, id: LengthId) -> Length {
        Length::mm(self.value(id.into()))
    }

    pub fn slope(&self, id: SlopeId) -> Slope {
        Slope::ratio(self.value(id.into()))
    }

    pub fn ratio(&self, id: NumberId) -> Ratio {
        Ratio::of(self.number(id))
    }

    /// A figure that is of no unit of the core, as degrees and hours.
    pub fn number(&self, id: NumberId) -> f64 {
        self.value(id.into())
    }

    pub fn flag(&self, id: FlagId) -> bool {
        self.value(id.into()) >= 0.5
    }

    /// The probability that makes a verdict sure.
    pub fn confidence(&self) -> Probability {
        Probability::of(self.number(NumberId::Confidence))
    }

    /// The reach over which a limit holds; nothing for one that holds at a place.
    pub fn reach(&self, id: LengthId) -> Length {
        Length::mm(figure(id.into()).and_then(|figure| figure.reach).unwrap_or(0.0))
    }

    /// What a floor that slopes to a drain is to keep to between its far end and the drain.
    pub fn falls(&self) -> FallLimits {
        let (minimum, most) = (self.slope(SlopeId::FallLeast), self.slope(SlopeId::FallMost));
        let square = falls::is_square_to_drain(&self.rules);
        let rule = if square { FallRule::SquareToDrain } else { FallRule::Path };
        FallLimits { minimum, maximum: most.max(minimum), rule }
    }

    pub fn decision(&self) -> Decision {
        self.rules.decision.unwrap_or(Decision::Guarded)
    }

    /// How a finding names the rule it was judged by.
    pub fn name(&self, id: impl Into<RuleId>) -> RuleRef {
        let id = id.into();
        let known = figure(id);
        let own = self.rules.changed.contains_key(id.name());
        if let (false, Some(chosen)) = (own, falls::brings(&self.rules, id)) {
            return chosen.named(self.decision());
        }
        RuleRef {
            name: known.map_or(id.name(), |figure| figure.name).to_string(),
            clause: known.map_or("", |figure| figure.clause).to_string(),
            edition: known.map_or("", |figure| figure.edition).to_string(),
            provenance: if own { Provenance::Own } else { known.map_or(Provenance::Own, |figure| figure.provenance) },
            decision: self.decision(),
        }
    }

    fn view(&self, figure: &Figure) -> RuleView {
        let source = self.name(figure.id);
        RuleView {
            id: figure.id.name().to_string(),
            name: figure.name.to_string(),
            value: self.value(figure.id),
            default: self.before_change(figure.id),
            unit: unit(figure.unit).to_string(),
            reach: figure.reach,
            clause: source.clause,
            edition: source.edition,
            provenance: source.provenance,
        }
    }
}

fn figure(id: RuleId) -> Option<&'static Figure> {
    FIGURES.iter().find(|figure| figure.id == id)
}

fn unit(unit: Unit) -> &'static str {
    match unit {
        Unit::Mm => "mm",
        Unit::Ratio => "ratio",
        Unit::Slope => "slope",
        Unit::Cost => "cost",
        Unit::YesNo => "yes-no",
    }
}

/// Whether the figure that is written so may be changed to a value.
///
/// # Errors
/// `not-found`, `not-finite` or `out-of-range`.
pub fn check_change(name: &str, value: Option<f64>) -> Result<(), Refusal> {
    let Some(figure) = RuleId::named(name).and_then(figure) else {
        return Err(Refusal::not_found("rule", name).field("rule"));
    };
    let Some(value) = value else { return Ok(()) };
    if !value.is_finite() {
        return Err(Refusal::not_finite("value"));
    }
    // The figure is called by its name: many stand on one screen.
    let refused = |must: &str| {
        let message = format!("\u{201c}{}\u{201d} must be {must}.", figure.name);
        Err(Refusal::new(Kind::OutOfRange, message).field("value"))
    };
    if DOWNWARD_ONLY.contains(&figure.id) && value > figure.default {
        return refused("no more than its default: beyond it only a recorded approval counts");
    }
    if figure.id == NumberId::Confidence.into() && !(0.5..1.0).contains(&value) {
        return refused("from 0.5 to below 1");
    }
    let bounds = bounds(figure);
    if (bounds.least..=bounds.most).contains(&value) { Ok(()) } else { refused(&bounds.said()) }
}

/// The most that a figure may be of its default, and the least that bound is for a length, in mm. Our own choice.
const TIMES_ITS_DEFAULT: f64 = 20.0;
const ANY_LENGTH: f64 = 25.4;

/// What a figure may be changed to at all: beyond it, it was typed in another unit.
fn bounds(figure: &Figure) -> Bounds {
    let most = TIMES_ITS_DEFAULT * figure.default;
    let (least, most, unit) = match (figure.id, figure.unit) {
        (RuleId::Number(NumberId::Confidence), _) | (_, Unit::YesNo) => (0.0, 1.0, BoundUnit::None),
        (RuleId::Number(NumberId::FloodHours), _) => (1.0, most, BoundUnit::Hours),
        (RuleId::Number(NumberId::SagRatio | NumberId::EngineerSagRatio), _) => (1.0, most, BoundUnit::None),
        (RuleId::Slope(SlopeId::MaxTilt), _) | (_, Unit::Slope) => (0.0, 0.25, BoundUnit::Slope),
        (_, Unit::Cost) => (0.0, 1000.0, BoundUnit::None),
        (_, Unit::Mm) => (0.0, most.max(ANY_LENGTH), BoundUnit::Mm),
        (_, Unit::Ratio) => (0.0, most, BoundUnit::None),
    };
    Bounds { least, most, unit }
}

/// Every figure in force in a room.
pub fn view(rules: &Rules) -> RulesView {
    let figures = Figures::of(rules);
    RulesView {
        rules: FIGURES.iter().map(|figure| figures.view(figure)).collect(),
        decision: figures.decision(),
        falls: falls::views(rules),
        tile: rules.tile.clone(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use survey::tile::large_from;

    #[test]
    fn every_id_has_its_figure_and_is_read_as_it_is_written() {
        for id in RuleId::ALL {
            assert!(figure(*id).is_some(), "{id:?} needs its line in FIGURES");
            assert_eq!(RuleId::named(id.name()), Some(*id));
            let kebab = id.name().chars().all(|letter| letter.is_ascii_lowercase() || letter == '-');
            assert!(kebab, "{}", id.name());
        }
        assert_eq!(RuleId::named("framing-flatness"), None);
    }

    /// ANSI A108.02 as quoted in trade magazines, not read in the standard: small tile 1/4 in in 10 ft and 1/16 in in
    /// 1 ft, large tile 1/8 in in 10 ft and 1/16 in in 2 ft. Exact conversions of those figures.
    #[test]
    fn the_tolerances_of_tile_in_millimetres() {
        let figures = Figures::default();
        let check = |id, limit: f64, reach: f64| {
            let found = (figures.length(id).to_mm(), figures.reach(id).to_mm());
            assert!((found.0 - limit).abs() < 1e-9 && (found.1 - reach).abs() < 1e-9, "{id:?}: {found:?}");
        };
        check(LengthId::TileSmallLong, 6.35, 3048.0);
        check(LengthId::TileSmallShort, 1.5875, 304.8);
        check(LengthId::TileLargeLong, 3.175, 3048.0);
        check(LengthId::TileLargeShort, 1.5875, 609.6);
        assert_eq!(figures.length(LengthId::TileLargeEdge), large_from());
    }

    #[test]
    fn a_figure_is_refused_where_only_a_slip_would_put_it() {
        for figure in FIGURES {
            let id = figure.id.name();
            assert!(check_change(id, Some(figure.default)).is_ok(), "{id} as it stands");
            let refused = check_change(id, Some(1.0e6)).expect_err(id);
            assert_eq!((refused.kind, refused.field.as_deref()), (Kind::OutOfRange, Some("value")), "{id}");
            assert!(check_change(id, Some(-1.0)).is_err(), "{id} below zero");
        }
        let said = check_change("closing", Some(600.0)).expect_err("two feet").message;
        let bounds = "from 0 to 31.75 mm (1.25 in). Look at the unit and the point.";
        assert_eq!(said, format!("\u{201c}Closing error of a set-up\u{201d} must be {bounds}"));
        let said = check_change("fall-least", Some(48.0)).expect_err("one in 48 as 48").message;
        assert!(said.contains("from level to 1 in 4."), "{said}");
    }
}
