//! Whatever is read, nothing the guard forbids stands in any list, and no plan goes beyond its own limits.

use app::forms::{Action, AlternativeView, Approval, CuttingView, HeightView, JoistWork, RoomFile, WorkStepKind};
use proptest::prelude::*;

const INCH: f64 = 25.4;
/// Against the last digits of a sum of lengths, in mm.
const SLACK: f64 = 1e-6;

/// The invented hall bath, its readings moved by so many sixteenths each.
fn read(moved: &[i32]) -> RoomFile {
    let mut file = app::demo("kestrel").expect("the demo room");
    for (reading, sixteenths) in file.readings.iter_mut().zip(moved) {
        reading.value += f64::from(*sixteenths) * INCH / 16.0;
    }
    file
}

fn cuts(work: &JoistWork) -> bool {
    work.action == Action::AskEngineer || work.cuts.iter().flatten().any(|cut| *cut > 0.0)
}

/// The joists whose cut nobody allowed: of an alternative that needs an approval, those without one.
fn forbidden(one: &AlternativeView) -> Vec<&str> {
    let barred = one.joists.iter().filter(|work| one.needs_approval && cuts(work) && work.approval.is_none());
    barred.map(|work| work.id.as_str()).collect()
}

fn check_lists(one: &AlternativeView, lists: &CuttingView) {
    for joist in forbidden(one) {
        assert!(!lists.strips.iter().any(|strip| strip.joist == joist), "{joist} is ripped for in {}", one.name);
        assert!(!lists.sheets.iter().any(|sheet| sheet.joist == joist), "{joist} is packed in {}", one.name);
        let asked = lists.order.iter().filter(|step| step.kind == WorkStepKind::AskEngineer);
        assert!(asked.clone().any(|step| step.joists.iter().any(|id| id == joist)), "{joist} is not asked about");
        let done = lists.order.iter().filter(|step| matches!(step.kind, WorkStepKind::Dress | WorkStepKind::Rip));
        assert!(!done.clone().any(|step| step.joists.iter().any(|id| id == joist)), "{joist} is worked on");
    }
    for strip in &lists.strips {
        assert!(strip.to > strip.from && strip.thinnest >= -SLACK && strip.thickest > 0.0, "{strip:?}");
        let stock = strip.from_stock.as_ref();
        assert!(stock.is_none_or(|stock| stock.actual <= strip.thinnest + SLACK && stock.under >= 0.0), "{strip:?}");
    }
}

/// An alternative keeps to the limits of its room: strips no thicker than they may be, no cut deeper than is allowed.
fn check_limits(one: &AlternativeView) {
    for work in one.joists.iter() {
        let lifts = work.lifts.iter().flatten().copied().fold(0.0, f64::max);
        if matches!(work.action, Action::Strip | Action::Sheet | Action::DressAndStrip) {
            assert!(lifts <= 0.75 * INCH + SLACK, "{} lifts {lifts} in {}", work.id, one.name);
        }
        let deepest = work.cuts.iter().flatten().copied().fold(0.0, f64::max);
        let allowed = work.approval.as_ref().map_or(INCH / 8.0, |approval| approval.depth);
        let counts = !one.needs_approval && work.action != Action::Sister;
        assert!(!counts || deepest <= allowed + SLACK, "{} is cut {deepest} in {}", work.id, one.name);
    }
}

fn check(file: &RoomFile) {
    let Ok(view) = app::height(file, None) else { return };
    for one in &view.alternatives {
        check_limits(one);
        check_lists(one, &app::cutting(file, Some(&one.name)).expect("a list of every alternative"));
    }
    check_best(&view);
}

/// What is proposed needs nobody's leave.
fn check_best(view: &HeightView) {
    let best = view.alternatives.iter().find(|one| Some(&one.name) == view.best.as_ref());
    assert!(best.is_none_or(|best| !best.needs_approval && forbidden(best).is_empty()));
}

fn approval(depth: f64, from: f64, to: f64) -> Approval {
    let (by, date, reference) = ("R. Hale, engineer".into(), "2026-03-20".into(), "letter 7".into());
    Approval {
        id: "a1".into(),
        joist: "J4".into(),
        depth: depth * INCH,
        from: from * INCH,
        to: to * INCH,
        by,
        date,
        reference,
        withdrawn: false,
    }
}

/// The cuts that an approval lets through: their stations in inches and depths in sixteenths.
fn let_through(given: &Approval) -> Vec<(f64, f64)> {
    let file = RoomFile { approvals: vec![given.clone()], ..read(&[]) };
    let view = app::height(&file, None).expect("heights");
    let allowed = view.alternatives.iter().filter(|one| !one.needs_approval).flat_map(|one| &one.joists);
    let of_joist = |work: &JoistWork| {
        let at = view.stations.clone().into_iter().zip(work.cuts.clone());
        at.filter_map(|(station, cut)| Some((station / INCH, cut? * 16.0 / INCH))).collect::<Vec<_>>()
    };
    let approved = allowed.filter(|work| work.approval.is_some()).flat_map(of_joist);
    approved.filter(|(_, cut)| *cut > 1e-9).collect()
}

#[test]
fn an_approval_lets_exactly_its_cut_through() {
    let whole = approval(0.125, 27.0, 75.0);
    let cuts = let_through(&whole);
    assert!(cuts.iter().any(|(station, cut)| *station == 60.0 && (cut - 2.0).abs() < 1e-6), "{cuts:?}");
    // A shorter extent lets only so much through that the cut stays within it.
    let short = let_through(&approval(0.125, 50.0, 75.0));
    assert!(!short.is_empty() && short.iter().all(|(station, cut)| *station == 60.0 && *cut < 2.0), "{short:?}");
    let shallow = let_through(&approval(0.0625, 27.0, 75.0));
    assert!(shallow.iter().all(|(_, cut)| *cut <= 1.0 + 1e-6), "{shallow:?}");
    assert!(let_through(&approval(0.125, 0.0, 20.0)).is_empty(), "it lies elsewhere");
    assert!(let_through(&Approval { withdrawn: true, ..whole }).is_empty(), "it was taken back");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(60))]

    #[test]
    fn no_list_holds_what_is_forbidden(moved in prop::collection::vec(-10i32..11, 28)) {
        check(&read(&moved));
    }

    #[test]
    fn nor_with_an_approval_of_any_extent(
        moved in prop::collection::vec(-6i32..7, 28), depth in 0.0f64..0.5, from in 0.0f64..90.0, long in 0.0f64..90.0,
    ) {
        check(&RoomFile { approvals: vec![approval(depth, from, from + long)], ..read(&moved) });
    }
}
