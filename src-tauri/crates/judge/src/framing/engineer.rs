//! The sheet for the engineer: the cut that an alternative wants of a joist, and what it would take.

use crate::forms::refusal::{Kind, Refusal};
use crate::forms::*;
use crate::framing::alternatives::height;
use crate::framing::reasons::forbids;
use crate::room::joist_grid;
use crate::room::rules::{Figures, LengthId};
use survey::guard::{Cut, Question, middle_third};
use survey::units::Length;

/// What is asked of an engineer about a joist.
///
/// # Errors
/// `not-found` for an unknown joist or alternative; `not-ready` where nothing is to be cut.
pub fn question(file: &RoomFile, ask: &EngineerAsk) -> Result<EngineerQuestion, Refusal> {
    let joist = file.plan.joists.iter().find(|joist| joist.id == ask.joist);
    let joist = joist.ok_or_else(|| Refusal::not_found("joist", &ask.joist).field("joist"))?;
    let view = height(file, ask.height)?;
    let alternative = view.alternatives.iter().find(|one| one.name == ask.alternative);
    let alternative = alternative.ok_or_else(|| Refusal::not_found("alternative", &ask.alternative))?;
    let cut = alternative.joists.iter().find(|work| work.id == joist.id).and_then(|work| wanted(work, &view.stations));
    let cut =
        cut.ok_or_else(|| Refusal::new(Kind::NotReady, format!("Nothing is to be cut off {} here.", joist.id)))?;
    let member = joist_grid::member(joist);
    let asked = Question::about(&member, &cut, Figures::of(&file.rules).length(LengthId::DressMost));
    let third = middle_third(&member);
    Ok(EngineerQuestion {
        joist: joist.id.clone(),
        kind: joist.kind,
        depth: joist.depth,
        span: joist.span,
        first_bearing: joist.first_bearing,
        cut: cut.depth.to_mm(),
        from: cut.from.to_mm(),
        to: cut.to.to_mm(),
        depth_left: asked.depth_left.to_mm(),
        modulus_lost: asked.modulus_lost.to_f64(),
        stiffness_lost: asked.stiffness_lost.to_f64(),
        in_middle_third: asked.in_middle_third,
        middle_third: (third.0.to_mm(), third.1.to_mm()),
        why: forbids(&asked.why),
    })
}

/// The cut that stands in the reasons of the work, else that of the old top of a sistered joist.
fn wanted(work: &JoistWork, stations: &[f64]) -> Option<Cut> {
    if let Some(cut) = work.why.iter().find_map(|why| why.cut.as_ref()) {
        return Some(Cut { depth: Length::mm(cut.depth), from: Length::mm(cut.from), to: Length::mm(cut.to) });
    }
    let above: Vec<(f64, f64)> = stations
        .iter()
        .zip(&work.lifts)
        .filter_map(|(station, lift)| Some((*station, -(*lift)?)))
        .filter(|(_, above)| *above > 0.0)
        .collect();
    let (first, last) = (above.first()?, above.last()?);
    let depth = above.iter().map(|(_, above)| *above).fold(0.0, f64::max);
    Some(Cut { depth: Length::mm(depth), from: Length::mm(first.0), to: Length::mm(last.0) })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ask(joist: &str, alternative: &str) -> Result<EngineerQuestion, Refusal> {
        let file = crate::demo("kestrel").expect("the demo room");
        let (joist, alternative) = (joist.to_string(), alternative.to_string());
        question(&file, &EngineerAsk { room: String::new(), joist, alternative, height: None })
    }

    #[test]
    fn dressing_the_crown_of_the_hall_bath_is_asked_with_what_it_takes() {
        let asked = ask("J4", "level-by-approval").expect("a question");
        let inches = |mm: f64| Length::mm(mm).to_inches();
        assert!((inches(asked.cut) - 0.125).abs() < 1e-6);
        assert!((asked.modulus_lost - 0.027).abs() < 5e-4 && (asked.stiffness_lost - 0.040).abs() < 5e-4);
        assert!(asked.in_middle_third && asked.why.iter().any(|why| why.by == Forbids::MiddleThird));
        // About 42 in long, nearly all of it between 22 and 68.
        assert!((40.0..=44.0).contains(&inches(asked.to - asked.from)), "{}", inches(asked.to - asked.from));
        assert!(
            (inches(asked.middle_third.0) - 22.0).abs() < 1e-9 && (inches(asked.middle_third.1) - 68.0).abs() < 1e-9
        );
    }

    #[test]
    fn nothing_is_asked_where_nothing_is_cut() {
        assert_eq!(ask("J1", "level-nothing-cut").expect_err("no cut").kind, Kind::NotReady);
        assert_eq!(ask("J9", "level-nothing-cut").expect_err("no joist").kind, Kind::NotFound);
    }
}
