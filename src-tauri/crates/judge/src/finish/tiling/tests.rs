use super::*;

fn invented() -> Tiling {
    let surface = |name: &str, wide: f64, high: f64| TiledSurface {
        name: name.into(),
        wide,
        high,
        across: SetOut::Balanced,
        up: SetOut::WholeFirst,
    };
    Tiling {
        wide: 300.0,
        high: 600.0,
        joint: 3.0,
        edge: 6.0,
        least_cut: 50.0,
        waste: 0.1,
        warpage: 0.5,
        surfaces: vec![surface("back wall", 1800.0, 2400.0)],
        niche: None,
        build_out: None,
        lippage_rule: None,
        lippage: Vec::new(),
    }
}

fn of(tiling: Tiling) -> Result<TilingView, crate::Refusal> {
    let mut file = crate::demo("banksia").expect("the demo room");
    file.works.tiling = Some(tiling);
    super::tiling(&file)
}

#[test]
fn a_wall_comes_out_as_worked_by_hand() {
    let view = of(invented()).expect("a layout");
    let wall = &view.surfaces[0];
    // Across 1788 between the joints: 286.5, four of 300, 286.5. Up 2388: three of 600 and 579.
    assert_eq!((wall.across.first, wall.across.whole, wall.across.last), (286.5, 4, 286.5));
    assert_eq!((wall.up.whole, wall.up.cuts, wall.up.last), (3, 1, 579.0));
    assert_eq!((wall.tiles, wall.cut), (24, 24 - 12));
    assert_eq!(wall.columns[1], (6.0 + 286.5 + 3.0, 300.0));
    let end = wall.columns.last().expect("a last piece");
    assert!((end.0 + end.1 - 1794.0).abs() < 1e-9);
    assert_eq!(view.order, 27, "24 and a tenth");
    // 600 mm is a large tile: a half inch notch, a quarter inch of bed over 4.32 square metres and a tenth.
    assert!((view.mortar - 4.32e6 * 6.35e-6 * 1.1).abs() < 1e-9);
}

#[test]
fn a_niche_begins_at_a_joint_and_a_thin_tile_is_built_out() {
    let niche = Niche { wide: 300.0, high: 600.0, clearance: 5.0, across: 900.0, up: 1300.0, on_module: true };
    let out = BuildOut { tile: 10.0, bed: 6.0, thin_tile: 8.0, thin_bed: 3.0 };
    let view = of(Tiling { niche: Some(niche), build_out: Some(out), ..invented() }).expect("a layout");
    let found = view.niche.expect("a niche");
    // Columns begin at 6, 295.5, 598.5, 901.5 …; a niche of 300 wanted at 750 to 1050 begins at 598.5 or 901.5.
    assert!((found.from + 5.0 - 598.5).abs() < 1e-9 || (found.from + 5.0 - 901.5).abs() < 1e-9, "{found:?}");
    // Rows begin at 6, 609, 1212 …; wanted from 1000 it begins at 1212.
    assert!((found.foot + 5.0 - 1212.0).abs() < 1e-9, "{found:?}");
    assert_eq!(view.build_out, Some(5.0));
}

#[test]
fn lippage_is_judged_by_its_joint_and_the_warpage() {
    let read = |step: f64, joint: f64| LippageRead { place: String::new(), step, joint };
    let lippage = vec![read(0.5, 3.0), read(2.5, 3.0), read(1.29375, 3.0), read(0.2, 0.5)];
    let view = of(Tiling { lippage, ..invented() }).expect("a layout");
    // 1/32 in and 0.5 mm of warpage over joints of 1/16 in to under 1/4.
    assert!(view.lippage[0].limit.is_some_and(|limit| (limit - 1.29375).abs() < 1e-9));
    let verdicts: Vec<Verdict> = view.lippage.iter().map(|one| one.verdict).collect();
    assert_eq!(verdicts, [Verdict::Within, Verdict::Out, Verdict::TooCloseToCall, Verdict::NotTested]);
    assert_eq!(view.lippage_rule.clause, "ANSI A108.02 4.3.7");
}

#[test]
fn what_is_no_tile_is_named() {
    let check = |change: fn(&mut Tiling), words: &str| {
        let mut tiling = invented();
        change(&mut tiling);
        let refused = of(tiling).expect_err(words);
        assert!(refused.message.contains(words), "{refused:?}");
    };
    check(|tiling| tiling.wide = 0.0, "tile: width must be more than zero");
    check(|tiling| tiling.joint = -1.0, "tile: joint must be zero or more");
    check(|tiling| tiling.surfaces[0].high = f64::NAN, "back wall: height");
    check(|tiling| tiling.surfaces[0].wide = 10.0, "back wall must be wider than its two joints");
}
