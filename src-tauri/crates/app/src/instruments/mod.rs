//! The instruments in use. One thread owns every radio and every link for as long as the rooms are open; screens give
//! it orders and look at what it last said.

mod actor;
mod board;
mod lesson;
mod orders;
mod practice;

use crate::clock::Clock;
use crate::forms::{DevicePlace, DevicePractice, DeviceTaught, DeviceTeach, DeviceUse, DevicesView};
use judge::Refusal;
pub use lesson::Learned;
use std::sync::mpsc::{Sender, SyncSender};
use std::sync::{Arc, Mutex, OnceLock};
use std::thread::Thread;

/// What a screen wants of the instruments.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Order {
    Look(bool),
    SwitchOn,
    Use(DeviceUse),
    Measure(String),
    Place(DevicePlace),
    Practice(DevicePractice),
    Teach(DeviceTeach),
    Taught(DeviceTaught),
}

/// An order and the way back for whether it was obeyed.
type Asked = (Order, SyncSender<Result<(), Refusal>>);

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

/// The clock that all of one folder's rooms share.
pub(crate) type SharedClock = Arc<Clock>;

#[cfg(test)]
mod tests;
