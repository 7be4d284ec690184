//! The rules in force in a room: every figure that decides anything, where it comes from, and what it was changed to.

pub mod falls;

use crate::forms::bounds::{BoundUnit, Bounds};
use crate::forms::refusal::{Kind, Refusal};
use crate::forms::{Decision, Provenance, RuleRef, RuleView, Rules, RulesView, Tile};
use survey::units::{INCH_MM, Length};

/// One figure that may be changed, and where its default comes from.
pub struct Figure {
    pub id: &'static str,
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

const fn practice(id: &'static str, name: &'static str, default: f64, unit: Unit) -> Figure {
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

/// A slope of the first rule for falls; another rule chosen brings its own.
const fn slope(id: &'static str, name: &'static str, default: f64) -> Figure {
    quoted(practice(id, name, default, Unit::Slope), "IRC P2709.1", "2021")
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
    practice("closing", "Closing error of a set-up", INCH / 16.0, Unit::Mm),
    practice("reading-sd", "Standard uncertainty of a tape read against a line", INCH / 32.0, Unit::Mm),
    practice(
        "far-off",
        "A reading this far off what its neighbours lead one to expect is asked about",
        0.75 * INCH,
        Unit::Mm,
    ),
    practice("tilt-sd", "Standard uncertainty of a tilt: rise over run", 0.001, Unit::Slope),
    practice("line-width", "Width of the line that is read", INCH / 8.0, Unit::Mm),
    practice("strong", "How much strong or shy means", INCH / 32.0, Unit::Mm),
    over(practice("framing-flat", "Framing under a long straightedge", INCH / 8.0, Unit::Mm), 96.0 * INCH),
    over(practice("framing-flat-short", "Framing under a short straightedge", INCH / 16.0, Unit::Mm), 24.0 * INCH),
    practice("framing-crown", "Crown or sag of one joist", INCH / 8.0, Unit::Mm),
    practice("of-the-rest", "Departure up to which a joist counts as one of the rest", INCH / 4.0, Unit::Mm),
    practice("level", "Out of level along a joist", INCH / 4.0, Unit::Mm),
    practice("twist", "Twist of a joist top", INCH / 16.0, Unit::Mm),
    practice("sag-ratio", "Sag that calls for a sister: one part in", 360.0, Unit::Ratio),
    practice("engineer-sag-ratio", "Sag that calls for an engineer: one part in", 240.0, Unit::Ratio),
    over(
        quoted(practice("tile-large-long", "Large tile, long reach", INCH / 8.0, Unit::Mm), TILE_CLAUSE, TILE_EDITION),
        120.0 * INCH,
    ),
    over(
        quoted(
            practice("tile-large-short", "Large tile, short reach", INCH / 16.0, Unit::Mm),
            TILE_CLAUSE,
            TILE_EDITION,
        ),
        24.0 * INCH,
    ),
    over(
        quoted(practice("tile-small-long", "Small tile, long reach", INCH / 4.0, Unit::Mm), TILE_CLAUSE, TILE_EDITION),
        120.0 * INCH,
    ),
    over(
        quoted(
            practice("tile-small-short", "Small tile, short reach", INCH / 16.0, Unit::Mm),
            TILE_CLAUSE,
            TILE_EDITION,
        ),
        12.0 * INCH,
    ),
    quoted(
        practice("tile-large-edge", "Longest edge from which a tile counts as large", 15.0 * INCH, Unit::Mm),
        TILE_CLAUSE,
        TILE_EDITION,
    ),
    slope("fall-least", "Least fall toward the drain, rise over run", 1.0 / 48.0),
    slope("fall-most", "Most fall toward the drain, rise over run", 1.0 / 24.0),
    practice("entry-low", "How much lower a shower may be at a flush entry", INCH / 16.0, Unit::Mm),
    practice("layer-sd", "Standard uncertainty of one layer's thickness", INCH / 64.0, Unit::Mm),
    practice("subfloor", "Thickness of the room's subfloor over the joists", 0.75 * INCH, Unit::Mm),
    practice("deck-sheet", "Thickness of the recessed deck's sheet", 0.75 * INCH, Unit::Mm),
    practice("bed-least", "Thinnest bed over a joist that stands up into it", 0.75 * INCH, Unit::Mm),
    practice("drain-hole", "Hole for the drain", 4.5 * INCH, Unit::Mm),
    practice("drain-clearance", "Clearance between that hole and a joist", 0.25 * INCH, Unit::Mm),
    practice("joist-thickness", "Thickness of a sawn joist", 1.5 * INCH, Unit::Mm),
    practice("fall-run", "Shortest run of a fall that is judged", 600.0, Unit::Mm),
    practice("pond-depth", "Water this deep is a film, not a pond", 1.0, Unit::Mm),
    practice("entry-level", "How far an entry line may be out of level", 2.0, Unit::Mm),
    practice("ledge-least", "Least pitch of a bench, sill or shelf, rise over run", 1.0 / 96.0, Unit::Slope),
    practice("ledge-most", "Most pitch of a bench, sill or shelf, rise over run", 1.0 / 24.0, Unit::Slope),
    practice("ledge-sd", "Standard uncertainty of a reading on a ledge", INCH / 64.0, Unit::Mm),
    practice("ledge-tilt-sd", "Standard uncertainty of a level’s angle, in degrees", 0.05, Unit::Ratio),
    practice("gap-sd", "Standard uncertainty of a gauge in a gap", INCH / 64.0, Unit::Mm),
    practice("stock-length", "Length of the boards that strips are ripped from", 96.0 * INCH, Unit::Mm),
    practice("stock-width", "Width of those boards", 3.5 * INCH, Unit::Mm),
    practice("saw-kerf", "What the saw takes", INCH / 8.0, Unit::Mm),
    practice("stock-short", "How far stock that takes the place of a strip may stay under it", INCH / 32.0, Unit::Mm),
    practice("sister-bearing", "Bearing of a sister on each end, at least", 1.5 * INCH, Unit::Mm),
    practice("strip-least", "Thinnest strip worth making", INCH / 16.0, Unit::Mm),
    practice("strip-sheet-below", "Sheet material below this thickness", INCH / 8.0, Unit::Mm),
    practice("strip-most", "Thickest ripped strip", 0.75 * INCH, Unit::Mm),
    practice("strip-tall", "Thickest strip ripped from a 2x", 1.5 * INCH, Unit::Mm),
    practice("strip-tall-allowed", "Tall strips where only height is missing: 1 yes, 0 no", 0.0, Unit::YesNo),
    practice("dress-most", "Deepest dressing of a sawn joist outside its middle third", INCH / 8.0, Unit::Mm),
    practice("max-tilt", "Steepest flat but not level floor", 0.0125, Unit::Ratio),
    practice("wet-room", "Water may be spilled here: 1 yes, 0 no", 1.0, Unit::YesNo),
    practice("cost-strip", "Weight of one strip", 1.0, Unit::Cost),
    practice("cost-strip-mm", "Weight of a millimetre of lift", 0.02, Unit::Cost),
    practice("cost-sister", "Weight of one sister", 10.0, Unit::Cost),
    practice("cost-dress", "Weight of dressing one joist", 2.0, Unit::Cost),
    practice("cost-door-mm", "Weight of a millimetre of rise at the door", 0.5, Unit::Cost),
    quoted(
        practice("flood-depth", "Least water at the threshold in a flood test", 2.0 * INCH, Unit::Mm),
        "IPC 312.9",
        "check your edition",
    ),
    quoted(practice("flood-hours", "Hours a flood test stands", 24.0, Unit::Ratio), "ASTM D5957", "check your edition"),
    practice("flood-loss", "Most that a flood test may lose beyond evaporation", INCH / 16.0, Unit::Mm),
    practice("flood-mark-sd", "Standard uncertainty of a water mark read with a rule", 0.4, Unit::Mm),
    practice("confidence", "Probability that makes a verdict sure", 0.95, Unit::Ratio),
];

/// Figures that may only be made stricter than their default, since the default is where practice ends.
const DOWNWARD_ONLY: &[&str] = &["dress-most"];

/// The figures in force in one room.
#[derive(Debug, Clone, Default)]
pub struct Figures {
    rules: Rules,
}

impl Figures {
    pub fn of(rules: &Rules) -> Self {
        Self { rules: rules.clone() }
    }

    /// The figure of a name; zero for a name that is none, which a test rules out.
    pub fn value(&self, id: &str) -> f64 {
        self.rules.changed.get(id).copied().unwrap_or_else(|| self.before_change(id))
    }

    /// The figure before it was changed: its own default, or that of the rule chosen for falls.
    fn before_change(&self, id: &str) -> f64 {
        let own = || figure(id).map_or(0.0, |figure| figure.default);
        falls::default(&self.rules, id).unwrap_or_else(own)
    }

    /// The figure in millimetres, for those that are lengths.
    pub fn mm(&self, id: &str) -> f64 {
        self.value(id)
    }

    pub fn length(&self, id: &str) -> Length {
        Length::mm(self.value(id))
    }

    pub fn yes(&self, id: &str) -> bool {
        self.value(id) >= 0.5
    }

    /// The reach over which a figure holds.
    pub fn reach(&self, id: &str) -> Length {
        Length::mm(figure(id).and_then(|figure| figure.reach).unwrap_or(0.0))
    }

    pub fn decision(&self) -> Decision {
        self.rules.decision.unwrap_or(Decision::Guarded)
    }

    /// How a finding names the rule it was judged by.
    pub fn name(&self, id: &str) -> RuleRef {
        let known = figure(id);
        let own = self.rules.changed.contains_key(id);
        if let (false, Some(chosen)) = (own, falls::brings(&self.rules, id)) {
            return chosen.named(self.decision());
        }
        RuleRef {
            name: known.map_or(id, |figure| figure.name).to_string(),
            clause: known.map_or("", |figure| figure.clause).to_string(),
            edition: known.map_or("", |figure| figure.edition).to_string(),
            provenance: if own { Provenance::Own } else { known.map_or(Provenance::Own, |figure| figure.provenance) },
            decision: self.decision(),
        }
    }

    /// The two reaches at which a tile's floor is judged; a tile of unknown size is judged as a large one.
    pub fn tile_rules(&self, tile: Option<&Tile>) -> [&'static str; 2] {
        let large = tile.is_none_or(|tile| Length::mm(tile.longest_edge).at_least(self.length("tile-large-edge")));
        if large { ["tile-large-long", "tile-large-short"] } else { ["tile-small-long", "tile-small-short"] }
    }

    fn view(&self, figure: &Figure) -> RuleView {
        let source = self.name(figure.id);
        RuleView {
            id: figure.id.to_string(),
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

fn figure(id: &str) -> Option<&'static Figure> {
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

/// Whether a figure may be changed to a value.
///
/// # Errors
/// `not-found`, `not-finite` or `out-of-range`.
pub fn check_change(id: &str, value: Option<f64>) -> Result<(), Refusal> {
    let Some(figure) = figure(id) else { return Err(Refusal::not_found("rule", id).field("rule")) };
    let Some(value) = value else { return Ok(()) };
    if !value.is_finite() {
        return Err(Refusal::not_finite("value"));
    }
    // The figure is called by its name: many stand on one screen.
    let refused = |must: &str| {
        let message = format!("\u{201c}{}\u{201d} must be {must}.", figure.name);
        Err(Refusal::new(Kind::OutOfRange, message).field("value"))
    };
    if DOWNWARD_ONLY.contains(&id) && value > figure.default {
        return refused("no more than its default: beyond it only a recorded approval counts");
    }
    if id == "confidence" && !(0.5..1.0).contains(&value) {
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
        ("confidence", _) | (_, Unit::YesNo) => (0.0, 1.0, BoundUnit::None),
        ("flood-hours", _) => (1.0, most, BoundUnit::Hours),
        ("sag-ratio" | "engineer-sag-ratio", _) => (1.0, most, BoundUnit::None),
        ("max-tilt", _) | (_, Unit::Slope) => (0.0, 0.25, BoundUnit::Slope),
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
    use survey::rules::{closing, framing_target};
    use survey::tile::{TileClass, large_from};

    #[test]
    fn the_figures_are_those_of_the_core() {
        let figures = Figures::default();
        for (class, ids) in [
            (TileClass::Small, ["tile-small-long", "tile-small-short"]),
            (TileClass::Large, ["tile-large-long", "tile-large-short"]),
        ] {
            let reaches = class.flatness().reaches;
            let ours: Vec<_> = ids.iter().map(|id| (figures.length(id), figures.reach(id))).collect();
            assert_eq!(reaches.iter().map(|reach| (reach.limit, reach.length)).collect::<Vec<_>>(), ours);
        }
        assert_eq!(figures.length("tile-large-edge"), large_from());
        assert_eq!(figures.length("closing"), closing().limit);
        let framing = framing_target().reaches;
        assert_eq!(
            framing.first().map(|reach| (reach.limit, reach.length)),
            Some((figures.length("framing-flat"), figures.reach("framing-flat")))
        );
    }

    #[test]
    fn every_figure_that_is_asked_for_is_there() {
        let mut asked = 0;
        for text in sources(concat!(env!("CARGO_MANIFEST_DIR"), "/src").as_ref()) {
            for call in text.split("figures.").skip(1) {
                let (_, rest) = call.split_once("(\"").filter(|(way, _)| WAYS.contains(way)).unwrap_or_default();
                let Some((id, _)) = rest.split_once('"') else { continue };
                assert!(figure(id).is_some(), "{id:?} is no figure: it needs its line in FIGURES");
                asked += 1;
            }
        }
        assert!(asked > 40, "only {asked} figures are asked for by name");
    }

    /// How a figure is asked for by its name.
    const WAYS: &[&str] = &["value", "mm", "length", "yes", "reach", "name"];

    /// Every file of a folder and of those in it.
    fn sources(folder: &std::path::Path) -> Vec<String> {
        let each = std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
        each.flat_map(|path| match path.is_dir() {
            true => sources(&path),
            false => vec![std::fs::read_to_string(path).unwrap_or_default()],
        })
        .collect()
    }

    #[test]
    fn a_figure_is_refused_where_only_a_slip_would_put_it() {
        for figure in FIGURES {
            assert!(check_change(figure.id, Some(figure.default)).is_ok(), "{} as it stands", figure.id);
            let refused = check_change(figure.id, Some(1.0e6)).expect_err(figure.id);
            assert_eq!((refused.kind, refused.field.as_deref()), (Kind::OutOfRange, Some("value")), "{}", figure.id);
            assert!(check_change(figure.id, Some(-1.0)).is_err(), "{} below zero", figure.id);
        }
        let said = check_change("closing", Some(600.0)).expect_err("two feet").message;
        let bounds = "from 0 to 31.75 mm (1.25 in). Look at the unit and the point.";
        assert_eq!(said, format!("\u{201c}Closing error of a set-up\u{201d} must be {bounds}"));
        let said = check_change("fall-least", Some(48.0)).expect_err("one in 48 as 48").message;
        assert!(said.contains("from level to 1 in 4."), "{said}");
    }

    #[test]
    fn a_tile_of_unknown_size_is_judged_as_a_large_one() {
        let tile = |longest_edge| Tile { name: String::new(), longest_edge, joint: None };
        let figures = Figures::default();
        assert_eq!(figures.tile_rules(None)[0], "tile-large-long");
        assert_eq!(figures.tile_rules(Some(&tile(381.0)))[0], "tile-large-long");
        assert_eq!(figures.tile_rules(Some(&tile(380.9)))[0], "tile-small-long");
    }
}
