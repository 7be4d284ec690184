//! How far joists of a size commonly span: an indication and a question, never a design.

use crate::forms::*;
use survey::guard::Section;
use survey::span::{Floor, Wood, longest_span};
use survey::units::{Length, Ratio, Stress};

/// The ratios that the trade names: for ceramic tile, and for stone.
const RATIOS: [f64; 2] = [360.0, 720.0];

/// The weakest of the woods that are commonly sold, since nobody knows which it is: hem-fir, second grade.
///
/// # Source
/// NDS supplement, recalled, not read.
fn weakest() -> Wood {
    Wood { elasticity: Stress::psi(1.3e6), bending: Stress::psi(850.0) }
}

/// How the clear spans of a room compare with common ones.
pub fn stiffness(file: &RoomFile) -> StiffnessView {
    let sawn: Vec<&Joist> = file.plan.joists.iter().filter(|joist| joist.kind == JoistKind::Sawn).collect();
    let others = file.plan.joists.iter().filter(|joist| joist.kind != JoistKind::Sawn);
    let mut rows: Vec<SpanRow> = Vec::new();
    for joist in &sawn {
        let same = |row: &&mut SpanRow| row.depth == joist.depth && row.span == joist.span;
        match rows.iter_mut().find(same) {
            Some(row) => row.joists.push(joist.id.clone()),
            None => rows.extend(spacing(&sawn, joist).map(|spacing| row(joist, spacing))),
        }
    }
    StiffnessView { rows, not_sawn: others.map(|joist| joist.id.clone()).collect() }
}

/// The wider of the spaces to the joists beside it.
fn spacing(all: &[&Joist], joist: &Joist) -> Option<f64> {
    let beside = |sign: f64| {
        let away = all.iter().map(|other| sign * (other.at - joist.at)).filter(|away| *away > 1.0);
        away.min_by(f64::total_cmp)
    };
    [beside(1.0), beside(-1.0)].into_iter().flatten().max_by(f64::total_cmp)
}

fn row(joist: &Joist, spacing: f64) -> SpanRow {
    // Dressed two-by stock, an inch and a half.
    let section = Section { breadth: Length::inches(1.5), depth: Length::mm(joist.depth) };
    let longest = |ratio: f64| {
        let floor = Floor { deflection: Ratio::of(ratio), ..Floor::of_a_dwelling() };
        longest_span(&section, weakest(), Length::mm(spacing), floor).to_mm()
    };
    let reach = |ratio: f64| SpanReach { ratio, longest: longest(ratio), reaches: joist.span <= longest(ratio) + 1e-6 };
    SpanRow {
        joists: vec![joist.id.clone()],
        depth: joist.depth,
        span: joist.span,
        spacing,
        reaches: RATIOS.into_iter().map(reach).collect(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_hall_bath_spans_less_than_is_common_for_tile_and_about_what_stone_asks() {
        let view = stiffness(&crate::demo("kestrel").expect("the demo room"));
        assert_eq!((view.rows.len(), view.not_sawn.len()), (1, 0));
        let row = &view.rows[0];
        assert_eq!(row.joists.len(), 7);
        // 2012 IRC, hem-fir second grade, 2x10 at 16 in: 15 ft 2 in; the room spans 11 ft 6 in.
        assert_eq!((row.reaches[0].longest / 25.4).round(), 15.0 * 12.0 + 2.0);
        assert!(row.reaches[0].reaches && row.reaches[1].longest < row.reaches[0].longest);
    }

    #[test]
    fn engineered_joists_are_for_their_makers_tables() {
        let mut file = crate::demo("kestrel").expect("the demo room");
        file.plan.joists.iter_mut().for_each(|joist| joist.kind = JoistKind::Engineered);
        let view = stiffness(&file);
        assert_eq!((view.rows.len(), view.not_sawn.len()), (0, 7));
        file.plan.joists.truncate(1);
        file.plan.joists[0].kind = JoistKind::Sawn;
        assert!(stiffness(&file).rows.is_empty(), "one joist alone has no spacing");
    }
}
