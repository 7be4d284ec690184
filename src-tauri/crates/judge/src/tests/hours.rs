//! Hours between times and after them.

use crate::forms::time::is_time;
use survey::units::Duration;

/// From one time to another; none where either is no time.
pub(super) fn between(from: &str, to: &str) -> Option<Duration> {
    if !is_time(from) || !is_time(to) {
        return None;
    }
    let (from, to): (jiff::Timestamp, jiff::Timestamp) = (from.parse().ok()?, to.parse().ok()?);
    Duration::try_seconds(to.duration_since(from).as_secs_f64()).ok()
}

/// So many hours after a time, in the time's own offset.
pub(super) fn after(time: &str, hours: f64) -> Option<String> {
    let offset = time.get(19..)?.trim_start_matches(|c: char| c == '.' || c.is_ascii_digit());
    let zoned = jiff::fmt::strtime::parse(
        "%Y-%m-%dT%H:%M:%S%:z",
        format!("{}{}", time.get(..19)?, if offset == "Z" { "+00:00" } else { offset }),
    )
    .ok()?;
    let at = zoned.to_timestamp().ok()?;
    let span = jiff::SignedDuration::try_from_secs_f64(hours * 3600.0).ok()?;
    let then = at.checked_add(span).ok()?.to_zoned_datetime(zoned.offset()?.to_time_zone());
    Some(then.strftime("%Y-%m-%dT%H:%M:%S%:z").to_string())
}
