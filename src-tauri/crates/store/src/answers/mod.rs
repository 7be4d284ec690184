//! Answers to what the tool asks about the framing and the work; "not looked at" is the absence of a row.

use rusqlite::params;

use crate::access::{ReadWrite, Rows};
use crate::columns::Columns;
use crate::error::StoreError;
use crate::id::RoomId;

/// The answer to one question about one subject.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Answer {
    pub room: RoomId,
    pub question: String,
    /// The joist asked about; empty for the room.
    pub subject: String,
    pub answer: String,
    pub note: Option<String>,
    pub at: String,
    pub by: Option<String>,
}

impl<Access> Rows<'_, Answer, Access> {
    pub fn get(&self, room: &RoomId, question: &str, subject: &str) -> Result<Option<Answer>, StoreError> {
        self.first(include_str!("get.sql"), params![room, question, subject], take)
    }

    /// The answers of a room, by question and subject.
    pub fn of_room(&self, room: &RoomId) -> Result<Vec<Answer>, StoreError> {
        self.list(include_str!("of_room.sql"), [room], take)
    }
}

impl Rows<'_, Answer, ReadWrite> {
    /// Puts an answer in the place of the one given before.
    pub fn put(&self, answer: &Answer) -> Result<(), StoreError> {
        let Answer { room, question, subject, answer, note, at, by } = answer;
        self.change(include_str!("put.sql"), params![room, question, subject, answer, note, at, by])?;
        Ok(())
    }

    /// Takes an answer back where there is one.
    pub fn remove(&self, room: &RoomId, question: &str, subject: &str) -> Result<(), StoreError> {
        self.change(include_str!("remove.sql"), params![room, question, subject])?;
        Ok(())
    }
}

fn take(columns: &mut Columns<'_>) -> rusqlite::Result<Answer> {
    Ok(Answer {
        room: columns.take()?,
        question: columns.take()?,
        subject: columns.take()?,
        answer: columns.take()?,
        note: columns.take()?,
        at: columns.take()?,
        by: columns.take()?,
    })
}
