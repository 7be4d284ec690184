//! The walls of a drawing as one closed line.

use super::drawn::{Drawn, Form, is_wall, not_understood};
use judge::Refusal;
use std::collections::HashMap;

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
fn chained(open: Vec<Vec<(f64, f64)>>) -> Vec<Vec<(f64, f64)>> {
    let mut rings = Vec::new();
    let mut loose = Loose::new(open);
    while let Some(mut way) = loose.first() {
        while let Some(more) = way.last().filter(|_| !is_ring(&way)).and_then(|end| loose.from(*end)) {
            way.extend(more.into_iter().skip(1));
        }
        if is_ring(&way) {
            rings.push(way);
        }
    }
    rings
}

fn is_ring(way: &[(f64, f64)]) -> bool {
    way.len() > 3 && meets(way.first(), way.last())
}

/// Ways that are joined to nothing yet, found by where they end.
struct Loose {
    ways: Vec<Option<Vec<(f64, f64)>>>,
    /// The ways by the squares of `SAME` that their ends lie in.
    by_end: HashMap<(i64, i64), Vec<usize>>,
    taken: usize,
}

impl Loose {
    fn new(ways: Vec<Vec<(f64, f64)>>) -> Self {
        let mut by_end: HashMap<(i64, i64), Vec<usize>> = HashMap::new();
        for (index, way) in ways.iter().enumerate() {
            for end in way.first().into_iter().chain(way.last()) {
                by_end.entry(square(*end)).or_default().push(index);
            }
        }
        Self { ways: ways.into_iter().map(Some).collect(), by_end, taken: 0 }
    }

    /// Takes the first way that is left.
    fn first(&mut self) -> Option<Vec<(f64, f64)>> {
        while self.taken < self.ways.len() {
            self.taken += 1;
            if let Some(way) = self.ways[self.taken - 1].take() {
                return Some(way);
            }
        }
        None
    }

    /// Takes the first way that ends at a place, from there on.
    fn from(&mut self, end: (f64, f64)) -> Option<Vec<(f64, f64)>> {
        let (x, y) = square(end);
        let near = (-1..=1).flat_map(|dx| (-1..=1).map(move |dy| (x + dx, y + dy)));
        let ends = |way: &Vec<(f64, f64)>| meets(Some(&end), way.first()) || meets(Some(&end), way.last());
        let is_there = |index: &usize| self.ways[*index].as_ref().is_some_and(ends);
        let next = near.filter_map(|at| self.by_end.get(&at)).flatten().copied().filter(is_there).min()?;
        let mut way = self.ways[next].take()?;
        if !meets(Some(&end), way.first()) {
            way.reverse();
        }
        Some(way)
    }
}

fn square((x, y): (f64, f64)) -> (i64, i64) {
    ((x / SAME).floor() as i64, (y / SAME).floor() as i64)
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn loose_lines_in_any_order_and_sense_are_joined() {
        let count = 20_000;
        let corner = |k: usize| {
            let turn = std::f64::consts::TAU * (k % count) as f64 / count as f64;
            (1e5 * turn.cos(), 1e5 * turn.sin())
        };
        // 7919 is prime to the count: every line comes once, far from its neighbours, every other one reversed.
        let line = |n: usize| {
            let k = n * 7919 % count;
            let ends = [corner(k), corner(k + 1)];
            if n.is_multiple_of(2) { ends.to_vec() } else { ends.into_iter().rev().collect() }
        };
        let rings = chained((0..count).map(line).chain([vec![(0.0, 0.0), (50.0, 0.0)]]).collect());
        assert_eq!(
            rings.iter().map(Vec::len).collect::<Vec<_>>(),
            [count + 1],
            "one ring, and a line that joins nothing"
        );
        let circle = std::f64::consts::PI * 1e10;
        assert!((area(&without_doubles(rings[0].clone())) / circle - 1.0).abs() < 1e-6);
    }
}
