//! What the adapter and the links of one radio share.

use crate::radio::InstrumentId;
use std::sync::{Mutex, PoisonError};
use std::time::{Duration, Instant};
use tokio::sync::broadcast;

/// How often the platform is asked whether it is still there, and how long it may take to answer.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Pace {
    pub beat: Duration,
    pub answer: Duration,
}

impl Default for Pace {
    fn default() -> Self {
        Self { beat: Duration::from_secs(2), answer: Duration::from_secs(5) }
    }
}

/// Kept as long as there is something to let go.
pub(super) type Hold = std::sync::mpsc::Sender<()>;

/// What the adapter and the links share.
pub(super) struct Hall {
    pub(super) pace: Pace,
    pub(super) started: Instant,
    /// The adapter as it is now, with a number that changes when it is opened anew.
    pub(super) open: Mutex<Option<(u64, btleplug::platform::Adapter)>>,
    /// The instruments whose link broke.
    pub(super) lost: broadcast::Sender<InstrumentId>,
}

impl Hall {
    pub(super) fn adapter(&self) -> Option<(u64, btleplug::platform::Adapter)> {
        self.open.lock().unwrap_or_else(PoisonError::into_inner).clone()
    }

    /// Another adapter, or none.
    pub(super) fn set(&self, adapter: Option<btleplug::platform::Adapter>) {
        let mut open = self.open.lock().unwrap_or_else(PoisonError::into_inner);
        let next = open.as_ref().map_or(0, |(number, _)| number + 1);
        *open = adapter.map(|adapter| (next, adapter));
    }
}
