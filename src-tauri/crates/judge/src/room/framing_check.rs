//! The structure gate of a room: what has been looked at, and what that says of its joists.

use crate::forms::{GateAnswer, GateView, RoomFile};
use survey::structure_gate::{Answer, QUESTIONS, Question, STRUCTURAL, meaning};

/// Each question with its answer for the floor as a whole, and those for single joists.
pub fn views(file: &RoomFile) -> Vec<GateView> {
    let view = |question: &Question| {
        let (floor, joists): (Vec<GateAnswer>, Vec<GateAnswer>) = file
            .gate
            .iter()
            .filter(|given| given.question == question.name())
            .cloned()
            .partition(|given| given.subject.is_empty());
        let each = STRUCTURAL.contains(question);
        GateView { question: question.name().to_string(), answer: floor.into_iter().next_back(), joists, each }
    };
    QUESTIONS.iter().map(view).collect()
}

/// Whether a joist was looked at and found sound: what was said of the joist itself counts before what was said of the
/// whole floor, question by question; then what stands on the plan.
pub fn sound(file: &RoomFile, joist: &str, on_plan: Option<bool>) -> Option<bool> {
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

#[cfg(test)]
mod tests {
    use super::*;

    fn room(given: &[(&str, &str, &str)]) -> RoomFile {
        let mut file = crate::demo("kestrel").expect("a demo room");
        file.gate = given
            .iter()
            .map(|&(question, subject, answer)| GateAnswer {
                question: question.into(),
                subject: subject.into(),
                answer: answer.into(),
                note: None,
            })
            .collect();
        file
    }

    #[test]
    fn an_answer_for_one_joist_stands_before_that_for_the_floor() {
        let looked = [("bounce", "", "sound"), ("rot", "", "sound")];
        let check = |more: &[(&str, &str, &str)], joist: &str, expected: Option<bool>| {
            let given: Vec<_> = looked.iter().chain(more).copied().collect();
            assert_eq!(sound(&room(&given), joist, None), expected, "{more:?}, {joist}");
        };
        check(&[("cut", "", "sound"), ("cut", "J6", "unsound")], "J6", Some(false));
        check(&[("cut", "", "sound"), ("cut", "J6", "unsound")], "J5", Some(true));
        check(&[("cut", "", "unsound"), ("cut", "J5", "sound")], "J5", Some(true));
        check(&[("cut", "", "unsound"), ("cut", "J5", "sound")], "J6", Some(false));
        check(&[("cut", "J6", "unsound")], "J5", None);
    }

    #[test]
    fn the_answers_for_joists_stand_beside_the_one_for_the_floor() {
        let views = views(&room(&[("cut", "J6", "unsound"), ("cut", "", "sound")]));
        let cut = views.iter().find(|view| view.question == "cut").expect("the question");
        assert_eq!(cut.answer.as_ref().map(|given| given.answer.as_str()), Some("sound"));
        assert_eq!(cut.joists.iter().map(|given| given.subject.as_str()).collect::<Vec<_>>(), ["J6"]);
        assert!(cut.each && views.iter().any(|view| !view.each));
    }
}
