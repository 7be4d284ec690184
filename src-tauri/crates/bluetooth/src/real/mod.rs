//! The radio of this device, through the platform's own Bluetooth.
//!
//! One runtime with one thread carries it. Every call to the platform has a time of its own to answer in: a library
//! limit of half a minute is too long for somebody who kneels on joists. On Linux the streams of the library fall
//! silent instead of ending, and dropping one may panic in its task; so one stream is kept for each adapter and each
//! instrument, the link is watched by the adapter's events, and the whole is asked every few seconds whether it is
//! still there.

mod adapter;
mod drive;
mod hall;
mod link;
mod trouble;

pub use drive::drive;
pub use hall::Pace;

use crate::Moment;
use crate::radio::{InstrumentId, Link, LinkEvent, Radio, RadioEvent, Uuid};
use crate::state::Adapter;
use adapter::RadioOrder;
use hall::{Hall, Hold};
use link::{LinkOrder, Said};
use std::sync::{Arc, Mutex};
use std::task::{Context, Poll};
use std::time::Instant;
use tokio::runtime::{Builder, Handle, Runtime};
use tokio::sync::broadcast;
use tokio::sync::mpsc::{self, Receiver, UnboundedSender};

/// What waits to be polled at most; notifications beyond it are dropped.
const MOST_WAITING: usize = 1024;

/// The radio of this device. It is asked for at once, and never switched on unasked.
pub struct RealRadio {
    orders: UnboundedSender<RadioOrder>,
    told: Receiver<RadioEvent>,
    hall: Arc<Hall>,
    /// Held by every link until its instrument is let go.
    held: Option<Hold>,
    all_let_go: std::sync::mpsc::Receiver<()>,
    /// None where the system gives no thread; then there is no service.
    runtime: Option<Runtime>,
}

impl RealRadio {
    pub fn new() -> Self {
        Self::with_pace(Pace::default())
    }

    /// A radio that is asked as often as it is told to.
    pub fn with_pace(pace: Pace) -> Self {
        let (orders, obeyed) = mpsc::unbounded_channel();
        let (tell, told) = mpsc::channel(MOST_WAITING);
        let (lost, _) = broadcast::channel(MOST_WAITING);
        let hall = Arc::new(Hall { pace, started: Instant::now(), open: Mutex::default(), lost });
        let runtime = Builder::new_multi_thread().worker_threads(1).thread_name("bluetooth").enable_all().build().ok();
        match &runtime {
            Some(runtime) => drop(runtime.spawn(adapter::run(Arc::clone(&hall), obeyed, tell))),
            // The channel has room for the one word there is to say.
            None => drop(tell.try_send(RadioEvent::Adapter(Adapter::NoService))),
        }
        let (held, all_let_go) = std::sync::mpsc::channel();
        Self { orders, told, hall, held: Some(held), all_let_go, runtime }
    }

    fn order(&self, order: RadioOrder) {
        // A radio that has ended has said so by its condition.
        let _ = self.orders.send(order);
    }
}

impl Default for RealRadio {
    fn default() -> Self {
        Self::new()
    }
}

/// Waits until every instrument whose link was given up is let go, as long as an answer may take: one that is still
/// held would not be found again.
impl Drop for RealRadio {
    fn drop(&mut self) {
        self.held = None;
        // Nothing is ever sent: it ends when the last hold is dropped, or with the time.
        let _ = self.all_let_go.recv_timeout(self.hall.pace.answer);
        if let Some(runtime) = self.runtime.take() {
            runtime.shutdown_background();
        }
    }
}

impl Radio for RealRadio {
    fn switch_on(&mut self) {
        self.order(RadioOrder::SwitchOn);
    }

    fn search(&mut self, on: bool) {
        self.order(RadioOrder::Search(on));
    }

    fn link(&mut self, id: &InstrumentId) -> Box<dyn Link> {
        let handle = self.runtime.as_ref().map(Runtime::handle);
        Box::new(RealLink::new(handle, &self.hall, self.held.clone(), id.clone()))
    }

    fn poll(&mut self, _: Moment, context: &mut Context<'_>) -> Poll<RadioEvent> {
        match self.told.poll_recv(context) {
            Poll::Ready(Some(event)) => Poll::Ready(event),
            // Nothing more will come: that was told as its condition.
            Poll::Ready(None) | Poll::Pending => Poll::Pending,
        }
    }
}

/// The way to one instrument. What belongs to an earlier attempt is known by its turn, and not told.
struct RealLink {
    orders: UnboundedSender<LinkOrder>,
    told: Receiver<Said>,
    hall: Arc<Hall>,
    turn: u64,
}

impl RealLink {
    fn new(handle: Option<&Handle>, hall: &Arc<Hall>, hold: Option<Hold>, id: InstrumentId) -> Self {
        let (orders, obeyed) = mpsc::unbounded_channel();
        let (tell, told) = mpsc::channel(MOST_WAITING);
        if let Some(handle) = handle {
            handle.spawn(link::run(Arc::clone(hall), hold, id, obeyed, tell));
        }
        Self { orders, told, hall: Arc::clone(hall), turn: 0 }
    }

    fn order(&self, order: LinkOrder) {
        // A link that has ended answers nothing, and the waiting for it runs out.
        let _ = self.orders.send(order);
    }
}

impl Link for RealLink {
    fn connect(&mut self) {
        self.turn += 1;
        self.order(LinkOrder::Connect(self.turn));
    }

    fn disconnect(&mut self) {
        self.turn += 1;
        self.order(LinkOrder::Disconnect(self.turn));
    }

    fn subscribe(&mut self, characteristic: Uuid) {
        self.order(LinkOrder::Subscribe(characteristic));
    }

    fn read(&mut self, characteristic: Uuid) {
        self.order(LinkOrder::Read(characteristic));
    }

    fn write(&mut self, characteristic: Uuid, bytes: &[u8]) {
        self.order(LinkOrder::Write(characteristic, bytes.to_vec()));
    }

    fn poll(&mut self, now: Moment, context: &mut Context<'_>) -> Poll<LinkEvent> {
        while let Poll::Ready(Some(Said { turn, at, event })) = self.told.poll_recv(context) {
            if turn == self.turn {
                let age = self.hall.started.elapsed().saturating_sub(at);
                return Poll::Ready(dated(event, now.saturating_sub(age)));
            }
        }
        Poll::Pending
    }
}

/// The event by the clock of whoever polls.
fn dated(event: LinkEvent, at: Moment) -> LinkEvent {
    match event {
        LinkEvent::Notified { characteristic, bytes, .. } => LinkEvent::Notified { characteristic, bytes, at },
        other => other,
    }
}
