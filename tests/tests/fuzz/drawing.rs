//! Drawings of other programs, and our own, as the outline of a room.

use crate::room_file::{asked, same_again};
use crate::said::{Heard, refused};
use crate::trial;
use app::App;
use app::forms::{FileText, RoomFile};
use serde_json::json;
use site_tests::app;

const DXF: &str = "0\nSECTION\n2\nHEADER\n9\n$INSUNITS\n70\n1\n0\nENDSEC\n0\nSECTION\n2\nENTITIES\n\
    0\nLWPOLYLINE\n8\nA-WALL\n90\n4\n70\n1\n10\n0\n20\n0\n10\n100\n20\n0\n10\n100\n20\n60\n10\n0\n20\n60\n\
    0\nPOLYLINE\n8\nDRAIN\n70\n0\n0\nVERTEX\n8\nDRAIN\n10\n5\n20\n5\n0\nVERTEX\n8\nDRAIN\n10\n9\n20\n5\n0\nSEQEND\n\
    0\nLINE\n8\nENTRY LINE\n10\n0\n20\n0\n11\n9\n21\n0\n0\nCIRCLE\n8\nPOINTS\n10\n1\n20\n1\n40\n2\n\
    0\nTEXT\n8\nPOINTS\n10\n1\n20\n2\n1\nA\n0\nENDSEC\n0\nEOF\n";

const SVG: &str = "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"120mm\" height=\"90mm\" viewBox=\"0 0 1200 900\">\
    <g id=\"WALLS\"><polygon points=\"0,0 1200,0 1200,900 0,900\"/></g>\
    <g id=\"POINTS\"><circle cx=\"10\" cy=\"20\" r=\"5\"/><text x=\"12\" y=\"22\">A &amp; B</text></g>\
    <path d=\"M0 0 L10 10 H5 V7 Z\"/><rect x=\"1\" y=\"2\" width=\"30\" height=\"40\"/></svg>";

fn check(bytes: &[u8]) -> Heard {
    let app = app();
    match app.import_bytes("i", bytes, None) {
        Ok(imported) => {
            asked(&app, &imported.room, bytes);
            same_again(&app, &imported.room);
            drawn_again(&app, &imported.room);
            let plan = app.room_state(&imported.room).expect("the room").plan;
            Heard::Read(format!("{} {}", plan.outline.len(), plan.points.len().min(3)))
        }
        Err(refusal) => refused(&refusal, bytes),
    }
}

/// The room as a drawing of a kind, read back.
fn read_back(app: &App, room: &str, kind: &str) -> RoomFile {
    let file = app.dispatch("drawing", &json!({ "room": room, "kind": kind }).to_string()).expect("a drawing");
    let text = serde_json::from_str::<FileText>(&file).expect("a file").text;
    let other = site_tests::app();
    let imported = other.import_bytes("i", text.as_bytes(), None).unwrap_or_else(|why| panic!("our own {kind}: {why}"));
    other.room_state(&imported.room).expect("the room")
}

/// What was read from a drawing has the same outline when it is drawn and read again, to a millionth of a millimetre,
/// or as closely as numbers are told apart where a point lies far off.
fn drawn_again(app: &App, room: &str) {
    let plan = app.room_state(room).expect("the room").plan;
    let places = plan.outline.iter().copied().chain(plan.points.iter().map(|point| (point.x, point.y)));
    let reach = places.fold(0.0_f64, |reach, at| reach.max(at.0.abs()).max(at.1.abs()));
    // Walls that come back to a corner can be followed in more than one way.
    let crossed = |a: &(f64, f64)| plan.outline.iter().filter(|b| (a.0 - b.0).hypot(a.1 - b.1) < 2.0).count() > 1;
    if plan.outline.iter().any(crossed) {
        return;
    }
    for kind in ["dxf", "svg"] {
        let again = read_back(app, room, kind).plan.outline;
        let near = |(a, b): (&(f64, f64), &(f64, f64))| (a.0 - b.0).hypot(a.1 - b.1) < 1e-6 + 1e-14 * reach;
        let same = plan.outline.len() == again.len() && plan.outline.iter().zip(&again).all(near);
        assert!(same, "{kind}: {:?} {again:?}", plan.outline);
    }
}

fn ours(kind: &str) -> Vec<u8> {
    let app = app();
    let room = site_tests::demo(&app, "rowan");
    let file = app.dispatch("drawing", &json!({ "room": room, "kind": kind }).to_string()).expect("a drawing");
    serde_json::from_str::<FileText>(&file).expect("a file").text.into_bytes()
}

#[test]
fn dxf_import() {
    trial::run("dxf", 128, vec![DXF.into(), ours("dxf")], Box::new(check));
}

#[test]
fn svg_import() {
    trial::run("svg", 128, vec![SVG.into(), ours("svg")], Box::new(check));
}
