use super::*;
use crate::forms::refusal::Kind;
use crate::words::Say;

fn banksia() -> RoomFile {
    crate::demo("banksia").expect("the demo room")
}

#[test]
fn a_floor_without_a_drain_is_not_planned_and_one_outside_the_room_is_said() {
    let mut file = banksia();
    file.plan.drain = None;
    assert_eq!(fall(&file).expect_err("no drain").kind, Kind::NotReady);
    file.plan.drain = Some(Drain { from: (5000.0, 5000.0), to: None, grate: None });
    let view = fall(&file).expect("a plan");
    assert!(view.problems.iter().any(|problem| problem.kind == "drain-outside"), "{:?}", view.problems);
}

#[test]
fn what_no_floor_can_be_is_named() {
    let plan = FallPlan {
        edge: EdgeShape::Level,
        origin: Origin::Centre,
        rise: None,
        flow: None,
        stack: None,
        trap_arm: None,
        trough: None,
    };
    let of = |fall: FallPlan| check(&fall, &crate::demo("rowan").expect("the demo room").plan);
    assert!(of(plan.clone()).is_ok());
    for (fall, words) in [
        (FallPlan { rise: Some(-1.0), ..plan.clone() }, "rise must be zero or more"),
        (FallPlan { rise: Some(300.0), ..plan.clone() }, "no more than the joists are deep"),
        (FallPlan { flow: Some(0.0), ..plan.clone() }, "more than zero litres"),
        (FallPlan { trap_arm: Some(f64::NAN), ..plan.clone() }, "trap arm"),
        (FallPlan { stack: Some((f64::NAN, 0.0)), ..plan }, "waste pipe"),
    ] {
        let refused = of(fall).expect_err(words);
        assert!(refused.message.contains(words), "{refused:?}");
    }
}

#[test]
fn a_level_edge_at_a_drain_along_a_wall_is_laid_as_a_plane() {
    let mut file = banksia();
    file.works.fall = Some(FallPlan { edge: EdgeShape::Level, ..Floor::of(&file).expect("a floor").usual() });
    let view = fall(&file).expect("a plan");
    assert!(view.problems.iter().any(|problem| problem.kind == "drain-at-edge"));
    assert!(view.entry_level, "the entry across from the drain is level");
}

#[test]
fn a_level_edge_that_cannot_be_is_said_without_layers_too() {
    let mut file = banksia();
    (file.layers, file.works.fall) = (None, None);
    file.plan.drain = Some(Drain { from: (900.0, 450.0), to: None, grate: None });
    let lines = crate::words::fall::level_edge(&fall(&file).expect("a plan"), Say::new(Units::Mm));
    let said = "impossible: no level perimeter does, the far corner needs 11.3 mm, the near wall allows 9.0 mm";
    assert!(lines.iter().any(|line| line.contains(said)), "{lines:?}");
    let linear = fall(&banksia()).expect("a plan");
    assert!(crate::words::fall::level_edge(&linear, Say::new(Units::Mm)).is_empty(), "one plane has no level edge");
}

#[test]
fn a_roll_in_has_no_point_drain_with_a_level_edge() {
    let mut file = crate::demo("rowan").expect("the demo room");
    file.rules.falls = Some("United States, accessible roll-in".into());
    let lines = crate::words::fall::level_edge(&fall(&file).expect("a plan"), Say::new(Units::In));
    assert!(lines.iter().any(|line| line.contains("impossible") && line.contains("take a linear drain")), "{lines:?}");
    assert!(lines.iter().any(|line| line.contains("at least 0.250 in/ft")), "{lines:?}");
}

#[test]
fn a_fill_among_fills_says_what_it_is_level_with() {
    let spot = |fades_at: &[&str]| FillSpot {
        point: "0/0".into(),
        x: 0.0,
        y: 0.0,
        from_walls: Vec::new(),
        depth: 16.2,
        fades_at: fades_at.iter().map(ToString::to_string).collect(),
    };
    let mut view = fall(&banksia()).expect("a plan");
    let mut say = |fades_at: &[&str]| {
        view.correction.as_mut().expect("a floor that is out").fills = vec![spot(fades_at)];
        crate::words::fall::fall(&view, Say::new(Units::Mm)).into_iter().find(|line| line.starts_with("Fill")).unwrap()
    };
    assert_eq!(say(&[]), "Fill 16.2 mm at 0/0, running on into the fills beside it.");
    assert_eq!(say(&["0/300", "300/0"]), "Fill 16.2 mm at 0/0, fading to nothing at 0/300, 300/0.");
}
