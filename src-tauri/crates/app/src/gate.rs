//! The structure gate of a room: what has been looked at, and what that says of its joists.

use crate::wire::{GateAnswer, GateView, RoomFile};
use survey::structure_gate::{Answer, QUESTIONS, Question, meaning};

/// Each question with its answer for the floor as a whole.
pub(crate) fn views(file: &RoomFile) -> Vec<GateView> {
    let of_the_floor =
        |question: &str| file.gate.iter().find(|given| given.question == question && given.subject.is_empty()).cloned();
    let view =
        |question: &Question| GateView { question: question.name().to_string(), answer: of_the_floor(question.name()) };
    QUESTIONS.iter().map(view).collect()
}

/// Whether a joist was looked at and found sound: what was said of the floor, then of the joist, then on the plan.
pub(crate) fn sound(file: &RoomFile, joist: &str, on_plan: Option<bool>) -> Option<bool> {
    if on_plan == Some(false) {
        return Some(false);
    }
    let of_the_floor = file.gate.iter().filter(|given| given.subject.is_empty());
    let of_the_joist = file.gate.iter().filter(|given| given.subject == joist);
    let answers: Vec<(Question, Answer)> = of_the_floor.chain(of_the_joist).filter_map(understood).collect();
    meaning(&answers).sound.or(on_plan)
}

/// An answer as the core knows it; none for a question or answer of another version.
fn understood(given: &GateAnswer) -> Option<(Question, Answer)> {
    let question = QUESTIONS.into_iter().find(|question| question.name() == given.question)?;
    let answers = [Answer::NotLookedAt, Answer::Sound, Answer::Unsound];
    Some((question, answers.into_iter().find(|answer| answer.name() == given.answer)?))
}
