//! Rowan Street: a flush entry, the fall of a tray, and a drain over a joist. Invented room; its right answers were
//! worked by hand in inches beside it.

use app::wire::{BuildUpView, FallDesign, Meeting, Origin, RoomFile, Verdict};
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
