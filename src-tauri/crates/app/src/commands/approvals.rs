//! Approvals of cuts: by whom, when, how deep, from where to where.

use super::{Apply, Page, inverse};
use crate::fault::Fault;
use crate::forms::{Approval, ApprovalAdd, ApprovalWithdraw};
use judge::Refusal;
use judge::forms::fields::{length, positive};
use store::{ApprovalId, Inverse};
use survey::units::Length;

/// Whether an approval says what it must, whatever the room is.
///
/// # Errors
/// A refusal that names the field.
pub(super) fn check_approval(approval: &Approval) -> Result<(), Refusal> {
    let Approval { depth, from, to, by, date, reference, .. } = approval;
    positive("approval.depth", *depth)?;
    if length("approval.to", *to)? <= length("approval.from", *from)? {
        return Err(Refusal::out_of_range("approval.to", "beyond where the cut begins"));
    }
    let empty =
        [("by", by), ("date", date), ("reference", reference)].into_iter().find(|(_, text)| text.trim().is_empty());
    match empty {
        Some((field, _)) => Err(Refusal::out_of_range(
            format!("approval.{field}"),
            "filled in: an approval counts only with who gave it, when, and its reference",
        )),
        None => Ok(()),
    }
}

impl Apply for ApprovalAdd {
    fn check(&self, _page: &Page<'_>) -> Result<(), Fault> {
        Ok(check_approval(&self.approval)?)
    }

    fn apply(&self, page: &Page<'_>) -> Result<Option<Inverse>, Fault> {
        let Approval { id, joist, depth, from, to, by, date, reference, withdrawn } = self.approval.clone();
        page.tx.approvals().insert(&store::Approval {
            room: page.room.clone(),
            id: ApprovalId::from(id.as_str()),
            joist,
            depth: Length::mm(depth),
            from: Length::mm(from),
            to: Length::mm(to),
            by,
            date,
            reference,
            withdrawn,
        })?;
        inverse(&ApprovalWithdraw { approval: id, withdrawn: true })
    }
}

impl Apply for ApprovalWithdraw {
    fn apply(&self, page: &Page<'_>) -> Result<Option<Inverse>, Fault> {
        let id = ApprovalId::from(self.approval.as_str());
        let old = page.tx.approvals().get(page.room, &id)?;
        let old = old.ok_or_else(|| Refusal::not_found("approval", &self.approval).field("approval"))?;
        page.tx.approvals().set_withdrawn(page.room, &id, self.withdrawn)?;
        inverse(&ApprovalWithdraw { approval: self.approval.clone(), withdrawn: old.withdrawn })
    }
}

/// An approval as it travels.
pub(crate) fn approval(row: store::Approval) -> Approval {
    Approval {
        id: row.id.to_string(),
        joist: row.joist,
        depth: row.depth.to_mm(),
        from: row.from.to_mm(),
        to: row.to.to_mm(),
        by: row.by,
        date: row.date,
        reference: row.reference,
        withdrawn: row.withdrawn,
    }
}
