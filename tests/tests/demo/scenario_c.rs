//! Banksia Court: the falls and the pond of an ensuite laid to a linear drain. Invented room; its right answers were
//! worked by hand from its heights with σ = 0.5 mm (difference of two readings: 0.71 mm).

use app::forms::{Finding, FindingKind, FindingsView, Verdict};
use site_tests::{app, demo};

fn found() -> FindingsView {
    let app = app();
    let room = demo(&app, "banksia");
    app::findings(&app.room_state(&room).expect("the room"), None).expect("findings")
}

fn of(view: &FindingsView, kind: FindingKind) -> Vec<&Finding> {
    view.findings.iter().filter(|finding| finding.kind == kind).collect()
}

fn is(value: Option<f64>, want: f64) -> bool {
    value.is_some_and(|value| (value - want).abs() < 1e-9)
}

#[test]
fn one_pond_too_close_to_call_against_a_film_of_a_millimetre() {
    let view = found();
    let ponds = of(&view, FindingKind::Pond);
    assert_eq!(ponds.len(), 1);
    let pond = ponds[0];
    assert_eq!((pond.place.point, pond.verdict), (Some((900.0, 600.0)), Verdict::TooCloseToCall));
    // It spills over (600, 600) at 8.3; the lowest reading is 6.5.
    assert!(is(pond.value, 8.3 - 6.5) && is(pond.limit, 1.0), "{pond:?}");
    assert!(is(pond.u, 0.5 * 2f64.sqrt()));
    assert_eq!(pond.retake, ["900/600"]);
}

#[test]
fn the_two_bad_runs_are_out_by_themselves() {
    let view = found();
    let check = |subject: &str, rise: f64| {
        let run = of(&view, FindingKind::FallRun).into_iter().find(|run| run.subject == subject);
        let run = run.unwrap_or_else(|| panic!("{subject} is named: {:#?}", of(&view, FindingKind::FallRun)));
        assert_eq!((run.verdict, run.reach), (Verdict::Out, Some(300.0)), "{subject}");
        assert!(is(run.value, rise) && is(run.least, 3.75) && is(run.limit, 6.0), "{run:?}");
    };
    check("900/600 to 600/600", 6.5 - 8.3);
    check("1200/600 to 900/600", 14.9 - 6.5);
    let short = of(&view, FindingKind::FallRun).into_iter().filter(|run| run.reach == Some(300.0)).count();
    assert_eq!(short, 2, "no other run of 300 mm is called");
}

#[test]
fn the_other_short_runs_are_said_once_with_the_doubtful_ones() {
    let view = found();
    let short = of(&view, FindingKind::FallShort);
    assert_eq!(short.len(), 1);
    assert_eq!((short[0].verdict, short[0].subject.as_str()), (Verdict::TooCloseToCall, "22"));
    let mut retake = short[0].retake.clone();
    retake.sort();
    // The ends of 1200–1500 at y 600, 1200–1500 and 1500–1800 at y 0, and 1500–1800 at y 300.
    let mut ends = ["1200/600", "1500/600", "1200/0", "1500/0", "1800/0", "1500/300", "1800/300"].map(str::to_string);
    ends.sort();
    assert_eq!(retake, ends);
}

#[test]
fn whole_rows_fall_enough_and_not_too_much() {
    let view = found();
    let rows = of(&view, FindingKind::FallRow);
    assert_eq!(rows.len(), 4);
    for row in rows {
        assert!(is(row.least, 22.5) && is(row.limit, 36.0) && row.reach == Some(1800.0), "{row:?}");
        let is_short = is(row.value, 23.9);
        // 25.0 against 22.5 is 3.5 standard uncertainties; 23.9 is 2.0.
        assert!(is_short || is(row.value, 25.0), "{row:?}");
        assert_eq!(row.verdict, Verdict::Within, "{row:?}");
        assert_eq!((row.rule.clause.as_str(), row.rule.edition.as_str()), ("NCC, Housing Provisions", "2022"));
    }
}

#[test]
fn the_room_is_out_and_no_plane_is_asked_of_it() {
    let view = found();
    assert_eq!(view.headline.verdict, Verdict::Out);
    assert!(!view.headline.rest_even);
    assert!(view.problems.is_empty(), "{:?}", view.problems);
    assert!(of(&view, FindingKind::StraightedgeAlong).is_empty(), "a floor that falls is no flat one");
}

#[test]
fn a_floor_without_a_drain_says_so_and_one_without_a_pond_too() {
    let app = app();
    let room = demo(&app, "banksia");
    let mut file = app.room_state(&room).expect("the room");
    let drain = file.plan.drain.take();
    let view = app::findings(&file, None).expect("findings");
    assert_eq!(view.problems.iter().map(|problem| problem.kind.as_str()).collect::<Vec<_>>(), ["no-drain"]);
    assert!(of(&view, FindingKind::Pond).is_empty());
    file.plan.drain = drain;
    file.readings.iter_mut().filter(|reading| reading.point == "900/600").for_each(|reading| reading.value = 12.5);
    let view = app::findings(&file, None).expect("findings");
    let ponds = of(&view, FindingKind::Pond);
    assert_eq!(ponds.len(), 1);
    assert!(is(ponds[0].value, 0.0) && ponds[0].verdict == Verdict::Within && ponds[0].place.point.is_none());
}

#[test]
fn the_water_is_drawn_from_where_it_spills_to_its_shore() {
    let map = found().map;
    assert_eq!(map.ponds.len(), 1);
    assert!((map.ponds[0].depth - 1.8).abs() < 1e-9);
    let rings = &map.ponds[0].polygons;
    let has = |(x, y): (f64, f64)| rings.iter().flatten().any(|at| (at.0 - x).hypot(at.1 - y) < 1e-6);
    // At its level, 8.3, the shore towards (1200, 600), which lies 8.4 above the lowest, is 1.8 / 8.4 of the way.
    assert!(has((600.0, 600.0)) && has((900.0 + 300.0 * 1.8 / 8.4, 600.0)), "{rings:?}");
    let near = |at: &(f64, f64)| (at.0 - 900.0).abs() <= 300.0 && (at.1 - 600.0).abs() <= 300.0;
    assert!(rings.iter().flatten().all(near), "no farther than the readings around it: {rings:?}");
}
