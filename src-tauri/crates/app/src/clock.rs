//! Time and new names, and how both are fixed for a repeatable run.

use jiff::ZonedDateTime;
use std::sync::atomic::{AtomicU64, Ordering};
use uuid::Uuid;

/// Where time and new ids come from.
#[derive(Debug, Default)]
pub struct Clock {
    /// A fixed time, RFC 3339.
    now: Option<String>,
    /// Ids are derived from this, the length of the journal and a counter: repeatable, never equal.
    seed: Option<String>,
    count: AtomicU64,
}

impl Clock {
    /// The clock of the machine, unless `TRUEFALL_NOW` and `TRUEFALL_SEED` say otherwise.
    pub fn from_environment() -> Self {
        let read = |name| std::env::var(name).ok().filter(|text: &String| !text.is_empty());
        Self { now: read("TRUEFALL_NOW"), seed: read("TRUEFALL_SEED"), count: AtomicU64::new(0) }
    }

    /// A clock that stands still and names things from a seed.
    pub fn fixed(now: &str, seed: &str) -> Self {
        Self { now: Some(now.to_string()), seed: Some(seed.to_string()), count: AtomicU64::new(0) }
    }

    /// The time, RFC 3339 with its offset, to the second.
    pub fn now(&self) -> String {
        self.now.clone().unwrap_or_else(|| ZonedDateTime::now().strftime("%Y-%m-%dT%H:%M:%S%:z").to_string())
    }

    /// A new id: a UUIDv7, or one derived from the seed.
    pub fn id(&self, journal_length: u64) -> String {
        let count = self.count.fetch_add(1, Ordering::Relaxed);
        match &self.seed {
            Some(seed) => {
                Uuid::new_v5(&Uuid::NAMESPACE_OID, format!("{seed}/{journal_length}/{count}").as_bytes()).to_string()
            }
            None => Uuid::now_v7().to_string(),
        }
    }
}
