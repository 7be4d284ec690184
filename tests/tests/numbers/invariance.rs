//! What does not matter changes nothing: where the room lies, how it is tilted, turned over and counted through; in
//! which unit and order it was read, and whether something was read twice.

use proptest::prelude::*;
use serde_json::{Value, json};
use site_tests::questions::{answer, number};

type Readings = Vec<[f64; 3]>;

/// A room that spans a plane, its readings at whole millimetres of plan so that no two are nearly one.
fn room() -> impl Strategy<Value = Readings> {
    prop::collection::vec((50i32..2900, 50i32..2000, -4.0f64..4.0), 5..16).prop_map(|inner| {
        let corners = [(0, 0), (3000, 0), (3000, 2100), (0, 2100)].into_iter();
        let corners = corners.zip(inner.clone()).map(|((x, y), (_, _, z))| [f64::from(x), f64::from(y), z]);
        let mut all: Readings = corners.chain(inner.iter().map(|&(x, y, z)| [f64::from(x), f64::from(y), z])).collect();
        all.sort_by(|p, q| (p[0], p[1]).partial_cmp(&(q[0], q[1])).expect("numbers"));
        all.dedup_by(|p, q| p[0] == q[0] && p[1] == q[1]);
        all
    })
}

/// What each operation says of a room in lengths: shift and tilt, order and reflection leave it alone.
fn figures(readings: &Readings) -> Vec<(&'static str, f64)> {
    let points = json!(readings);
    let plane = answer("plane", &json!({"points": points, "reading_sd": 0.5}));
    let zone = answer("flatness-zone", &json!({"points": points}));
    let surface = answer("straightedge-surface", &json!({"points": points, "length": 1800.0}));
    let blunders = answer("blunders", &json!({"points": points, "reading_sd": 0.5, "significance": 0.01}));
    let s0 = number(&plane, "/s0");
    vec![
        ("rss", number(&plane, "/rss").sqrt()),
        ("s0", s0),
        ("minimum zone", number(&zone, "/minimum_zone")),
        ("least squares range", number(&zone, "/least_squares_range")),
        ("gap", number(&surface, "/gap")),
        ("removed", blunders["removed"].as_array().map_or(0.0, |all| all.len() as f64)),
    ]
}

fn same(here: &[(&str, f64)], there: &[(&str, f64)], slack: f64) -> Result<(), TestCaseError> {
    for ((what, here), (_, there)) in here.iter().zip(there) {
        // The surface is searched, to two thousandths.
        let slack = if *what == "gap" { slack.max(0.002) } else { slack };
        prop_assert!((here - there).abs() <= slack, "{}: {} {}", what, here, there);
    }
    Ok(())
}

fn line() -> impl Strategy<Value = Vec<[f64; 2]>> {
    prop::collection::vec((80i32..400, -4.0f64..4.0), 3..12).prop_map(|steps| {
        let mut s = 0.0;
        let read = |(step, z): (i32, f64)| {
            s += f64::from(step);
            [s, z]
        };
        steps.into_iter().map(read).collect()
    })
}

/// The gap in each definition, and the verdict.
fn gaps(line: &[[f64; 2]], length: f64, limit: f64) -> (Vec<f64>, Vec<String>) {
    let ask = |definition: &str| {
        let sd = if definition == "supported" { 0.3 } else { 0.0 };
        let mut question =
            json!({"line": line, "length": length, "definition": definition, "limit": limit, "rule": "simple"});
        if sd > 0.0 {
            question["rule"] = json!("guarded");
            question["reading_sd"] = json!(sd);
        }
        answer("straightedge-line", &question)
    };
    let all: Vec<Value> = ["supported", "resting", "end-supported"].map(ask).into();
    let verdict = |answer: &Value| answer["verdict"].as_str().unwrap_or_default().to_string();
    (all.iter().map(|answer| number(answer, "/gap")).collect(), all.iter().map(verdict).collect())
}

fn near(here: &[f64], there: &[f64]) -> Result<(), TestCaseError> {
    for (here, there) in here.iter().zip(there) {
        prop_assert!((here - there).abs() < 1e-7, "{} {}", here, there);
    }
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(40))]

    #[test]
    fn where_a_room_lies_and_how_it_is_tilted(
        room in room(), x in -1e6f64..1e6, y in -1e6f64..1e6, up in -1e3f64..1e3, a in -0.05f64..0.05, b in -0.05f64..0.05,
    ) {
        let moved = |p: &[f64; 3]| [p[0] + x.round(), p[1] + y.round(), p[2] + up + a * p[0] + b * p[1]];
        same(&figures(&room), &figures(&room.iter().map(moved).collect()), 1e-7)?;
    }

    #[test]
    fn in_which_order_it_was_read(room in room(), by in 0usize..20) {
        let mut turned = room.clone();
        turned.rotate_left(by % room.len());
        turned.reverse();
        same(&figures(&room), &figures(&turned), 1e-8)?;
    }

    #[test]
    fn from_which_side_it_is_looked_at(room in room()) {
        let mirrored = |p: &[f64; 3]| [-p[0], p[1], p[2]];
        same(&figures(&room), &figures(&room.iter().map(mirrored).collect()), 1e-8)?;
        // Turned by a right angle.
        let turned = |p: &[f64; 3]| [-p[1], p[0], p[2]];
        same(&figures(&room), &figures(&room.iter().map(turned).collect()), 1e-8)?;
    }

    #[test]
    fn read_upside_down(room in room()) {
        // The zone does not know up from down; a hump turned over is a dip.
        let over: Readings = room.iter().map(|p| [p[0], p[1], -p[2]]).collect();
        let kept = |readings: &Readings| figures(readings).into_iter().filter(|(what, _)| *what != "gap").collect::<Vec<_>>();
        same(&kept(&room), &kept(&over), 1e-8)?;
    }

    #[test]
    fn in_inches_or_in_millimetres(room in room()) {
        let ratio = 25.4;
        let inches = |p: &[f64; 3]| p.map(|mm| mm / ratio);
        let smaller: Readings = room.iter().map(inches).collect();
        let zone = |readings: &Readings| number(&answer("flatness-zone", &json!({"points": readings})), "/minimum_zone");
        prop_assert!((zone(&room) - zone(&smaller) * ratio).abs() < 1e-7);
        let gap = |readings: &Readings, length: f64| {
            number(&answer("straightedge-surface", &json!({"points": readings, "length": length})), "/gap")
        };
        prop_assert!((gap(&room, 1800.0) - gap(&smaller, 1800.0 / ratio) * ratio).abs() < 0.002 * ratio);
    }

    #[test]
    fn everything_read_twice(room in room()) {
        let twice: Readings = room.iter().flat_map(|p| [*p, *p]).collect();
        let (once, again) = (figures(&room), figures(&twice));
        for k in [2, 3, 4] {
            prop_assert!((once[k].1 - again[k].1).abs() < if k == 4 { 0.002 } else { 1e-8 }, "{}", once[k].0);
        }
        let (once, again) = (once[0].1, again[0].1);
        prop_assert!((again - once * 2f64.sqrt()).abs() < 1e-8, "twice the squares: {} {}", once, again);
    }

    #[test]
    fn another_reading_never_breaks_it(room in room(), x in -5000.0f64..5000.0, y in -5000.0f64..5000.0, z in -50.0f64..50.0) {
        let mut more = room;
        more.push([x, y, z]);
        let found = figures(&more);
        prop_assert!(found.iter().all(|(_, figure)| figure.is_finite()));
    }

    #[test]
    fn a_line_shifted_tilted_turned_round_and_shuffled(
        line in line(), length in 300.0f64..2500.0, along in -1e6f64..1e6, up in -1e3f64..1e3, tilt in -0.05f64..0.05, by in 0usize..12,
    ) {
        let (here, verdicts) = gaps(&line, length, 3.0);
        let moved: Vec<[f64; 2]> = line.iter().map(|p| [p[0] + along.round(), p[1] + up + tilt * p[0]]).collect();
        near(&here, &gaps(&moved, length, 3.0).0)?;
        let back: Vec<[f64; 2]> = line.iter().map(|p| [-p[0], p[1]]).collect();
        near(&here, &gaps(&back, length, 3.0).0)?;
        let mut shuffled = line.clone();
        shuffled.rotate_left(by % line.len());
        let (there, same) = gaps(&shuffled, length, 3.0);
        near(&here, &there)?;
        prop_assert_eq!(verdicts, same);
    }

    #[test]
    fn a_larger_tolerance_never_turns_within_into_out(line in line(), length in 500.0f64..2500.0, more in 0.0f64..4.0) {
        let rank = |verdict: &String| ["out", "too-close-to-call", "within"].iter().position(|word| word == verdict);
        let (tight, loose) = (gaps(&line, length, 2.0).1, gaps(&line, length, 2.0 + more).1);
        for (tight, loose) in tight.iter().zip(&loose) {
            prop_assert!(rank(loose) >= rank(tight), "{} {}", tight, loose);
        }
    }

    #[test]
    fn a_longer_bar_shows_no_less(line in line(), length in 300.0f64..1500.0, more in 1.0f64..2.0) {
        prop_assert!(gaps(&line, length * more, 3.0).0[0] >= gaps(&line, length, 3.0).0[0] - 1e-9);
    }

    #[test]
    fn water_stands_where_it_stands(room in room(), x in -1e6f64..1e6, up in -1e3f64..1e3) {
        let ask = |readings: &Readings| {
            answer("drainage", &json!({
                "points": readings, "drain": {"vertices": [0]}, "minimum_fall": 0.0125, "maximum_fall": 0.02, "rule": "path",
            }))
        };
        let moved: Readings = room.iter().map(|p| [p[0] + x.round(), p[1] - x.round(), p[2] + up]).collect();
        let (here, there) = (ask(&room), ask(&moved));
        for path in ["/total_volume", "/max_depth", "/facet_slope_max", "/facet_slope_min"] {
            prop_assert!((number(&here, path) - number(&there, path)).abs() < 1e-7, "{}", path);
        }
    }

    #[test]
    fn a_verdict_follows_its_limit(value in -5.0f64..5.0, u in 0.0f64..2.0, limit in -5.0f64..5.0, more in 0.0f64..3.0) {
        let ask = |limit: f64| answer("verdict", &json!({"value": value, "u": u, "upper": limit}));
        prop_assert!(number(&ask(limit + more), "/probability") >= number(&ask(limit), "/probability") - 1e-12);
        // Turned over, an upper limit is a lower one.
        let turned = answer("verdict", &json!({"value": -value, "u": u, "lower": -limit}));
        prop_assert!((number(&turned, "/probability") - number(&ask(limit), "/probability")).abs() < 1e-12);
        prop_assert_eq!(&turned["verdict"], &ask(limit)["verdict"]);
    }
}
