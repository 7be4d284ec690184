//! Who hears of a change.

use crate::forms::Changes;
use judge::forms::json;
use std::sync::{Mutex, MutexGuard, PoisonError};

/// Hears of each change, as the JSON of [`Changes`].
pub type Listener = Box<dyn Fn(&str) + Send + Sync>;

/// Tells every listener of a change.
pub(crate) fn tell(listeners: &Mutex<Vec<Listener>>, changes: &Changes) {
    if let Ok(text) = json::write(changes) {
        locked(listeners).iter().for_each(|listener| listener(&text));
    }
}

pub(crate) fn locked<T>(mutex: &Mutex<T>) -> MutexGuard<'_, T> {
    mutex.lock().unwrap_or_else(PoisonError::into_inner)
}
