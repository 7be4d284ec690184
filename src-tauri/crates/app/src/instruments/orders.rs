//! The orders that screens give to the instruments.

use super::actor::Actor;
use super::{Asked, Desk, Order};
use crate::app::App;
use crate::forms::{Changes, DevicesView};
use crate::listeners::{locked, tell};
use judge::{Kind, Refusal};
use std::sync::Arc;
use std::sync::mpsc::{self, Receiver};
use std::thread::Thread;

/// The name of the instruments in a notice that otherwise names a room.
const DEVICES: &str = "devices";

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
        answer.recv().unwrap_or_else(|_| Err(Refusal::new(Kind::Internal, STOPPED)))?;
        // What was said last is as late as the order, or later.
        Ok(self.devices())
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
        move |said| {
            let before = locked(&view).seq;
            if *locked(&view) == (DevicesView { seq: before, ..said.clone() }) {
                return;
            }
            let seq = before.saturating_add(1);
            let said = DevicesView { seq, ..said };
            *locked(&view) = said.clone();
            tell(&listeners, &Changes { room: DEVICES.to_string(), seq, devices: Some(said) });
        }
    }
}

const STOPPED: &str = "The instruments no longer answer. Close Truefall and open it again; what was kept is on disk.";

/// The thread; none where the system gives none, and then every order is refused.
fn start(actor: Actor, asked: Receiver<Asked>) -> Option<Thread> {
    let named = std::thread::Builder::new().name("instruments".to_string());
    named.spawn(move || actor.run(&asked)).ok().map(|handle| handle.thread().clone())
}
