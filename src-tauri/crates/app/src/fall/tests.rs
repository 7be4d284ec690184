use super::*;

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
