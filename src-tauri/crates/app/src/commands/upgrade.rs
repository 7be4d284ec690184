//! Payloads of older forms, lifted to the present one when they are read.

use judge::{Kind, Refusal};
use std::borrow::Cow;

/// The form that payloads are written in.
pub(crate) const FORM: u32 = 1;

/// The payload in the present form.
///
/// # Errors
/// `newer-version` for a form this program does not know.
pub(crate) fn to_present<'p>(command: &str, form: u32, payload: &'p str) -> Result<Cow<'p, str>, Refusal> {
    if form == FORM {
        return Ok(Cow::Borrowed(payload));
    }
    let message = format!("The change {command:?} was written by a newer Truefall (form {form}). Update Truefall.");
    Err(Refusal::new(Kind::NewerVersion, message).field("form"))
}
