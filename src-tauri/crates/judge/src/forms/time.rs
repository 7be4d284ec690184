//! Times as the journal keeps them: RFC 3339 with an offset.

use crate::forms::refusal::Refusal;

/// Whether a field is a time as the journal keeps it.
///
/// # Errors
/// `out-of-range`, naming the field.
pub fn check_time(field: &str, text: &str) -> Result<(), Refusal> {
    if is_time(text) {
        return Ok(());
    }
    Err(Refusal::out_of_range(field, "a time with its offset, like 2031-04-02T07:31:05-05:00"))
}

/// Whether a text is a time as the journal keeps it.
pub fn is_time(text: &str) -> bool {
    text.parse::<jiff::Timestamp>().is_ok()
}
