//! Rowan Street: a flush entry, the fall of a tray, and a drain over a joist. Invented room; its right answers were
//! worked by hand in inches beside it.

use app::forms::{BuildUpView, DrainAsk, DrainBar, DrainView, FallDesign, Layer, Meeting, Origin, RoomFile, Verdict};
use site_tests::{app, demo};

const INCH: f64 = 25.4;

fn room() -> RoomFile {
    let app = app();
    let room = demo(&app, "rowan");
    app.room_state(&room).expect("the room")
}

/// The build-up with one layer of one side at another thickness, in inches.
fn with(changes: &[(bool, &str, f64)]) -> BuildUpView {
    let mut file = room();
    let layers = file.layers.as_mut().expect("layers");
    for (in_shower, name, thickness) in changes {
        let side = if *in_shower { &mut layers.shower } else { &mut layers.room };
        let layer = side.iter_mut().find(|layer| layer.name == *name).expect("the layer");
        layer.thickness = thickness * INCH;
    }
    app::build_up(&file).expect("a build-up")
}

fn inches(mm: f64, want: f64) -> bool {
    (mm / INCH - want).abs() < 1e-9
}

fn from(view: &BuildUpView, origin: Origin) -> FallDesign {
    view.falls.iter().find(|fall| fall.origin == origin).expect("the origin").clone()
}

#[test]
fn the_layers_are_those_of_the_sheet() {
    let layers = room().layers.expect("layers");
    let sixteenths = |layers: &[Layer]| -> Vec<f64> {
        layers.iter().map(|layer| (layer.thickness / INCH * 16.0 * 1e6).round() / 1e6).collect()
    };
    // Bed 1/8, backer 1/4, membrane 1/16, tile bed 1/8, tile 3/8.
    assert_eq!(sixteenths(&layers.room), [2.0, 4.0, 1.0, 2.0, 6.0]);
    // Bed 1/8, tray 1-3/16 with 1/2 at the drain, membrane 1/16, tile bed 1/8, mosaic 5/16.
    assert_eq!(sixteenths(&layers.shower), [2.0, 19.0, 1.0, 2.0, 5.0]);
    assert!(layers.shower[1].at_drain.is_some_and(|mm| inches(mm, 0.5)));
    assert!(inches(layers.shower_deck, -0.75), "flush with the joist tops under 3/4 of subfloor");
    let plan = room().plan;
    assert!(plan.joists.iter().zip([0.0, 16.0, 32.0]).all(|(joist, at)| inches(joist.at, at)));
    let drain = plan.drain.expect("a drain");
    assert!(inches(drain.from.0, 30.0) && inches(drain.from.1, 18.0) && drain.grate.is_some_and(|mm| inches(mm, 4.0)));
}

fn window(linear: bool, at: (f64, f64)) -> DrainView {
    let room = room();
    let at = Some((at.0 * INCH, at.1 * INCH));
    let ask = DrainAsk { room: room.room.id.clone(), linear, at, plan: None };
    app::judge::finish::drain::asked(room, &ask).expect("a window")
}

#[test]
fn the_drain_stays_in_the_middle_and_the_shower_moves_by_a_2x_on_the_wall() {
    let here = window(false, (30.0, 18.0));
    // The joist is 15-1/4 to 16-3/4; a 4-1/2 hole at 18 begins at 15-3/4.
    assert_eq!((here.at.bars.clone(), here.at.joists.clone()), (vec![DrainBar::Joist], vec!["J2".to_string()]));
    let slide = here.slide.expect("a way") / INCH;
    assert!(slide > 1.0 && slide <= 1.5, "{slide}: a 2x on the wall, 1-1/2, is enough");
    let beside = window(false, (30.0, 19.25)).at;
    assert_eq!(beside.bars, [DrainBar::Fall]);
    assert!(beside.steepest.is_some_and(|fall| (fall * 12.0 - 0.53).abs() < 5e-3), "{beside:?}");
}

#[test]
fn the_near_side_at_three_quarters_of_drop_is_twice_what_access_allows() {
    let near = from(&with(&[(true, "tray", 1.25)]), Origin::Centre).near.fall;
    assert!((near - 1.0 / 24.0).abs() < 1e-12 && (near - 2.0 / 48.0).abs() < 1e-12);
}

#[test]
fn the_shower_stands_an_eighth_proud_as_planned() {
    let view = with(&[]);
    assert!(inches(view.room.finished, 15.0 / 16.0), "{:?}", view.room);
    assert!(inches(view.shower.finished, 1.0 + 1.0 / 16.0), "{:?}", view.shower);
    assert!(inches(view.step, 0.125));
    assert_eq!(view.meeting, Meeting::Proud);
    assert_eq!(view.not_ready.len(), 2, "proud, and no membrane across the entry: {:?}", view.not_ready);
    assert!(inches(view.cleats, 0.75), "the deck's own thickness below the joist tops");
    let backer = view.ways.iter().find(|way| way.layer == "backer board").expect("a way");
    assert!(!backer.in_shower && inches(backer.to, 0.375));
}

#[test]
fn a_thicker_backer_and_a_thicker_edge_leave_a_sixteenth() {
    let view = with(&[(false, "backer board", 0.5), (true, "tray", 1.25)]);
    assert!(inches(view.room.finished, 1.0 + 3.0 / 16.0) && inches(view.step, -1.0 / 16.0));
    assert_eq!(view.meeting, Meeting::Low);
    let lower = with(&[(false, "backer board", 0.5)]);
    assert!(inches(lower.step, -0.125));
    assert_eq!(lower.meeting, Meeting::TooLow);
}

#[test]
fn the_fall_from_the_centre_is_too_close_to_call() {
    let fall = from(&with(&[]), Origin::Centre);
    assert!(inches(fall.rise, 11.0 / 16.0));
    // √(30² + 18²) = 34.986 in to the far corner.
    assert!(inches(fall.far.distance, 1224f64.sqrt()));
    assert!((fall.far.fall * 12.0 - 0.2358).abs() < 5e-5 && (fall.far.u * 24.0 - 0.0303).abs() < 5e-5, "{fall:?}");
    assert_eq!(fall.far.verdict, Verdict::TooCloseToCall);
    assert!((fall.needs / INCH - 0.729).abs() < 5e-4 && fall.possible);
}

#[test]
fn three_quarters_of_drop_meets_the_maximum_at_the_near_wall() {
    let fall = from(&with(&[(true, "tray", 1.25)]), Origin::Centre);
    assert!((fall.far.fall * 12.0 - 0.257).abs() < 5e-4);
    assert!((fall.near.fall * 12.0 - 0.5).abs() < 1e-12);
    assert_eq!(fall.near.verdict, Verdict::TooCloseToCall);
}

#[test]
fn from_the_rim_no_level_perimeter_does() {
    let fall = from(&with(&[]), Origin::Rim);
    assert!((fall.far.fall * 12.0 - 0.2501).abs() < 5e-5 && (fall.near.fall * 12.0 - 0.516).abs() < 5e-4, "{fall:?}");
    assert!(!fall.possible);
    assert!((fall.needs / INCH - 0.687).abs() < 5e-4 && (fall.allows / INCH - 0.667).abs() < 5e-4);
}

#[test]
fn the_hole_meets_the_middle_joist_and_clears_beside_it() {
    let clash = with(&[]).drain.expect("a drain over joists");
    assert_eq!(clash.joists.len(), 1);
    assert!(inches(clash.clear_at[0], 19.25), "{clash:?}");
}

#[test]
fn a_traditional_bed_on_a_lower_deck_is_too_thin_over_the_joist_beside_the_drain() {
    let mut file = room();
    let layers = file.layers.as_mut().expect("layers");
    // The deck 7/8 below the joist tops, which lie under 3/4 of subfloor; 1-1/4 of bed at the drain.
    layers.shower_deck = -(0.75 + 0.875) * INCH;
    let bed = app::forms::Layer {
        name: "mortar bed".into(),
        thickness: 2.0 * INCH,
        at_drain: Some(1.25 * INCH),
        tolerance: None,
    };
    layers.shower = vec![bed];
    let view = app::build_up(&file).expect("a build-up");
    assert_eq!(view.beds.len(), 3, "{:?}", view.beds);
    let beside = view.beds.iter().find(|bed| bed.joist == "J2").expect("the joist under the drain");
    assert!(inches(beside.proud, 0.875) && inches(beside.bed, 1.25) && inches(beside.left, 0.375), "{beside:?}");
    assert_eq!(beside.verdict, Verdict::Out);
    assert!(view.not_ready.iter().any(|why| why.contains("J2") && why.contains("engineer")), "{:?}", view.not_ready);
    // The joist at the entry: 0.75 in to its side, (18 - 0.75 - 2) of 16 in from the rim.
    let at_entry = view.beds.iter().find(|bed| bed.joist == "J1").expect("the joist at the entry");
    assert!(inches(at_entry.bed, 1.25 + 0.75 * 15.25 / 16.0), "{at_entry:?}");
    assert!(with(&[]).beds.is_empty(), "with the deck flush nothing stands up into the bed");
}

#[test]
fn the_riser_is_what_lies_between_its_two_stops() {
    let mut file = room();
    let layers = file.layers.as_mut().expect("layers");
    let riser = app::forms::Riser { pipe: -6.0 * INCH, body: 1.5 * INCH, below: INCH / 16.0 };
    layers.riser = Some(riser);
    let view = app::build_up(&file).expect("a build-up");
    // Finished at the drain 3/8: 1-1/16 at the entry less 11/16 of drop.
    assert!(inches(view.at_drain, 0.375), "{view:?}");
    assert!(view.riser.is_some_and(|riser| inches(riser, 0.375 - 0.0625 - 1.5 + 6.0)), "{:?}", view.riser);
}

#[test]
fn a_roll_in_cannot_have_a_point_drain_with_a_level_edge_here() {
    let view = app::fall(&room()).expect("a fall");
    let access = view.rules.iter().find(|rule| rule.name.contains("accessible")).expect("the rule of access");
    // The near wall at 18 in may rise 3/8 at 1:48; the far corner needs 0.729 for the least of the dwelling.
    assert!(!access.possible, "{access:?}");
    assert!(access.allows.is_some_and(|allows| inches(allows, 0.375)));
    let dwelling = view.rules.iter().find(|rule| rule.chosen).expect("the rule of the dwelling");
    assert!(dwelling.possible && dwelling.steepest.is_some_and(|fall| (fall * 12.0 - 0.4859).abs() < 1e-3));
    assert!(inches(view.rise, 11.0 / 16.0), "the drop of the layers");
    assert_eq!(view.designs.len(), 2, "from the centre and from the rim");
    assert!(view.entry_level, "a level edge has a level entry");
}

#[test]
fn what_the_tray_holds_is_a_third_of_its_rise() {
    let view = app::fall(&room()).expect("a fall");
    let held = view.hold.expect("a hold");
    // 60 × 36 in under 11/16, a third of it over the bed: 495 cubic inches.
    assert!(!held.as_read && (held.volume - 495.0 * 0.016_387_064).abs() < 1e-6, "{held:?}");
    assert_eq!(held.minutes, None, "no flow was typed");
}
