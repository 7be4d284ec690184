//! Answers held back a while, as a busy machine holds them: for the tests of the screens. A released program has none
//! of it, and one that is developed only where whoever starts it asks for it.

use axum::Router;
use axum::extract::{Request, State};
use axum::middleware::{self, Next};
use axum::response::Response;
use std::hash::{DefaultHasher, Hash, Hasher};
use std::sync::Arc;
use std::sync::atomic::{AtomicU64, Ordering};
use std::time::Duration;
use tokio::time::sleep;

/// The variable that asks for it: its text is the seed of the waits.
const ASKS: &str = "TRUEFALL_SLOW";
/// The header of a request that is answered at once all the same: one by which a test sets the room out.
const AT_ONCE: &str = "truefall-at-once";
/// The longest that one answer is held back, in milliseconds.
const MOST: u64 = 400;

/// The same routes, each answer held back where that is asked for.
pub(super) fn held_back<S: Clone + Send + Sync + 'static>(routes: Router<S>) -> Router<S> {
    let seed = std::env::var(ASKS).ok().filter(|seed| cfg!(debug_assertions) && !seed.is_empty());
    match seed {
        Some(seed) => routes.layer(middleware::from_fn_with_state(Arc::new(Waits::of(&seed)), answer)),
        None => routes,
    }
}

/// Part of the wait lies before what is asked is done, the rest after it: either may be overtaken by another request.
async fn answer(State(waits): State<Arc<Waits>>, request: Request, next: Next) -> Response {
    if request.headers().contains_key(AT_ONCE) {
        return next.run(request).await;
    }
    let (before, after) = waits.draw();
    sleep(before).await;
    let answer = next.run(request).await;
    sleep(after).await;
    answer
}

/// The waits of one seed, in their order.
struct Waits {
    seed: String,
    drawn: AtomicU64,
}

impl Waits {
    fn of(seed: &str) -> Self {
        Self { seed: seed.to_string(), drawn: AtomicU64::new(0) }
    }

    /// How long the next request waits, and how long its answer then does.
    fn draw(&self) -> (Duration, Duration) {
        let mut hasher = DefaultHasher::new();
        (&self.seed, self.drawn.fetch_add(1, Ordering::Relaxed)).hash(&mut hasher);
        let drawn = hasher.finish();
        let all = drawn % (MOST + 1);
        let before = (drawn >> 32) % (all + 1);
        (Duration::from_millis(before), Duration::from_millis(all - before))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn drawn(seed: &str) -> Vec<(Duration, Duration)> {
        let waits = Waits::of(seed);
        (0..200).map(|_| waits.draw()).collect()
    }

    #[test]
    fn a_seed_draws_the_same_waits_again_and_another_seed_others() {
        assert_eq!(drawn("7"), drawn("7"));
        assert_ne!(drawn("7"), drawn("8"));
    }

    #[test]
    fn waits_are_short_and_long_and_lie_on_both_sides() {
        let most = Duration::from_millis(MOST);
        let drawn = drawn("7");
        assert!(drawn.iter().all(|(before, after)| *before + *after <= most));
        assert!(drawn.iter().any(|(before, after)| *before + *after > most * 9 / 10));
        assert!(drawn.iter().any(|(before, after)| *before + *after < most / 10));
        assert!(drawn.iter().any(|(before, after)| *before > *after * 4));
        assert!(drawn.iter().any(|(before, after)| *after > *before * 4));
    }
}
