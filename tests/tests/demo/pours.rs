//! Levelling compound and beds: worked values of the trade, and what no pour can be.

use app::forms::{Doorway, Pour, PourKind, PourView, RoomFile, Surface, Verdict};
use site_tests::{app, demo};

const INCH: f64 = 25.4;

fn pour() -> Pour {
    Pour {
        kind: PourKind::Compound,
        product: String::new(),
        over: 3.175,
        rise: None,
        yield_litres: None,
        bag_kg: None,
        waste: 0.0,
        least: None,
        most: None,
        load_most: None,
    }
}

/// An invented deck of 90 × 72 in, 45 square feet, read level at its four corners, and one place lower.
fn deck(low: f64) -> RoomFile {
    let app = app();
    let mut file = app.room_state(&demo(&app, "kestrel")).expect("the room");
    let (wide, deep) = (90.0 * INCH, 72.0 * INCH);
    file.plan.outline = vec![(0.0, 0.0), (wide, 0.0), (wide, deep), (0.0, deep)];
    file.plan.surveys[0].surface = Surface::Floor;
    file.plan.doorway = Some(Doorway { from: 0.0, to: 30.0 * INCH, budget: None });
    let corners = [(0.0, 0.0), (wide, 0.0), (wide, deep), (0.0, deep)];
    file.plan.points.truncate(4);
    file.readings.truncate(4);
    for (k, &(x, y)) in corners.iter().enumerate() {
        let point = &mut file.plan.points[k];
        (point.x, point.y, point.joist) = (x, y, None);
        let reading = &mut file.readings[k];
        (reading.point, reading.value) = (point.id.clone(), 1000.0 + if k == 0 { low } else { 0.0 });
        (reading.withdrawn, reading.supersedes) = (false, None);
    }
    file
}

fn of(file: &RoomFile, pour: Pour) -> Result<PourView, app::Refusal> {
    app::pour(&RoomFile { works: app::forms::Works { pour: Some(pour), ..Default::default() }, ..file.clone() }, None)
}

#[test]
fn forty_five_square_feet_at_an_eighth_are_13_274_litres() {
    // Worked: 45 ft² × 1/8 in = 0.46875 ft³ = 13.274 L.
    let bag = Pour { yield_litres: Some(11.8), bag_kg: Some(28.0), waste: 0.1, ..pour() };
    let view = of(&deck(0.0), bag).expect("a pour");
    assert!((view.volume - 0.46875 * 28.316_846_592).abs() < 1e-9, "{}", view.volume);
    assert_eq!(view.bags, Some(2), "14.6 litres of 11.8 a bag");
    assert!(view.mass.is_some_and(|mass| (mass - view.volume * 28.0 / 11.8).abs() < 1e-9));
    // 3.175 litres on a square metre.
    assert!(view.load.is_some_and(|load| (load - 3.175 * 28.0 / 11.8).abs() < 1e-9));
    assert_eq!(view.bare.len(), 0);
}

#[test]
fn a_mortar_bed_of_four_feet_square_takes_59_78_litres() {
    let mut file = deck(0.0);
    let side = 48.0 * INCH;
    file.plan.outline = vec![(0.0, 0.0), (side, 0.0), (side, side), (0.0, side)];
    file.plan.drain = Some(app::forms::Drain { from: (side / 2.0, side / 2.0), to: None, grate: None });
    // Worked: 16 ft² × (1.25 + 0.3333) / 12 = 2.1111 ft³ = 59.78 L.
    let bed = Pour { kind: PourKind::Bed, over: 1.25 * INCH, rise: Some(0.5 * INCH), ..pour() };
    let view = of(&file, bed).expect("a bed");
    assert!((view.volume - 59.78).abs() < 0.005, "{}", view.volume);
}

#[test]
fn depths_are_judged_by_the_products_sheet_and_the_door_is_dammed() {
    let sheet = Pour { over: 6.0, least: Some(3.0), most: Some(12.0), ..pour() };
    let view = of(&deck(20.0), sheet).expect("a pour");
    assert_eq!(view.least.as_ref().map(|limit| limit.verdict), Some(Verdict::Within));
    let most = view.most.as_ref().expect("the greatest depth");
    assert_eq!((most.verdict, most.value), (Verdict::Out, 26.0), "20 low and 6 over the rest");
    assert_eq!(view.dams.len(), 1);
    assert!((view.dams[0].height - 26.0).abs() < 1e-9, "{:?}", view.dams);
    let heavy = Pour { yield_litres: Some(10.0), bag_kg: Some(20.0), load_most: Some(50.0), ..pour() };
    let load = of(&deck(30.0), heavy).expect("a pour").load_limit.expect("a load");
    assert!((load.value - 2.0 * 33.175).abs() < 1e-9 && load.verdict == Verdict::Out, "{load:?}");
}

#[test]
fn what_cannot_be_poured_is_said() {
    let check = |file: &RoomFile, pour: Pour, words: &str| {
        let refused = of(file, pour).expect_err(words);
        assert!(refused.message.contains(words), "{refused:?}");
    };
    let floor = deck(0.0);
    check(&floor, Pour { over: -1.0, ..pour() }, "depth must be zero or more");
    check(&floor, Pour { yield_litres: Some(0.0), ..pour() }, "yield of a bag must be more than zero");
    check(&floor, Pour { least: Some(9.0), most: Some(3.0), ..pour() }, "no less than the least depth");
    check(&floor, Pour { kind: PourKind::Bed, ..pour() }, "Put the drain on the plan");
    let app = app();
    let joists = app.room_state(&demo(&app, "kestrel")).expect("the room");
    check(&joists, pour(), "never over bare joists");
    let unread = RoomFile { readings: Vec::new(), ..floor };
    check(&unread, pour(), "Nothing of this floor was read yet");
    assert!(app::pour(&joists, None).expect_err("nothing put in").message.contains("what is poured"));
}
