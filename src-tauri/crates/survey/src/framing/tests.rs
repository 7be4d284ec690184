//! The plan against brute force: heights tried one by one, profiles sampled densely, planes enumerated.

use super::*;
use crate::guard::{Approval, MemberKind, Ruling, judge, middle_third};
use crate::joists::example::{grid, joist};
use crate::joists::{Grid, Joist};
use crate::units::{Length, Ratio, Slope};
use crate::{PlanPosition, ProblemKind};
use proptest::prelude::*;

const KINDS: [MemberKind; 3] = [MemberKind::Sawn, MemberKind::Engineered, MemberKind::Unknown];

fn planned(grid: &Grid, settings: &Settings) -> Plan {
    plan(grid, settings).unwrap().value
}

fn find(plan: &Plan, name: Name) -> Option<&Alternative> {
    plan.alternatives.iter().find(|one| one.name == name)
}

/// A joist at `16 j` in from heights in sixteenths, of one of the kinds, with an approval if the numbers say so.
fn any_joist() -> impl Strategy<Value = Joist> {
    let tops = proptest::collection::vec(-12..12i32, 5);
    (tops, 0..3usize, -40.0..10.0f64, 60.0..200.0f64, (0..4u8, 0.0..0.5f64, -10.0..120.0f64, 0.0..90.0f64)).prop_map(
        |(tops, kind, first_bearing, span, (approved, depth, from, length))| {
            let tops: Vec<f64> = tops.iter().map(|&top| f64::from(top) / 16.0).collect();
            let mut joist = joist("", 0.0, &tops);
            joist.member.kind = KINDS[kind];
            joist.member.first_bearing = Length::inches(first_bearing);
            joist.member.span = Length::inches(span);
            let [depth, from, to] = [depth, from, from + length].map(Length::inches);
            joist.approval = (approved == 0).then_some(Approval { depth, from, to });
            joist
        },
    )
}

fn any_grid(joists: std::ops::Range<usize>) -> impl Strategy<Value = Grid> {
    proptest::collection::vec(any_joist(), joists).prop_map(|mut joists| {
        for (j, joist) in joists.iter_mut().enumerate() {
            joist.id = format!("J{}", j + 1);
            joist.x = Length::inches(16.0 * j as f64);
        }
        let stations = (0..5).map(|k| Length::inches(24.0 * f64::from(k))).collect();
        Grid { stations, joists, u: Length::inches(1.0 / 32.0) }
    })
}

/// No joist is sistered for its sag.
fn never_sagging() -> Settings {
    Settings { sag_ratio: Ratio::of(1.0), ..Settings::default() }
}

/// The places along a joist where something can change, and many between, with the height there.
fn samples(grid: &Grid, joist: &Joist) -> Vec<(f64, f64)> {
    let profile = grid.profile(joist);
    let (third_from, third_to) = middle_third(&joist.member);
    let approval = joist.approval.iter().flat_map(|approval| [approval.from, approval.to]);
    let places = grid.stations.iter().copied().chain([third_from, third_to]).chain(approval);
    // Each place itself, and a hair more than nothing to either side.
    let exact = places.flat_map(|y| [-2e-6, 0.0, 2e-6].map(|hair| y.to_mm() + hair));
    let dense = (0..=960).map(|k| 96.0 * 25.4 * f64::from(k) / 960.0);
    exact.chain(dense).filter_map(|y| profile.at(y).map(|z| (y, z))).collect()
}

/// Whether a level height is permitted by the rule of the dressed (or by-approval) alternative, from samples alone.
fn permitted(grid: &Grid, height: f64, anywhere: bool) -> bool {
    grid.joists.iter().all(|joist| {
        let above: Vec<(f64, f64)> =
            samples(grid, joist).into_iter().map(|(y, z)| (y, z - height)).filter(|(_, over)| *over > 1e-6).collect();
        let (from, to) = middle_third(&joist.member);
        let in_third = |y: f64| from.to_mm() <= y && y <= to.to_mm();
        let sawn = joist.member.kind == MemberKind::Sawn;
        let own = above.iter().all(|&(y, over)| sawn && over <= 3.175 + 2e-6 && (anywhere || !in_third(y)));
        let within = |approval: &Approval| {
            let inside = |y: f64| approval.from.to_mm() - 1e-6 <= y && y <= approval.to.to_mm() + 1e-6;
            above.iter().all(|&(y, over)| over <= approval.depth.to_mm() + 2e-6 && inside(y))
        };
        own || joist.approval.as_ref().is_some_and(within)
    })
}

fn highest(grid: &Grid) -> f64 {
    let tops = grid.joists.iter().flat_map(|joist| joist.tops.iter().flatten());
    tops.map(|z| z.to_mm()).fold(f64::MIN, f64::max)
}

/// The lowest permitted height on a grid of hundredths of a mm, downward from where nothing is cut.
fn lowest_by_trial(grid: &Grid, anywhere: bool) -> f64 {
    let tried = (0..4000).map(|k| highest(grid) - 0.01 * f64::from(k));
    tried.take_while(|height| permitted(grid, *height, anywhere)).last().unwrap()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn the_lowest_level_heights_are_found_by_trial_too(grid in any_grid(1..4)) {
        let plan = planned(&grid, &never_sagging());
        let nothing_cut = find(&plan, Name::LevelNothingCut).unwrap().target.height.to_mm();
        let dressed = find(&plan, Name::LevelDressed).map_or(nothing_cut, |one| one.target.height.to_mm());
        let anywhere = find(&plan, Name::LevelByApproval).unwrap().target.height.to_mm();
        for (found, tried) in [(dressed, lowest_by_trial(&grid, false)), (anywhere, lowest_by_trial(&grid, true))] {
            prop_assert!(found <= tried + 1e-9 && tried < found + 0.0101, "{found} {tried}");
        }
        prop_assert_eq!(nothing_cut, highest(&grid));
    }

    #[test]
    fn no_listed_cut_gets_past_the_guard(grid in any_grid(1..6), held in -12..12i32, deep in 1.0..8.0f64) {
        let mut settings = never_sagging();
        settings.height = Some(Length::inches(f64::from(held) / 16.0));
        settings.dress.most = Length::mm(deep);
        for alternative in planned(&grid, &settings).alternatives {
            for (work, joist) in alternative.joists.iter().zip(&grid.joists) {
                let engineer = work.action == Action::AskEngineer;
                prop_assert!(!engineer || alternative.needs_approval);
                if alternative.name.cuts_by_new_approval() {
                    prop_assert!(alternative.needs_approval);
                    continue;
                }
                for reason in &work.reasons {
                    let (cut, approval) = match reason {
                        Reason::Dressing { cut } => (cut, None),
                        Reason::ByApproval { cut } => (cut, joist.approval.as_ref()),
                        _ => continue,
                    };
                    let ruling = judge(&joist.member, cut, Length::inches(0.125), approval);
                    prop_assert!(matches!(ruling, Ruling::Allowed(_)), "{reason} {ruling:?}");
                }
                check_cuts_by_samples(&grid, joist, work, &alternative)?;
            }
        }
    }

    #[test]
    fn the_tilted_plane_is_the_best_of_all_planes_through_readings(
        grid in any_grid(2..5), max_tilt in prop_oneof![Just(0.001), Just(0.01), Just(1.0)],
    ) {
        let settings = Settings { max_tilt: Slope::ratio(max_tilt), ..never_sagging() };
        let plan = planned(&grid, &settings);
        let flat = find(&plan, Name::FlatNotLevel).unwrap();
        let found = [flat.target.tilt_x.to_ratio(), flat.target.tilt_y.to_ratio()];
        let readings = readings(&grid);
        let (best, [a, b]) = best_plane(&readings, max_tilt);
        let (mean, height) = mean_lift(&readings, found);
        prop_assert!((mean - best).abs() < 1e-6, "mean lift {mean}, best {best}");
        prop_assert!((flat.target.height.to_mm() - height).abs() < 1e-9);
        let [across, along] = found.map(f64::abs);
        let flattest = along < b.abs() - 1e-6 || (along <= b.abs() + 1e-6 && across <= a.abs() + 1e-6);
        prop_assert!(flattest, "tilts {found:?}, best {a} {b}");
    }

    #[test]
    fn a_shift_shifts_the_plan(grid in any_grid(1..5), shift in -500.0..500.0f64) {
        let mut shifted = grid.clone();
        for top in shifted.joists.iter_mut().flat_map(|joist| joist.tops.iter_mut().flatten()) {
            *top += Length::mm(shift);
        }
        let settings = Settings { max_tilt: Slope::ratio(0.01), ..Settings::default() };
        let (before, after) = (planned(&grid, &settings), planned(&shifted, &settings));
        prop_assert_eq!(before.best, after.best);
        for one in &before.alternatives {
            let other = find(&after, one.name).unwrap();
            prop_assert!((other.target.height - one.target.height - Length::mm(shift)).abs().to_mm() < 1e-6);
            prop_assert!((other.objective - one.objective).abs().to_f64() < 1e-6);
        }
    }

    #[test]
    fn no_readings_panic(
        tops in proptest::collection::vec(proptest::collection::vec(proptest::option::of(-1e15..1e15f64), 3), 0..4),
        stations in proptest::collection::vec(-1e15..1e15f64, 0..4), span in -1e15..1e15f64, tilt in 0.0..1e15f64,
    ) {
        let joists = tops.iter().map(|tops| {
            let mut joist = joist("J", tops.len() as f64, &[]);
            joist.tops = tops.iter().map(|top| top.map(Length::mm)).collect();
            joist.member.span = Length::mm(span);
            joist.sound = None;
            joist
        });
        let stations = stations.into_iter().map(Length::mm).collect();
        let grid = Grid { stations, joists: joists.collect(), u: Length::ZERO };
        let doorway = Some(Doorway { from: Length::mm(span), to: Length::mm(-span) });
        let (max_tilt, height) = (Slope::ratio(tilt), Some(Length::mm(span)));
        let settings = Settings { max_tilt, height, doorway, ..Settings::default() };
        let _ = plan(&grid, &settings);
        let _ = crate::joists::shapes(&grid, Ratio::of(span), Length::mm(6.35));
    }
}

/// Whether every cut depth that is listed is allowed at its station, and nothing is left standing without a word.
fn check_cuts_by_samples(
    grid: &Grid,
    joist: &Joist,
    work: &JoistWork,
    alternative: &Alternative,
) -> Result<(), TestCaseError> {
    let (from, to) = middle_third(&joist.member);
    for ((y, z), cut) in grid.stations.iter().zip(&joist.tops).zip(&work.cuts) {
        let (cut, place) = (cut.unwrap().to_mm(), PlanPosition { x: joist.x, y: *y });
        let over = (z.unwrap() - alternative.target.at(place)).to_mm();
        if cut > 0.0 {
            prop_assert!((cut - over).abs() < 1e-9);
            let covered =
                |approval: &Approval| approval.from <= *y && *y <= approval.to && cut <= approval.depth.to_mm() + 1e-6;
            let dressed = joist.member.kind == MemberKind::Sawn && cut <= 3.175 + 1e-6 && (*y < from || *y > to);
            prop_assert!(dressed || joist.approval.as_ref().is_some_and(covered), "{cut} at {y:?}");
        }
        let asked = matches!(work.action, Action::AskEngineer | Action::Sister);
        prop_assert!(over <= 1e-6 || cut > 0.0 || asked, "{over} stands above the target and nobody says so");
    }
    Ok(())
}

/// The readings about the centre of the target, in mm.
fn readings(grid: &Grid) -> Vec<[f64; 3]> {
    let centre = super::target::centre(grid);
    let of_joist = |joist: &Joist| {
        let x = (joist.x - centre.x).to_mm();
        let read = grid.stations.iter().zip(joist.tops.clone());
        read.filter_map(|(y, z)| z.map(|z| [x, (*y - centre.y).to_mm(), z.to_mm()])).collect::<Vec<_>>()
    };
    grid.joists.iter().flat_map(of_joist).collect()
}

/// The mean lift under the lowest plane of these tilts that no reading stands above, and its height at the centre.
fn mean_lift(readings: &[[f64; 3]], [a, b]: [f64; 2]) -> (f64, f64) {
    let over = |[x, y, z]: &[f64; 3]| z - a * x - b * y;
    let height = readings.iter().map(over).fold(f64::MIN, f64::max);
    (readings.iter().map(|reading| height - over(reading)).sum::<f64>() / readings.len() as f64, height)
}

/// The least mean lift over all planes, and of the planes that have it the one of least tilt along, then across: tried
/// wherever two of the lines meet on which two readings carry the plane, or a tilt is zero or at its most.
fn best_plane(readings: &[[f64; 3]], most: f64) -> (f64, [f64; 2]) {
    let mut lines: Vec<[f64; 3]> = [-most, 0.0, most].iter().flat_map(|&t| [[1.0, 0.0, t], [0.0, 1.0, t]]).collect();
    for (k, one) in readings.iter().enumerate() {
        lines.extend(readings[..k].iter().map(|other| [one[0] - other[0], one[1] - other[1], one[2] - other[2]]));
    }
    let mut best = (f64::INFINITY, [f64::INFINITY; 2]);
    for (k, [a1, b1, c1]) in lines.iter().enumerate() {
        for [a2, b2, c2] in &lines[..k] {
            let det = a1 * b2 - a2 * b1;
            let tilt = [(c1 * b2 - c2 * b1) / det, (a1 * c2 - a2 * c1) / det];
            if det.abs() < 1e-9 || tilt.iter().any(|tilt| tilt.abs() > most + 1e-12) {
                continue;
            }
            let (mean, _) = mean_lift(readings, tilt);
            let flatter = tilt[1].abs() < best.1[1].abs() - 1e-12
                || (tilt[1].abs() <= best.1[1].abs() + 1e-12 && tilt[0].abs() < best.1[0].abs());
            if mean < best.0 - 1e-9 || (mean < best.0 + 1e-9 && flatter) {
                best = (mean, tilt);
            }
        }
    }
    best
}

fn objective(tops: &[&[f64]], settings: &Settings, name: Name) -> f64 {
    find(&planned(&grid(tops), settings), name).unwrap().objective.to_f64()
}

#[test]
fn what_an_alternative_counts() {
    let settings = never_sagging();
    // One strip of 1/4 along four stations: 1 + 0.02 × 25.4 mm.
    let one = objective(&[&[0.25; 4], &[0.0; 4]], &settings, Name::LevelNothingCut);
    assert!((one - 1.508).abs() < 1e-9, "{one}");
    // Two strips on the high joist as well, bare between.
    let two = objective(&[&[0.0, 0.25, 0.25, 0.0], &[0.25; 4]], &settings, Name::LevelNothingCut);
    assert!((two - (2.0 + 0.02 * 12.7)).abs() < 1e-9, "{two}");
    // A sister counts alone, though its old top is cut; under 1/16 nothing counts.
    let sister = objective(&[&[0.25; 4], &[0.0; 4], &[0.05; 4]], &settings, Name::LevelSisterHigh);
    assert!((sister - 10.0).abs() < 1e-9, "{sister}");
    // The door: half a mm for each mm at the worse jamb.
    let doorway = Some(Doorway { from: Length::ZERO, to: Length::inches(8.0) });
    let door = objective(&[&[0.25; 4], &[0.0; 4]], &Settings { doorway, ..settings }, Name::LevelNothingCut);
    assert!((door - 1.508 - 0.5 * 3.175).abs() < 1e-9, "{door}");
}

fn check_action(lift: f64, allow_tall: bool, expected: Action) {
    let mut settings = never_sagging();
    settings.strip.allow_tall = allow_tall;
    let plan = planned(&grid(&[&[lift; 4], &[0.0; 4]]), &settings);
    let work = &find(&plan, Name::LevelNothingCut).unwrap().joists[1];
    assert_eq!(work.action, expected, "{lift}");
}

#[test]
fn which_lift_gets_what() {
    check_action(0.0624, false, Action::Leave);
    check_action(0.0625, false, Action::Sheet);
    check_action(0.1249, false, Action::Sheet);
    check_action(0.125, false, Action::Strip);
    check_action(0.75, false, Action::Strip);
    check_action(0.7501, false, Action::Sister);
    check_action(0.7501, true, Action::TallStrip);
    check_action(1.5, true, Action::TallStrip);
    check_action(1.5001, true, Action::Sister);
}

#[test]
fn a_crown_outside_the_middle_third_is_dressed() {
    // Bearings at -24 and 114: the middle third runs from 22 to 68.
    let grid = grid(&[&[0.0, 0.0, 0.0, 0.125], &[0.0; 4]]);
    let plan = planned(&grid, &Settings::default());
    let dressed = find(&plan, Name::LevelDressed).unwrap();
    assert!(!dressed.needs_approval);
    // At 68 the crown's flank stands 8/30 of an eighth up.
    assert!((dressed.target.height.to_inches() - 0.125 * 8.0 / 30.0).abs() < 1e-9);
    let work = &dressed.joists[0];
    assert_eq!(work.action, Action::Dress);
    assert!(matches!(work.reasons.as_slice(), [Reason::Dressing { .. }]));
    assert_eq!(work.cuts[2], Some(Length::ZERO));
}

#[test]
fn an_unsound_joist_is_sistered_at_any_height_and_sets_none() {
    let mut grid = grid(&[&[0.5; 4], &[0.0; 4], &[0.1; 4]]);
    grid.joists[0].sound = Some(false);
    grid.joists[1].sound = None;
    let found = plan(&grid, &Settings::default()).unwrap();
    let first = find(&found.value, Name::LevelNothingCut).unwrap();
    assert!((first.target.height.to_inches() - 0.1).abs() < 1e-12);
    assert_eq!(first.joists[0].action, Action::Sister);
    assert_eq!(first.joists[0].cuts, [Some(Length::ZERO); 4]);
    assert!(matches!(first.joists[0].reasons.as_slice(), [Reason::Unsound, Reason::OldTopAbove { .. }]));
    let problems: Vec<_> = found.problems.iter().map(|problem| (problem.kind, problem.at.as_deref())).collect();
    assert_eq!(problems, [(ProblemKind::NotLookedAt, Some("J2")), (ProblemKind::OldTopAbove, Some("J1"))]);
}

#[test]
fn without_a_sound_joist_only_an_asked_height_is_planned() {
    let mut grid = grid(&[&[0.5; 4]]);
    grid.joists[0].sound = Some(false);
    let settings = Settings { max_tilt: Slope::ratio(0.01), ..Settings::default() };
    let found = plan(&grid, &settings).unwrap();
    assert!(found.value.alternatives.is_empty() && found.value.best.is_none());
    assert_eq!(found.problems[0].kind, ProblemKind::NoSoundJoist);
    let held = Settings { height: Some(Length::inches(0.5)), ..settings };
    assert_eq!(planned(&grid, &held).best, Some(Name::Held));
}

#[test]
fn the_door_budget_comes_before_the_objective() {
    let doorway = Some(Doorway { from: Length::ZERO, to: Length::inches(16.0) });
    let crowned = grid(&[&[0.0; 4], &[0.0, 0.0, 0.0, 0.25]]);
    let check = |budget: f64, best: Name| {
        let door_budget = Some(Length::inches(budget));
        let height = Some(Length::inches(0.3));
        let settings = Settings { doorway, door_budget, height, ..Settings::default() };
        assert_eq!(planned(&crowned, &settings).best, Some(best), "{budget}");
    };
    check(0.25, Name::LevelDressed);
    check(0.0, Name::LevelDressed);
    let costly = Settings {
        doorway,
        door_budget: Some(Length::inches(0.2)),
        cost: Cost { dress: Ratio::of(50.0), door_mm: Ratio::ZERO, ..Cost::default() },
        ..Settings::default()
    };
    let plan = planned(&crowned, &costly);
    assert_eq!(plan.best, Some(Name::LevelDressed));
    let nothing_cut = find(&plan, Name::LevelNothingCut).unwrap();
    assert!(nothing_cut.over_door_budget && nothing_cut.objective < plan.alternatives[0].objective);
}

#[test]
fn unread_tops_stay_unread() {
    let mut grid = grid(&[&[0.25; 4], &[0.0; 4]]);
    grid.joists[1].tops[1] = None;
    let found = plan(&grid, &Settings::default()).unwrap();
    let work = &found.value.alternatives[0].joists[1];
    assert_eq!((work.lifts[1], work.cuts[1]), (None, None));
    assert_eq!(work.strips.len(), 1, "a strip runs on over a station that was not read");
    assert_eq!(found.problems[0].at.as_deref(), Some("joists[1].tops[1]"));
}

#[test]
fn a_symmetric_crown_is_built_level() {
    // Any tilt about the crown lifts as much in all: the least tilt is none.
    let grid = grid(&[&[0.0; 3], &[0.0, 0.25, 0.0], &[0.0; 3]]);
    let settings = Settings { max_tilt: Slope::ratio(0.002), ..never_sagging() };
    let plan = planned(&grid, &settings);
    let flat = find(&plan, Name::FlatNotLevel).unwrap();
    assert!(flat.target.tilt_x.to_ratio().abs() < 1e-12 && flat.target.tilt_y.to_ratio().abs() < 1e-12);
}

#[test]
fn deeper_dressing_is_held_at_an_eighth() {
    let mut settings = never_sagging();
    settings.dress.most = Length::inches(0.5);
    let found = plan(&grid(&[&[0.0, 0.0, 0.0, 1.0]]), &settings).unwrap();
    assert!(found.problems.iter().any(|problem| problem.kind == ProblemKind::SettingHeld));
    let by_approval = find(&found.value, Name::LevelByApproval).unwrap();
    assert!((by_approval.target.height.to_inches() - 0.875).abs() < 1e-9);
}
