//! How many requests one device may make: so many a second, and a few saved up.

use crate::Limits;
use std::collections::HashMap;
use std::time::Instant;

/// As many names are kept; with more, all begin anew, so that nobody fills the memory with names.
const MOST: usize = 4096;

/// What each name has left.
#[derive(Default)]
pub(super) struct Rate {
    left: HashMap<String, (f64, Instant)>,
}

impl Rate {
    /// Whether one more request of this name is in order.
    pub(super) fn allows(&mut self, name: &str, limits: &Limits) -> bool {
        if self.left.len() >= MOST {
            self.left.clear();
        }
        let now = Instant::now();
        let (left, last) = self.left.entry(name.to_string()).or_insert((limits.saved_up, now));
        let gained = now.duration_since(*last).as_secs_f64() * limits.per_second;
        *left = (*left + gained).min(limits.saved_up);
        *last = now;
        let allowed = *left >= 1.0;
        if allowed {
            *left -= 1.0;
        }
        allowed
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_name_runs_out_and_another_does_not() {
        let limits = Limits { per_second: 0.0, saved_up: 3.0, ..Limits::default() };
        let mut rate = Rate::default();
        let allowed: Vec<bool> = (0..5).map(|_| rate.allows("Ana", &limits)).collect();
        assert_eq!(allowed, [true, true, true, false, false]);
        assert!(rate.allows("Ben", &limits));
    }

    #[test]
    fn a_crowd_of_names_takes_no_more_room_than_so_many() {
        let mut rate = Rate::default();
        (0..3 * MOST).for_each(|n| assert!(rate.allows(&n.to_string(), &Limits::default())));
        assert!(rate.left.len() <= MOST);
    }
}
