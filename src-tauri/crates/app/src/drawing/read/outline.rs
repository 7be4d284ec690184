//! The walls of a drawing as one closed line.

use super::{Drawn, Form, is_wall, not_understood};
use crate::refusal::Refusal;

/// Ends that lie so near are one corner, mm.
const SAME: f64 = 1.0;

/// The corners of the largest closed line: of the walls where there are any, else of everything that is drawn.
///
/// # Errors
/// `not-understood` where nothing closes.
pub(super) fn outline(drawn: &Drawn) -> Result<Vec<(f64, f64)>, Refusal> {
    let of_walls = largest(drawn, is_wall);
    of_walls.or_else(|| largest(drawn, |_| true)).ok_or_else(|| {
        not_understood(
            "No closed line of walls was found in the drawing. Draw the walls as one closed line on a layer named WALLS.",
        )
    })
}

fn largest(drawn: &Drawn, wanted: impl Fn(&str) -> bool) -> Option<Vec<(f64, f64)>> {
    let (mut closed, mut open) = (Vec::new(), Vec::new());
    for shape in drawn.shapes.iter().filter(|shape| wanted(&shape.layer)) {
        match &shape.form {
            Form::Way { places, closed: true } => closed.push(places.clone()),
            Form::Way { places, .. } if places.len() > 1 => open.push(places.clone()),
            _ => {}
        }
    }
    closed.extend(chained(open));
    let closed = closed.into_iter().map(without_doubles).filter(|ring| ring.len() > 2);
    closed.max_by(|a, b| area(a).total_cmp(&area(b))).filter(|ring| area(ring) > SAME)
}

/// Open ways joined end to end, those of them that close.
fn chained(mut open: Vec<Vec<(f64, f64)>>) -> Vec<Vec<(f64, f64)>> {
    let mut rings = Vec::new();
    while !open.is_empty() {
        let mut way = open.remove(0);
        while let Some(next) = open.iter().position(|one| joins(&way, one)) {
            let mut more = open.remove(next);
            if !meets(way.last(), more.first()) {
                more.reverse();
            }
            way.extend(more.into_iter().skip(1));
        }
        if way.len() > 3 && meets(way.first(), way.last()) {
            rings.push(way);
        }
    }
    rings
}

fn joins(way: &[(f64, f64)], other: &[(f64, f64)]) -> bool {
    !(way.len() > 3 && meets(way.first(), way.last()))
        && (meets(way.last(), other.first()) || meets(way.last(), other.last()))
}

fn meets(one: Option<&(f64, f64)>, other: Option<&(f64, f64)>) -> bool {
    one.zip(other).is_some_and(|(a, b)| (a.0 - b.0).hypot(a.1 - b.1) <= SAME)
}

fn without_doubles(ring: Vec<(f64, f64)>) -> Vec<(f64, f64)> {
    let mut corners: Vec<(f64, f64)> = Vec::new();
    for at in ring {
        if !meets(corners.last(), Some(&at)) {
            corners.push(at);
        }
    }
    if corners.len() > 1 && meets(corners.first(), corners.last()) {
        corners.pop();
    }
    corners
}

fn area(ring: &[(f64, f64)]) -> f64 {
    let next = ring.iter().cycle().skip(1);
    ring.iter().zip(next).map(|(a, b)| a.0 * b.1 - b.0 * a.1).sum::<f64>().abs() / 2.0
}
