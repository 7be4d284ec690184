//! The instruments in use. One thread owns every radio and every link for as long as the rooms are open; screens give
//! it orders and look at what it last said.

mod actor;
mod board;
mod lesson;
mod practice;

use crate::app::{App, Listener};
use crate::clock::Clock;
use crate::forms::{Changes, DevicePlace, DevicePractice, DeviceTaught, DeviceTeach, DeviceUse, DevicesView};
use actor::Actor;
use judge::forms::json;
use judge::{Kind, Refusal};
pub use lesson::Learned;
use std::sync::mpsc::{self, Receiver, Sender, SyncSender};
use std::sync::{Arc, Mutex, MutexGuard, OnceLock, PoisonError};
use std::thread::Thread;

/// The name that stands for the instruments where a room would be named.
const DEVICES: &str = "devices";

/// What a screen wants of the instruments.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Order {
    Look(bool),
    SwitchOn,
    Use(DeviceUse),
    Measure(String),
    Place(DevicePlace),
    Taken(String),
    Practice(DevicePractice),
    Teach(DeviceTeach),
    Taught(DeviceTaught),
}

/// An order and the way back for its answer.
type Asked = (Order, SyncSender<Result<DevicesView, Refusal>>);

/// The way to the one thread. It is started when it is first needed and ends with this.
#[derive(Default)]
pub(crate) struct Instruments {
    desk: OnceLock<Desk>,
    view: Arc<Mutex<DevicesView>>,
}

struct Desk {
    orders: Option<Sender<Asked>>,
    thread: Option<Thread>,
}

impl Drop for Desk {
    fn drop(&mut self) {
        self.orders = None;
        if let Some(thread) = &self.thread {
            thread.unpark();
        }
    }
}

impl App {
    /// All instruments as they stand, and the readings that wait.
    pub fn devices(&self) -> DevicesView {
        self.desk();
        locked(&self.instruments.view).clone()
    }

    /// Gives an order and answers how things stand after it.
    ///
    /// # Errors
    /// `not-found` for an unknown instrument, `not-ready` where it cannot be done now.
    pub(crate) fn order(&self, order: Order) -> Result<DevicesView, Refusal> {
        let (back, answer) = mpsc::sync_channel(1);
        let desk = self.desk();
        let sent = desk.orders.as_ref().is_some_and(|orders| orders.send((order, back)).is_ok());
        if let Some(thread) = desk.thread.as_ref().filter(|_| sent) {
            thread.unpark();
        }
        answer.recv().unwrap_or_else(|_| Err(Refusal::new(Kind::Internal, STOPPED)))
    }

    fn desk(&self) -> &Desk {
        self.instruments.desk.get_or_init(|| {
            let (orders, asked) = mpsc::channel();
            let actor = Actor::new(Arc::clone(&self.clock), self.folder.clone(), self.publisher());
            let thread = start(actor, asked);
            Desk { orders: Some(orders), thread }
        })
    }

    /// Keeps what the thread says, and tells the screens if it differs from before.
    fn publisher(&self) -> impl FnMut(DevicesView) + Send + 'static {
        let (view, listeners) = (Arc::clone(&self.instruments.view), Arc::clone(&self.listeners));
        let mut seq = 0;
        move |said| {
            if *locked(&view) == said {
                return;
            }
            *locked(&view) = said;
            seq += 1;
            tell(&listeners, &Changes { room: DEVICES.to_string(), seq });
        }
    }
}

const STOPPED: &str = "The instruments no longer answer. Close Truefall and open it again; what was kept is on disk.";

/// The thread; none where the system gives none, and then every order is refused.
fn start(actor: Actor, asked: Receiver<Asked>) -> Option<Thread> {
    let named = std::thread::Builder::new().name("instruments".to_string());
    named.spawn(move || actor.run(&asked)).ok().map(|handle| handle.thread().clone())
}

/// Tells every listener of a change.
pub(crate) fn tell(listeners: &Mutex<Vec<Listener>>, changes: &Changes) {
    if let Ok(text) = json::write(changes) {
        locked(listeners).iter().for_each(|listener| listener(&text));
    }
}

pub(crate) fn locked<T>(mutex: &Mutex<T>) -> MutexGuard<'_, T> {
    mutex.lock().unwrap_or_else(PoisonError::into_inner)
}

/// The clock that all of one folder's rooms share.
pub(crate) type SharedClock = Arc<Clock>;

#[cfg(test)]
mod tests;
