//! What a number would mean as the reading of a point, said before it is kept.

use crate::forms::refusal::Refusal;
use crate::forms::*;
use crate::reading::expected_reading::{expected, expected_among};
use crate::reading::length_text::{default_unit, echo, parse};
use crate::room::current_readings;
use crate::room::joist_grid;
use crate::room::point_heights::{Height, heights};
use crate::room::rules::{Figures, LengthId};
use crate::words::Say;
use survey::slips::{self, SlipKind};
use survey::units::{Estimate, Length};
use survey::{PlanPosition, Point};

/// What a text means as the reading of a point: its value, its uncertainty, how it compares with its neighbours, and
/// whether it looks like a slip.
///
/// # Errors
/// `not-understood`, or `not-found` for an unknown set-up or point.
pub fn entry(file: &RoomFile, ask: &EntryAsk) -> Result<EntryView, Refusal> {
    let figures = Figures::of(&file.rules);
    let value = parse("text", &ask.text, file.room.units, &figures)?;
    let setup = file.setups.iter().find(|setup| setup.id == ask.setup && !setup.withdrawn);
    let setup = setup.ok_or_else(|| Refusal::not_found("set-up", &ask.setup).field("setup"))?;
    let Some(id) = &ask.point else { return Ok(of_mark(file, setup, value)) };
    let point = file.plan.points.iter().find(|point| &point.id == id);
    let point = point.ok_or_else(|| Refusal::not_found("point", id).field("point"))?;
    let line = Length::mm(setup.benchmark.height + setup.opening.mm);
    let (here, others): (Vec<Height<'_>>, Vec<Height<'_>>) =
        heights(file, &setup.survey).into_iter().partition(|height| height.point.id == point.id);
    // The number a place of some height is read as, and back: the two ways are the same.
    let up = reads_up(file, &setup.id);
    let turned = |length: Length| if up { length } else { line - length };
    let near: Vec<Length> = around(file, &setup.survey, &others, point).into_iter().map(turned).collect();
    let sd = Length::mm(setup.sd_mm);
    let width = figures.length(LengthId::LineWidth);
    let before: Vec<Length> = here.iter().map(|height| turned(height.z)).collect();
    let slip = slips::slip(value, default_unit(file.room.units), &near, sd);
    let question =
        slip.or_else(|| slips::line_edge(value, &before, width, sd)).map(|slip| asked_as(file.room.units, slip));
    let expected = expected(&read(&others), sd, place(point)).map(|floor| Estimate::new(turned(floor.value), floor.u));
    let expected = expected.or_else(|| expected_among(&near, sd));
    // What was read here twice alike is the floor, however odd it looks.
    let agrees = here.iter().any(|height| (turned(height.z) - value).abs() <= sd * 3.0);
    let far = expected
        .filter(|expected| question.is_none() && !agrees && is_far(value, *expected, figures.length(LengthId::FarOff)));
    Ok(EntryView {
        value: value.to_mm(),
        echo: echo(value),
        sd_mm: setup.sd_mm,
        differences: shown(&others, point).into_iter().map(|height| difference(height, turned(value))).collect(),
        unusual: is_unusual(value, &near, sd),
        question,
        far: far.map(|far| Expected { value: far.value.to_mm(), u: far.u.to_mm() }),
    })
}

/// The mark read again: what it read first is all that speaks for it, and a slip there sets every reading aside.
fn of_mark(file: &RoomFile, setup: &Setup, value: Length) -> EntryView {
    let sd = Length::mm(setup.sd_mm);
    EntryView {
        value: value.to_mm(),
        echo: echo(value),
        sd_mm: setup.sd_mm,
        differences: Vec::new(),
        unusual: false,
        question: slips::slip(value, default_unit(file.room.units), &[Length::mm(setup.opening.mm)], sd)
            .map(|slip| asked_as(file.room.units, slip)),
        far: None,
    }
}

/// Whether a reading lies further from what its neighbours lead one to expect than an ordinary crown does, and further
/// than the uncertainty of that explains, nine hundred and ninety-nine times in a thousand.
fn is_far(value: Length, expected: Estimate<Length>, far_off: Length) -> bool {
    let off = (value - expected.value).abs();
    off > far_off && off > expected.expanded(SURELY)
}

/// The two-sided quantile of the normal distribution for one in a thousand.
const SURELY: f64 = 3.29;

fn read(heights: &[Height<'_>]) -> Vec<Point> {
    heights.iter().map(Height::at).collect()
}

fn place(point: &PlanPoint) -> PlanPosition {
    PlanPosition { x: Length::mm(point.x), y: Length::mm(point.y) }
}

/// Whether the readings of a set-up count up from the datum; down from the line until one says otherwise.
fn reads_up(file: &RoomFile, setup: &str) -> bool {
    current_readings(file).filter(|reading| reading.setup == setup).last().is_some_and(|last| last.sense == Sense::Up)
}

/// The heights around a point: on joists those along and beside it, elsewhere the nearest.
fn around(file: &RoomFile, survey: &str, others: &[Height<'_>], point: &PlanPoint) -> Vec<Length> {
    let Some(joist) = &point.joist else {
        return by_distance(others, point).into_iter().take(NEAREST).map(|height| height.z).collect();
    };
    let grid = joist_grid::grid(file, survey, others, Length::ZERO);
    let station = joist_grid::station(file.plan.joists_along, point.x, point.y);
    let at_joist = grid.joists.iter().position(|one| &one.id == joist);
    let at_station = grid.stations.iter().position(|one| (one.to_mm() - station).abs() <= joist_grid::SAME_STATION);
    let tops: Vec<Vec<Option<Length>>> = grid.joists.into_iter().map(|joist| joist.tops).collect();
    at_joist.zip(at_station).map(|(joist, station)| slips::around(&tops, joist, station)).unwrap_or_default()
}

/// How many readings around a point of a floor speak for what it should be.
const NEAREST: usize = 6;

fn by_distance<'h, 'f>(others: &'h [Height<'f>], point: &PlanPoint) -> Vec<&'h Height<'f>> {
    let distance = |height: &&Height<'_>| (height.point.x - point.x).hypot(height.point.y - point.y);
    let mut near: Vec<&Height<'_>> = others.iter().collect();
    near.sort_by(|a, b| distance(a).total_cmp(&distance(b)));
    near
}

/// The two readings that are shown beside what is typed: the nearest on the same joist, and the nearest across.
fn shown<'h, 'f>(others: &'h [Height<'f>], point: &PlanPoint) -> Vec<&'h Height<'f>> {
    let near = by_distance(others, point);
    let same_joist = |height: &&Height<'_>| point.joist.is_some() && height.point.joist == point.joist;
    let along = near.iter().copied().find(same_joist);
    let across = near.iter().copied().find(|height| !same_joist(height));
    along.into_iter().chain(across).collect()
}

fn difference(near: &Height<'_>, z: Length) -> Difference {
    Difference { point: near.point.id.clone(), mm: (z - near.z).to_mm() }
}

/// Whether a reading lies outside all around it by more than twice their own spread and the noise of reading.
fn is_unusual(value: Length, near: &[Length], sd: Length) -> bool {
    let (Some(low), Some(high)) = (near.iter().copied().reduce(Length::min), near.iter().copied().reduce(Length::max))
    else {
        return false;
    };
    let outside = (low - value).max(value - high);
    near.len() >= 3 && outside > (high - low) * 2.0 + sd * 6.0
}

fn asked_as(units: Units, slip: slips::Slip) -> SlipView {
    let text = match units {
        Units::In => Say::new(units).bare(slip.suggestion.to_mm()),
        Units::Mm => format!("{}", (slip.suggestion.to_mm() * 10.0).round() / 10.0),
    };
    // The suggestion is entered as its text, so its value is what the text means.
    SlipView { slip: kind(slip.kind), value: slip.suggestion.to_mm(), text }
}

fn kind(kind: SlipKind) -> Slip {
    match kind {
        SlipKind::Inch => Slip::Inch,
        SlipKind::Foot => Slip::Foot,
        SlipKind::TenMillimetres => Slip::TenMillimetres,
        SlipKind::HundredMillimetres => Slip::HundredMillimetres,
        SlipKind::SwappedDigits => Slip::SwappedDigits,
        SlipKind::Sense => Slip::Sense,
        SlipKind::LineEdge => Slip::LineEdge,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const ROOMS: [&str; 3] = ["kestrel", "rowan", "banksia"];

    fn asked(file: &RoomFile, setup: &str, point: &str, text: &str) -> EntryView {
        let ask = EntryAsk { room: String::new(), setup: setup.into(), point: Some(point.into()), text: text.into() };
        entry(file, &ask).expect("understood")
    }

    #[test]
    fn what_was_read_in_the_demo_rooms_is_not_asked_about() {
        for room in ROOMS {
            let file = crate::demo(room).expect("a demo room");
            for reading in current_readings(&file).filter(|reading| reading.sense != Sense::Gap) {
                let mut without = file.clone();
                without.readings.retain(|other| other.point != reading.point);
                let view = asked(&without, &reading.setup, &reading.point, &reading.entered);
                assert_eq!((view.far, view.question), (None, None), "{room}: {}", reading.point);
            }
        }
    }

    #[test]
    fn a_reading_that_no_slip_explains_is_asked_about_with_what_was_expected() {
        let mut file = crate::demo("kestrel").expect("the demo room");
        file.readings.retain(|reading| reading.point != "J3@60");
        let far = asked(&file, "S1", "J3@60", "41-9/16").far.expect("asked about");
        let expected = 44.25 * 25.4;
        assert!((far.value - expected).abs() < 8.0, "{} beside {expected}", far.value);
        assert!(far.u > 0.0 && far.u < 8.0, "{}", far.u);
        for ordinary in ["44-1/4", "43-7/8", "44-9/16"] {
            assert_eq!(asked(&file, "S1", "J3@60", ordinary).far, None, "{ordinary}");
        }
    }

    #[test]
    fn read_twice_alike_it_is_the_floor() {
        let mut file = crate::demo("kestrel").expect("the demo room");
        let at = |reading: &&mut Reading| reading.point == "J3@60";
        file.readings.iter_mut().filter(at).for_each(|reading| reading.value = 41.5625 * 25.4);
        assert_eq!(asked(&file, "S1", "J3@60", "41-9/16").far, None);
        assert!(asked(&file, "S1", "J3@60", "41-1/16").far.is_some());
    }

    #[test]
    fn a_point_read_again_off_by_the_width_of_the_line_is_asked_about() {
        let file = crate::demo("kestrel").expect("the demo room");
        let again = |text: &str| asked(&file, "S1", "J1@0", text).question.map(|slip| (slip.slip, slip.text));
        let first = current_readings(&file).find(|reading| reading.point == "J1@0").expect("read").entered.clone();
        assert_eq!(first, "44-1/8");
        assert_eq!(again("44-1/4"), Some((Slip::LineEdge, "44-1/8".to_string())));
        assert_eq!(again("44-1/8"), None);
        assert_eq!(again("44-3/16"), None);
    }

    #[test]
    fn a_slip_at_the_mark_is_asked_about_before_it_sets_all_aside() {
        let file = crate::demo("kestrel").expect("the demo room");
        let closed = |text: &str| {
            let ask = EntryAsk { room: String::new(), setup: "S1".into(), point: None, text: text.into() };
            entry(&file, &ask).expect("understood").question.map(|slip| slip.text)
        };
        assert_eq!(closed("43-5/16").as_deref(), Some("44-5/16"));
        assert_eq!(closed("44-5/16"), None);
        assert_eq!(closed("44-3/8"), None, "an eighth is for the closing to judge");
    }

    #[test]
    fn along_the_first_joist_its_own_readings_are_all_there_is() {
        let mut file = crate::demo("kestrel").expect("the demo room");
        file.readings.retain(|reading| ["J1@0", "J1@30", "J1@60"].contains(&reading.point.as_str()));
        // Two along the joist are not yet three.
        assert_eq!(asked(&file, "S1", "J1@90", "41-9/16").far, None);
        file.readings.truncate(0);
        assert_eq!(asked(&file, "S1", "J1@0", "41-9/16").far, None);
    }
}
