//! What is typed on the screens and tried out before it is kept.

use serde_json::{Value, json};

/// Layers on both sides of the entry line, as they are typed.
pub(crate) fn layers() -> Vec<Value> {
    let layer = |name: &str, thickness: f64| json!({ "name": name, "thickness": thickness });
    let room = json!([layer("bed", 3.0), layer("backer board", 12.7), layer("membrane", 1.5), layer("tile", 9.5)]);
    let shower = |edge: f64, drain: f64| {
        json!([layer("bed", 3.0), { "name": "tray", "thickness": edge, "at_drain": drain, "tolerance": 1.0 },
            layer("membrane", 1.5), layer("mosaic", 8.0)])
    };
    vec![
        json!({ "room": room, "shower": shower(30.0, 12.0), "shower_deck": -19.05 }),
        json!({ "room": room, "shower": shower(31.75, 12.7), "shower_deck": -19.05, "membrane_lap": 152.4,
            "riser": { "pipe": -152.4, "body": 38.1, "below": 1.5875 } }),
        json!({ "room": room, "shower": shower(50.0, 31.75), "shower_deck": -41.275, "membrane_lap": 20 }),
        json!({ "room": room, "shower": [layer("tray", 20.0)], "shower_deck": 0 }),
        json!({ "room": [], "shower": [], "shower_deck": -19.05 }),
        json!({ "room": [layer("tile", -1.0)], "shower": [], "shower_deck": 0 }),
    ]
}

/// Levelling compound and beds, with and without the figures of their sheets.
pub(crate) fn pours() -> Vec<Value> {
    vec![
        json!({ "kind": "compound", "over": 3.175, "waste": 0.0 }),
        json!({ "kind": "compound", "product": "compound, batch 7", "over": 6.0, "yield_litres": 11.8, "bag_kg": 28,
            "waste": 0.1, "least": 3, "most": 12, "load_most": 40 }),
        json!({ "kind": "compound", "over": 25.0, "yield_litres": 10, "waste": 0.2, "least": 30, "most": 40 }),
        json!({ "kind": "bed", "over": 31.75, "rise": 12.7, "waste": 0.1, "yield_litres": 12.5, "bag_kg": 25,
            "least": 30, "most": 60, "load_most": 100 }),
        json!({ "kind": "bed", "over": 20.0, "waste": 0.0 }),
        json!({ "kind": "compound", "over": -3.0, "waste": 0.0 }),
    ]
}

/// How a floor may be meant to fall.
pub(crate) fn fall_plans() -> Vec<Value> {
    let mut plans = Vec::new();
    for edge in ["level", "even"] {
        for origin in ["centre", "rim"] {
            for rise in [Value::Null, json!(17.4625), json!(25.0), json!(40.0)] {
                plans.push(json!({ "edge": edge, "origin": origin, "rise": rise }));
            }
        }
    }
    plans.push(
        json!({ "edge": "even", "origin": "centre", "rise": 25, "flow": 9, "stack": [100, 200], "trap_arm": 1500,
        "trough": { "wide": 80, "deep": 95 } }),
    );
    plans.push(json!({ "edge": "level", "origin": "rim", "flow": 12.5, "stack": [2000, 100], "trap_arm": 600,
        "trough": { "wide": 120, "deep": 20 } }));
    plans.push(json!({ "edge": "level", "origin": "rim", "rise": -4 }));
    plans
}

/// Places where a drain is tried.
pub(crate) fn drain_places() -> Vec<Value> {
    vec![Value::Null, json!([762, 457.2]), json!([762, 488.95]), json!([10, 10]), json!([900, 450]), json!([9000, 1])]
}

/// Benches, niches, shelves, curbs and sills: read, tilted, not read, pitched backward.
pub(crate) fn ledges() -> Vec<Value> {
    let ledge = |id: &str, kind: &str, depth: f64| json!({ "id": id, "kind": kind, "name": format!("the {kind}"), "depth": depth });
    let with = |mut ledge: Value, fields: &[(&str, f64)]| {
        fields.iter().for_each(|(name, value)| ledge[*name] = json!(value));
        ledge
    };
    let all = json!([
        with(ledge("a", "bench", 400.0), &[("back", 100.0), ("front", 106.0)]),
        with(ledge("b", "niche", 90.0), &[("back", 50.0), ("front", 49.0)]),
        with(ledge("c", "shelf", 120.0), &[("tilt", 1.1)]),
        ledge("d", "curb", 114.3),
        with(ledge("e", "sill", 152.4), &[("tilt", -0.3)]),
        with(ledge("f", "sill", 152.4), &[("back", 10.0), ("front", 11.6)])
    ]);
    vec![all, json!([]), json!([ledge("a", "bench", 0.0)]), json!([ledge("a", "bench", 1.0), ledge("a", "bench", 1.0)])]
}

/// Tiles and how they are set out.
pub(crate) fn tilings() -> Vec<Value> {
    let surface = |name: &str, wide: f64, high: f64, across: &str, up: &str| json!({ "name": name, "wide": wide, "high": high, "across": across, "up": up });
    let tiling = |wide: f64, high: f64, surfaces: Value| {
        json!({ "wide": wide, "high": high, "joint": 3.0, "edge": 6.0, "least_cut": wide / 3.0, "waste": 0.1,
            "surfaces": surfaces })
    };
    let walls = json!([
        surface("left wall", 914.4, 2438.4, "balanced", "whole-first"),
        surface("back wall", 1524.0, 2438.4, "whole-last", "balanced"),
        surface("floor", 1524.0, 914.4, "whole-first", "whole-last")
    ]);
    let mut full = tiling(304.8, 609.6, walls.clone());
    full["warpage"] = json!(0.4);
    full["niche"] =
        json!({ "wide": 355.6, "high": 609.6, "clearance": 3, "across": 450, "up": 1200, "on_module": true });
    full["build_out"] = json!({ "tile": 9.5, "bed": 5, "thin_tile": 6.35, "thin_bed": 3 });
    full["lippage"] = json!([{ "place": "by the drain", "step": 0.7, "joint": 3.2 },
        { "place": "by the door", "step": 1.9, "joint": 6.4 }, { "place": "narrow", "step": 0.2, "joint": 1.0 }]);
    let ruled = |name: &str| {
        let mut tiling = full.clone();
        tiling["lippage_rule"] = json!(name);
        tiling["niche"]["on_module"] = json!(false);
        tiling["niche"]["across"] = json!(100);
        tiling
    };
    let names = ["Stone", "United Kingdom, floor tile", "Australia, floor tile", "no such rule"];
    let few = [tiling(50.0, 50.0, walls), tiling(600.0, 600.0, json!([])), tiling(0.0, 10.0, json!([]))];
    [full.clone()].into_iter().chain(names.map(ruled)).chain(few).collect()
}

/// Sheets and shims that there are.
pub(crate) fn stocks() -> Vec<Value> {
    let piece =
        |called: f64, actual: f64, plywood: bool| json!({ "called": called, "actual": actual, "plywood": plywood });
    vec![
        json!({ "pieces": [piece(12.7, 11.9, true), piece(6.35, 5.2, true), piece(3.175, 3.0, false)], "in_place": true }),
        json!({ "pieces": [piece(19.05, 18.3, true)] }),
        json!({ "pieces": [] }),
        json!({ "pieces": [piece(12.7, -1.0, true)] }),
    ]
}

/// Lengths, as people write them and as they should not.
pub(crate) const LENGTHS: [&str; 44] = [
    "44",
    "44.2",
    "44,2",
    "44-3/16",
    "44 3/16",
    "44-3/16 strong",
    "44 3/16 shy",
    "3' 8 1/4\"",
    "3'8",
    "3 ft 8 in",
    "3 feet 8 1/4 inches",
    "8 1/4\"",
    "1123.95 mm",
    "112.4 cm",
    "1.124 m",
    "1124mm",
    "0",
    "-1/16",
    "+1/16",
    "\u{bd}",
    "44\u{bd}",
    "44 \u{215e}",
    "4\u{2044}8",
    "1/0",
    "1/3",
    "44 3/0",
    "44 17/16",
    "5/16",
    "44-5/64",
    "1e3",
    "1_000",
    "1,234.5",
    "1.234,5",
    "",
    " ",
    "five and a bit",
    "44 3",
    "44''",
    "\u{2212}3",
    "999999",
    "1e999",
    "NaN",
    "44 in 3 mm",
    "12 34 56",
];

/// Tilts, each with its own unit or none.
pub(crate) const TILTS: [&str; 14] = [
    "0.5",
    "-0.5",
    "1/4",
    "1/4 in/ft",
    "0.3\u{b0}",
    "2 %",
    "3 mm/m",
    "1:48",
    "1 in 80",
    "45\u{b0}",
    "90\u{b0}",
    "",
    "steep",
    "0,25 degrees",
];
