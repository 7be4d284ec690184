//! A bridge driven by the thread that calls.

use crate::bridge::{Bridge, Told};
use std::sync::Arc;
use std::task::{Context, Poll, Wake, Waker};
use std::thread::Thread;
use std::time::Instant;

struct Unpark(Thread);

impl Wake for Unpark {
    fn wake(self: Arc<Self>) {
        self.0.unpark();
    }
}

/// Hands everything that the bridge tells to `hear`, and rests between, until `hear` says that it is enough or `until`
/// has come. `idle` is called before each round and may give orders or end it; whoever unparks this thread has it
/// called.
pub fn drive(
    bridge: &mut Bridge,
    started: Instant,
    until: Option<Instant>,
    mut idle: impl FnMut(&mut Bridge) -> bool,
    mut hear: impl FnMut(Told) -> bool,
) {
    let waker = Waker::from(Arc::new(Unpark(std::thread::current())));
    let mut context = Context::from_waker(&waker);
    loop {
        if !idle(bridge) {
            return;
        }
        let mut told_any = false;
        while let Poll::Ready(told) = bridge.poll(started.elapsed(), &mut context) {
            told_any = true;
            if !hear(told) {
                return;
            }
        }
        if until.is_some_and(|until| until <= Instant::now()) {
            return;
        }
        // What was heard may be answered at once; only then is there nothing to do.
        if !told_any {
            rest(bridge, started, until);
        }
    }
}

/// Rests until there may be something to do.
fn rest(bridge: &Bridge, started: Instant, until: Option<Instant>) {
    let due = bridge.due().map(|due| started + due);
    match due.into_iter().chain(until).min() {
        Some(next) => std::thread::park_timeout(next.saturating_duration_since(Instant::now())),
        None => std::thread::park(),
    }
}
