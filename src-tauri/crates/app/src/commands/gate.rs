//! The structure gate: what was seen when the framing was looked at.

use super::{Apply, Page, inverse};
use crate::fault::Fault;
use crate::forms::{GateAnswer, GateClear, GateSet};
use store::{Answer, Inverse};

impl Apply for GateSet {
    fn apply(&self, page: &Page<'_>) -> Result<Option<Inverse>, Fault> {
        let GateAnswer { question, subject, answer, note } = self.answer.clone();
        let undo = before(page, &question, &subject)?;
        page.tx.answers().put(&Answer {
            room: page.room.clone(),
            question,
            subject,
            answer,
            note,
            at: page.at.to_string(),
            by: page.person.map(str::to_string),
        })?;
        Ok(undo)
    }
}

impl Apply for GateClear {
    fn apply(&self, page: &Page<'_>) -> Result<Option<Inverse>, Fault> {
        let undo = before(page, &self.question, &self.subject)?;
        page.tx.answers().remove(page.room, &self.question, &self.subject)?;
        Ok(undo)
    }
}

/// The command that brings back the answer as it stood.
fn before(page: &Page<'_>, question: &str, subject: &str) -> Result<Option<Inverse>, Fault> {
    match page.tx.answers().get(page.room, question, subject)? {
        Some(old) => inverse(&GateSet { answer: answer(old) }),
        None => inverse(&GateClear { question: question.to_string(), subject: subject.to_string() }),
    }
}

/// An answer as it travels.
pub(crate) fn answer(row: Answer) -> GateAnswer {
    GateAnswer { question: row.question, subject: row.subject, answer: row.answer, note: row.note }
}
