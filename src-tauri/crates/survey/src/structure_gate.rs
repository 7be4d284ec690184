//! The structure gate: what is asked about the framing before its shape is measured, and what the answers mean.
//!
//! Whoever kneels there looks; the tool measures shape, never strength. "Not looked at" is an answer, and it prints.

use std::fmt;

/// What is asked, in the order it is looked at.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Question {
    /// Does it bounce underfoot?
    Bounce,
    /// Is it rotten, eaten or soft?
    Rot,
    /// Is it cut, notched, bored or split?
    Cut,
    /// Is its size known, measured and not nominal?
    Size,
    /// Is it known whether it is sawn or engineered?
    Kind,
    /// Is its clear span known, bearing to bearing?
    Span,
    /// Is it dry?
    Moisture,
    /// Was it photographed open?
    Photograph,
}

/// How a question was answered.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum Answer {
    #[default]
    NotLookedAt,
    /// As it should be.
    Sound,
    /// Not as it should be.
    Unsound,
}

/// What the answers mean for one joist, or for the floor.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Meaning {
    /// False if it bounces, is rotten, cut or split; true if all three were looked at and none is; else `None`.
    pub sound: Option<bool>,
    /// Whether size, kind and clear span are known, without which no cut can be judged.
    pub may_be_judged_for_cuts: bool,
    /// What prints on every sheet, in the order of the questions.
    pub lines: Vec<Line>,
}

/// One line of the sheet: a question that was not answered well.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Line {
    pub question: Question,
    /// Never [`Answer::Sound`].
    pub answer: Answer,
}

/// Every question, in order.
pub const QUESTIONS: [Question; 8] = [
    Question::Bounce,
    Question::Rot,
    Question::Cut,
    Question::Size,
    Question::Kind,
    Question::Span,
    Question::Moisture,
    Question::Photograph,
];

/// Those that decide whether a joist is sound; each may be answered for one joist alone.
pub const STRUCTURAL: [Question; 3] = [Question::Bounce, Question::Rot, Question::Cut];

impl Question {
    /// The name used on every wire: `bounce`.
    pub fn name(self) -> &'static str {
        match self {
            Self::Bounce => "bounce",
            Self::Rot => "rot",
            Self::Cut => "cut",
            Self::Size => "size",
            Self::Kind => "kind",
            Self::Span => "span",
            Self::Moisture => "moisture",
            Self::Photograph => "photograph",
        }
    }
}

impl Answer {
    /// The name used on every wire: `not-looked-at`.
    pub fn name(self) -> &'static str {
        match self {
            Self::NotLookedAt => "not-looked-at",
            Self::Sound => "sound",
            Self::Unsound => "unsound",
        }
    }
}

/// What the answers given mean; of several answers to one question the last holds, and no answer is "not looked at".
///
/// # Source
/// Common practice: structure, then stiffness, then moisture, then shape.
///
/// ```
/// use survey::structure_gate::{Answer, Question, meaning};
///
/// let looked_at = [(Question::Bounce, Answer::Sound), (Question::Rot, Answer::Sound), (Question::Cut, Answer::Sound)];
/// assert_eq!(meaning(&looked_at).sound, Some(true));
/// assert_eq!(meaning(&looked_at[..2]).sound, None);
/// assert_eq!(meaning(&[(Question::Cut, Answer::Unsound)]).sound, Some(false));
/// ```
pub fn meaning(answers: &[(Question, Answer)]) -> Meaning {
    let answer = |question: Question| {
        let given = answers.iter().rev().find(|(asked, _)| *asked == question);
        given.map(|(_, answer)| *answer).unwrap_or_default()
    };
    let structural = STRUCTURAL.map(answer);
    let sound = if structural.contains(&Answer::Unsound) {
        Some(false)
    } else {
        structural.iter().all(|answer| *answer == Answer::Sound).then_some(true)
    };
    let known = [Question::Size, Question::Kind, Question::Span].map(answer);
    let lines = QUESTIONS.map(|question| Line { question, answer: answer(question) });
    Meaning {
        sound,
        may_be_judged_for_cuts: known.iter().all(|answer| *answer == Answer::Sound),
        lines: lines.into_iter().filter(|line| line.answer != Answer::Sound).collect(),
    }
}

impl fmt::Display for Line {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        use Question::*;
        let unsound = self.answer == Answer::Unsound;
        f.write_str(match self.question {
            Bounce if unsound => "It bounces: stiffen it before anything is levelled; ask the engineer.",
            Bounce => "Bounce was not looked at.",
            Rot if unsound => "It is rotten or soft: replace or sister it, and find the water first.",
            Rot => "Rot was not looked at.",
            Cut if unsound => "It is cut, notched or split: sister it or ask the engineer before its height matters.",
            Cut => "Cuts, notches and splits were not looked at.",
            Size => "Its size is not known: no cut can be judged, and none is listed.",
            Kind => "Whether it is sawn or engineered is not known: nothing is cut.",
            Span => "Its clear span is not known: the middle third cannot be placed, and nothing is cut.",
            Moisture if unsound => "It is wet: it will shrink and move; let it dry, then read it again.",
            Moisture => "Moisture was not looked at: wet lumber shrinks and moves after it is read.",
            Photograph => "It was not photographed open.",
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const ANSWERS: [Answer; 3] = [Answer::NotLookedAt, Answer::Sound, Answer::Unsound];

    fn all(answer: Answer) -> Vec<(Question, Answer)> {
        QUESTIONS.iter().map(|question| (*question, answer)).collect()
    }

    #[test]
    fn nothing_answered_prints_every_question() {
        let meaning = meaning(&[]);
        assert_eq!((meaning.sound, meaning.may_be_judged_for_cuts, meaning.lines.len()), (None, false, 8));
        assert_eq!(meaning.lines[1].to_string(), "Rot was not looked at.");
    }

    #[test]
    fn all_well_prints_nothing() {
        let meaning = meaning(&all(Answer::Sound));
        assert_eq!((meaning.sound, meaning.may_be_judged_for_cuts, meaning.lines.len()), (Some(true), true, 0));
    }

    #[test]
    fn the_last_answer_holds() {
        let answers = [(Question::Rot, Answer::Sound), (Question::Rot, Answer::Unsound)];
        assert_eq!(meaning(&answers).sound, Some(false));
        let taken_back = [(Question::Rot, Answer::Unsound), (Question::Rot, Answer::NotLookedAt)];
        assert_eq!(meaning(&taken_back).sound, None);
    }

    proptest! {
        #[test]
        fn what_was_not_looked_at_is_never_sound(given in proptest::collection::vec((0..8usize, 0..3usize), 0..12)) {
            let answers: Vec<_> = given.iter().map(|&(q, a)| (QUESTIONS[q], ANSWERS[a])).collect();
            let meaning = meaning(&answers);
            let open = |question| meaning.lines.iter().any(|line| line.question == question);
            if meaning.sound == Some(true) {
                prop_assert!(STRUCTURAL.iter().all(|question| !open(*question)));
            }
            prop_assert!(meaning.lines.iter().all(|line| !line.to_string().is_empty()));
        }
    }
}
