//! The structure gate of a room: what has been looked at, and what that says of its joists.

use crate::wire::{GateAnswer, GateView, RoomFile};

/// What is asked before anything is measured, in order.
pub(crate) const QUESTIONS: [&str; 8] = ["bounce", "rot", "cut", "size", "kind", "span", "moisture", "photograph"];

/// Each question with its answer for the floor as a whole.
pub(crate) fn views(file: &RoomFile) -> Vec<GateView> {
    let answer =
        |question: &str| file.gate.iter().find(|given| given.question == question && given.subject.is_empty()).cloned();
    QUESTIONS.iter().map(|question| GateView { question: question.to_string(), answer: answer(question) }).collect()
}

/// Whether a joist was looked at and found sound: what was said of it, of the floor as a whole, and on the plan.
pub(crate) fn sound(file: &RoomFile, joist: &str, on_plan: Option<bool>) -> Option<bool> {
    let about = |given: &&GateAnswer| given.subject == joist || given.subject.is_empty();
    let structural = |given: &&GateAnswer| ["bounce", "rot", "cut"].contains(&given.question.as_str());
    let given: Vec<&GateAnswer> = file.gate.iter().filter(about).filter(structural).collect();
    if on_plan == Some(false) || given.iter().any(|given| given.answer == "unsound") {
        return Some(false);
    }
    let answered = |question: &str| given.iter().any(|given| given.question == question && given.answer == "sound");
    let looked_at = ["bounce", "rot", "cut"].into_iter().all(answered);
    if looked_at { Some(true) } else { on_plan }
}
