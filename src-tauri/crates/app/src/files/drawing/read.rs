//! A drawing read back: the walls as the outline of a room, the points on it, its drain and entry line.
//!
//! What was measured is not in a drawing. Walls stand on a layer whose name has WALL in it, or are the largest closed
//! line of all; everything else that is not taken is named.

mod drawn;
mod dxf;
mod outline;
mod svg;

use crate::files::sha256sums;
use crate::forms::*;
use drawn::{Drawn, Form, Shape, is_wall, not_understood};
use judge::Refusal;
use outline::outline;
use std::collections::HashSet;

/// The largest drawing that is read.
const MOST_TEXT: usize = 32 << 20;

/// More points than this are no room's.
const MOST_POINTS: usize = 5000;

/// How far from a point its name may stand, mm.
const NAME_WITHIN: f64 = 60.0;

/// The room that a drawing means, and what is taken of it; `None` for a text that is no drawing.
///
/// # Errors
/// `out-of-range` for too large a file, `not-understood` where no room can be read from it.
pub(crate) fn room(text: &str, now: &str) -> Option<Result<(RoomFile, DrawingLook), Refusal>> {
    let drawn = match text.trim_start() {
        start if start.starts_with('<') && start.contains("<svg") => svg::read,
        start if dxf::is(start) => dxf::read,
        _ => return None,
    };
    if text.len() > MOST_TEXT {
        return Some(Err(Refusal::out_of_range("file", "a drawing of at most 32 MiB")));
    }
    Some(drawn(text).and_then(|drawn| room_of(drawn, text, now)))
}

/// Beyond this nothing on earth lies, mm; nearer than that, corners are still told apart.
const FARTHEST: f64 = 1e10;

fn check_places(drawn: &Drawn) -> Result<(), Refusal> {
    let is_far = |at: &(f64, f64)| at.0.abs() > FARTHEST || at.1.abs() > FARTHEST;
    let lost = drawn.shapes.iter().find(|shape| match &shape.form {
        Form::Way { places, .. } => places.iter().any(is_far),
        Form::Spot(at) | Form::Text(at, _) => is_far(at),
    });
    lost.map_or(Ok(()), |shape| {
        let layer = &shape.layer;
        Err(not_understood(&format!(
            "Something on the layer {layer:?} lies farther off than anything on earth. See to the units of the drawing and save it again."
        )))
    })
}

fn check_points(drawn: &Drawn) -> Result<(), Refusal> {
    let is_point = |shape: &&Shape| is_of_points(&shape.layer) && matches!(shape.form, Form::Spot(_));
    let count = drawn.shapes.iter().filter(is_point).count();
    if count <= MOST_POINTS {
        return Ok(());
    }
    Err(not_understood(&format!(
        "The drawing has {count} points; of one room at most {MOST_POINTS} are read. Leave fewer on its layer of points."
    )))
}

fn room_of(drawn: Drawn, text: &str, now: &str) -> Result<(RoomFile, DrawingLook), Refusal> {
    check_places(&drawn)?;
    check_points(&drawn)?;
    let outline = outline(&drawn)?;
    let points = points(&drawn);
    let drain = drawn.shapes.iter().filter(|shape| shape.layer == "DRAIN").find_map(|shape| match &shape.form {
        Form::Way { places, .. } => Some(Drain { from: *places.first()?, to: places.last().copied(), grate: None }),
        Form::Spot(at) => Some(Drain { from: *at, to: None, grate: None }),
        Form::Text(..) => None,
    });
    let entry = drawn.shapes.iter().filter(|shape| shape.layer == "ENTRY LINE").find_map(|shape| match &shape.form {
        Form::Way { places, .. } => Some((*places.first()?, *places.last()?)),
        _ => None,
    });
    let taken = |layer: &str| is_wall(layer) || is_of_points(layer) || matches!(layer, "DRAIN" | "ENTRY LINE");
    let look = look(&drawn, &outline, points.len(), taken);
    let survey = Survey { id: "floor".to_string(), name: "floor".to_string(), surface: Surface::Floor };
    let plan = Plan {
        outline,
        base_wall: "base wall".to_string(),
        side_wall: "side wall".to_string(),
        drain,
        entry,
        surveys: vec![survey],
        points,
        ..Plan::default()
    };
    Ok((file(drawn, text, plan, now), look))
}

fn look(drawn: &Drawn, outline: &[(f64, f64)], points: usize, taken: impl Fn(&str) -> bool) -> DrawingLook {
    let span = |of: fn(&(f64, f64)) -> f64| {
        let all = outline.iter().map(of);
        all.clone().fold(f64::NEG_INFINITY, f64::max) - all.fold(f64::INFINITY, f64::min)
    };
    let mut named = HashSet::new();
    let others = drawn.shapes.iter().map(|shape| &shape.layer).filter(|layer| !taken(layer));
    let left = others.filter(|layer| named.insert(*layer)).cloned().collect();
    let (corners, points) = (outline.len() as u32, points as u32);
    DrawingLook { corners, wide: span(|at| at.0), deep: span(|at| at.1), points, left }
}

fn file(drawn: Drawn, text: &str, plan: Plan, now: &str) -> RoomFile {
    let digest = sha256sums::sha256(text.as_bytes());
    let name = drawn.name.filter(|name| !name.trim().is_empty()).unwrap_or_else(|| "From a drawing".to_string());
    let room = RoomHead {
        id: format!("drawing-{}", digest.get(..16).unwrap_or_default()),
        name,
        units: if drawn.inches { Units::In } else { Units::Mm },
        place: None,
        created: now.to_string(),
    };
    RoomFile {
        schema: SCHEMA,
        room,
        plan,
        setups: Vec::new(),
        readings: Vec::new(),
        rules: Rules::default(),
        layers: None,
        works: Works::default(),
        gate: Vec::new(),
        approvals: Vec::new(),
        target: None,
        done: Vec::new(),
        entries: Vec::new(),
        journal: None,
        private: Vec::new(),
    }
}

fn is_of_points(layer: &str) -> bool {
    matches!(layer, "READINGS" | "POINTS")
}

/// The points with the names beside them; on a layer of readings the last word of the name is the reading.
fn points(drawn: &Drawn) -> Vec<PlanPoint> {
    let mut used = HashSet::new();
    let mut points = Vec::new();
    for shape in drawn.shapes.iter().filter(|shape| is_of_points(&shape.layer)) {
        let Form::Spot(at) = shape.form else { continue };
        // A point that was read twice, or on both edges, is drawn twice.
        if points.iter().any(|one: &PlanPoint| (one.x - at.0).hypot(one.y - at.1) < 1.0) {
            continue;
        }
        let named = name_beside(drawn, &shape.layer, at).filter(|name| used.insert(name.clone()));
        let id = named.unwrap_or_else(|| free(&mut used, points.len() + 1));
        points.push(PlanPoint { id, survey: "floor".to_string(), x: at.0, y: at.1, joist: None });
    }
    points
}

fn free(used: &mut HashSet<String>, from: usize) -> String {
    let name = (from..).map(|k| format!("P{k}")).find(|name| !used.contains(name)).unwrap_or_default();
    used.insert(name.clone());
    name
}

fn name_beside(drawn: &Drawn, layer: &str, at: (f64, f64)) -> Option<String> {
    let texts = drawn.shapes.iter().filter(|shape| shape.layer == layer).filter_map(|shape| match &shape.form {
        Form::Text(place, text) => Some(((place.0 - at.0).hypot(place.1 - at.1), text)),
        _ => None,
    });
    let (far, text) = texts.min_by(|a, b| a.0.total_cmp(&b.0))?;
    let name = if layer == "READINGS" { text.rsplit_once(' ').map_or(text.as_str(), |(name, _)| name) } else { text };
    (far <= NAME_WITHIN && !name.trim().is_empty()).then(|| name.trim().to_string())
}

#[cfg(test)]
mod tests {
    use super::super::{drawing_of_room, dxf, svg};
    use super::*;

    const NOW: &str = "2031-04-02T07:31:05-05:00";

    fn back(text: &str) -> (RoomFile, DrawingLook) {
        room(text, NOW).expect("a drawing").expect("a room")
    }

    #[test]
    fn a_room_comes_back_from_its_own_drawings() {
        for name in ["kestrel", "rowan", "banksia"] {
            let mut file = judge::demo(name).expect("a room");
            file.room.name = "a < b & \"c\"".into();
            file.plan.outline.iter_mut().for_each(|at| *at = (at.0 + 100.0, at.1 - 50.0));
            let drawing = drawing_of_room(&file);
            for text in [dxf::write(&drawing, &file.room), svg::write(&drawing, &file.room)] {
                let (got, look) = back(&text);
                let near = |a: (f64, f64), b: (f64, f64)| (a.0 - b.0).hypot(a.1 - b.1) < 1e-6;
                assert_eq!((&got.room.name, got.room.units), (&file.room.name, file.room.units));
                assert_eq!(got.plan.outline.len(), file.plan.outline.len());
                assert!(got.plan.outline.iter().zip(&file.plan.outline).all(|(a, b)| near(*a, *b)), "{name}");
                assert_eq!(got.plan.points.len(), file.plan.points.len(), "{name}");
                for point in &file.plan.points {
                    let same = got.plan.points.iter().find(|one| one.id == point.id).expect(&point.id);
                    assert!(near((same.x, same.y), (point.x, point.y)), "{}", point.id);
                }
                assert_eq!(got.plan.drain.is_some(), file.plan.drain.is_some(), "{name}");
                assert_eq!(got.plan.entry.is_some(), file.plan.entry.is_some(), "{name}");
                assert_eq!(look.left.contains(&"JOISTS".to_string()), !file.plan.joists.is_empty());
                crate::commands::check_file(&got).expect("a room that can be taken in");
            }
        }
    }

    #[test]
    fn what_cannot_be_read_says_so() {
        let check = |text: &str, words: &str| {
            let refusal = room(text, NOW).expect("a drawing").map(drop).expect_err(words);
            assert!(refusal.message.contains(words), "{}", refusal.message);
        };
        check("<svg xmlns=\"http://www.w3.org/2000/svg\"><g", "cut off");
        check("<svg xmlns=\"http://www.w3.org/2000/svg\"><path d=\"M0 0\"/></svg>", "how long");
        let svg = |inside: &str| {
            format!("<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"9mm\" viewBox=\"0 0 9 9\">{inside}</svg>")
        };
        check(&svg(""), "No closed line");
        check(&svg("<g transform=\"scale(2)\"><line x1=\"0\" y1=\"0\" x2=\"1\" y2=\"1\"/></g>"), "turned or moved");
        check(&svg("<line x1=\"1e12\" y1=\"0\" x2=\"1\" y2=\"1\"/>"), "farther off");
        check("  0\nSECTION\n  2\nENTITIES\n  0\nLINE\n", "cut off");
        check("  0\nSECTION\n  2\nENTITIES\n  0\nENDSEC\n  0\nEOF\n", "No closed line");
        check("  0\nSECTION\n  2\nENTITIES\n  0\nLINE\n  8\nWALLS\n 10\nten\n  0\nEOF\n", "line 10");
        assert!(room("{\"schema\": 1}", NOW).is_none() && room("point,x_mm", NOW).is_none());
    }

    #[test]
    fn a_drawing_of_another_program_gives_its_walls_in_its_units() {
        let inch = "0\nSECTION\n2\nHEADER\n9\n$INSUNITS\n70\n1\n0\nENDSEC\n";
        let wall =
            "0\nLWPOLYLINE\n8\nA-WALL\n90\n4\n70\n1\n10\n0\n20\n0\n10\n100\n20\n0\n10\n100\n20\n60\n10\n0\n20\n60\n";
        let text =
            format!("{inch}0\nSECTION\n2\nENTITIES\n{wall}0\nPOINT\n8\nPOINTS\n10\n10\n20\n10\n0\nENDSEC\n0\nEOF\n");
        let (got, look) = back(&text);
        assert_eq!((look.corners, look.points), (4, 1));
        assert!((look.wide - 2540.0).abs() < 1e-9 && (look.deep - 1524.0).abs() < 1e-9);
        assert_eq!((got.room.units, got.plan.points[0].x), (Units::In, 254.0));
    }
}
