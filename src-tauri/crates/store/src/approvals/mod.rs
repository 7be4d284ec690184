//! Approvals: what an engineer allowed to be cut, how deep and from where to where.

use rusqlite::params;
use survey::units::Length;

use crate::access::{ReadWrite, Rows};
use crate::columns::Columns;
use crate::error::StoreError;
use crate::id::{ApprovalId, RoomId};

/// A cut that was allowed, and by whom.
#[derive(Debug, Clone, PartialEq)]
pub struct Approval {
    pub room: RoomId,
    pub id: ApprovalId,
    pub joist: String,
    /// The greatest depth of the cut.
    pub depth: Length,
    pub from: Length,
    pub to: Length,
    pub by: String,
    pub date: String,
    pub reference: String,
    pub withdrawn: bool,
}

impl<Access> Rows<'_, Approval, Access> {
    pub fn get(&self, room: &RoomId, id: &ApprovalId) -> Result<Option<Approval>, StoreError> {
        self.first(include_str!("get.sql"), params![room, id], take)
    }

    /// The approvals of a room in the order they were kept, withdrawn ones too.
    pub fn of_room(&self, room: &RoomId) -> Result<Vec<Approval>, StoreError> {
        self.list(include_str!("of_room.sql"), [room], take)
    }
}

impl Rows<'_, Approval, ReadWrite> {
    pub fn insert(&self, approval: &Approval) -> Result<(), StoreError> {
        self.change(
            include_str!("insert.sql"),
            params![
                approval.room,
                approval.id,
                approval.joist,
                approval.depth.to_mm(),
                approval.from.to_mm(),
                approval.to.to_mm(),
                approval.by,
                approval.date,
                approval.reference,
                approval.withdrawn,
            ],
        )?;
        Ok(())
    }

    /// Marks an approval as withdrawn, or as standing again.
    ///
    /// # Errors
    /// [`StoreError::Refused`] where there is no such approval.
    pub fn set_withdrawn(&self, room: &RoomId, id: &ApprovalId, withdrawn: bool) -> Result<(), StoreError> {
        self.change_one(include_str!("set_withdrawn.sql"), params![room, id, withdrawn], "approval")
    }
}

fn take(columns: &mut Columns<'_>) -> rusqlite::Result<Approval> {
    Ok(Approval {
        room: columns.take()?,
        id: columns.take()?,
        joist: columns.take()?,
        depth: columns.length()?,
        from: columns.length()?,
        to: columns.length()?,
        by: columns.take()?,
        date: columns.take()?,
        reference: columns.take()?,
        withdrawn: columns.take()?,
    })
}
