//! One instrument: connected, resolved, subscribed to, and watched.

use super::hall::{Hall, Hold};
use super::trouble::trouble;
use crate::Moment;
use crate::decode::PRESENTATION_FORMAT;
use crate::radio::{Characteristic, InstrumentId, LinkEvent, Uuid};
use crate::state::Trouble;
use btleplug::api::{Central, CharPropFlags, Characteristic as Offered, Peripheral as _, ValueNotification, WriteType};
use btleplug::platform::Peripheral;
use futures::future::BoxFuture;
use futures::stream::{BoxStream, FuturesUnordered};
use futures::{FutureExt, StreamExt};
use std::collections::BTreeSet;
use std::sync::Arc;
use tokio::sync::mpsc::{Sender, UnboundedReceiver};
use tokio::time::timeout;

/// What is wanted of the link; connecting and disconnecting begin a new turn.
pub(super) enum LinkOrder {
    Connect(u64),
    Disconnect(u64),
    Subscribe(Uuid),
    Read(Uuid),
    Write(Uuid, Vec<u8>),
}

/// An event, the turn it belongs to, and when it came.
pub(super) struct Said {
    pub(super) turn: u64,
    pub(super) at: Moment,
    pub(super) event: LinkEvent,
}

type Deeds = FuturesUnordered<BoxFuture<'static, Done>>;

/// What a call to the platform came to.
enum Done {
    /// The adapter knows it; under which opening of the adapter.
    Known(u64, Peripheral),
    Connected(Peripheral),
    Resolved(Vec<Characteristic>, Option<BoxStream<'static, ValueNotification>>),
    Subscribed(Uuid),
    Read(Uuid, Vec<u8>),
    Nothing,
    Failed(Trouble),
}

struct Line {
    hall: Arc<Hall>,
    id: InstrumentId,
    tell: Sender<Said>,
    turn: u64,
    /// The instrument, and the opening of the adapter it belongs to.
    peripheral: Option<(u64, Peripheral)>,
    /// One stream for the life of the peripheral.
    notes: Option<BoxStream<'static, ValueNotification>>,
    /// What was subscribed to in this turn; a value that was read is told as such and not as a notification too.
    subscribed: BTreeSet<Uuid>,
    /// No link is there or under way.
    apart: bool,
    hold: Option<Hold>,
    deeds: Deeds,
}

/// Works until nobody gives orders any more.
pub(super) async fn run(
    hall: Arc<Hall>,
    hold: Option<Hold>,
    id: InstrumentId,
    mut orders: UnboundedReceiver<LinkOrder>,
    tell: Sender<Said>,
) {
    let mut lost = hall.lost.subscribe();
    let (subscribed, deeds) = (BTreeSet::new(), Deeds::new());
    let (turn, peripheral, notes, apart) = (0, None, None, true);
    let mut line = Line { hall, id, tell, turn, peripheral, notes, subscribed, apart, hold, deeds };
    loop {
        tokio::select! {
            // What was sent comes before the word that the link is gone.
            biased;
            order = orders.recv() => match order {
                Some(order) => line.obey(order),
                None => break,
            },
            note = next(&mut line.notes) => line.notified(note),
            Some(done) = line.deeds.next(), if !line.deeds.is_empty() => line.done(done).await,
            gone = lost.recv() => if gone.is_ok_and(|gone| gone == line.id) && !line.apart {
                line.end(LinkEvent::Lost).await;
            },
        }
    }
    line.let_go();
}

/// The next notification; for ever under way where there is no stream, or one that has ended.
async fn next(notes: &mut Option<BoxStream<'static, ValueNotification>>) -> ValueNotification {
    if let Some(stream) = notes
        && let Some(note) = stream.next().await
    {
        return note;
    }
    std::future::pending().await
}

impl Line {
    fn obey(&mut self, order: LinkOrder) {
        match order {
            LinkOrder::Connect(turn) => self.connect(turn),
            LinkOrder::Disconnect(turn) => {
                self.turn = turn;
                self.let_go();
            }
            LinkOrder::Subscribe(uuid) => {
                self.subscribed.insert(uuid);
                self.deed(uuid, move |peripheral, offered| async move {
                    peripheral.subscribe(&offered).await?;
                    Ok(Done::Subscribed(uuid))
                });
            }
            LinkOrder::Read(uuid) => self.deed(uuid, move |peripheral, offered| async move {
                // What cannot be read is left out: a battery is a comfort.
                let read = peripheral.read(&offered).await;
                Ok(read.map_or(Done::Nothing, |bytes| Done::Read(uuid, bytes)))
            }),
            LinkOrder::Write(uuid, bytes) => self.deed(uuid, move |peripheral, offered| async move {
                let response = offered.properties.contains(CharPropFlags::WRITE);
                let how = if response { WriteType::WithResponse } else { WriteType::WithoutResponse };
                peripheral.write(&offered, &bytes, how).await.map(|()| Done::Nothing)
            }),
        }
    }

    /// Calls the platform about one characteristic, and goes on meanwhile.
    fn deed<F>(&mut self, uuid: Uuid, act: impl FnOnce(Peripheral, Offered) -> F + Send + 'static)
    where
        F: Future<Output = btleplug::Result<Done>> + Send + 'static,
    {
        let Some((_, peripheral)) = self.peripheral.clone().filter(|_| !self.apart) else { return };
        let offered = peripheral.characteristics().into_iter().find(|one| one.uuid.as_u128() == uuid.0);
        self.deeds.push(match offered {
            Some(offered) => act(peripheral, offered).map(failed).boxed(),
            None => std::future::ready(Done::Failed(Trouble::Unsuitable)).boxed(),
        });
    }

    fn connect(&mut self, turn: u64) {
        self.turn = turn;
        self.deeds.clear();
        self.subscribed.clear();
        self.apart = false;
        let (hall, id) = (Arc::clone(&self.hall), self.id.clone());
        let known =
            self.peripheral.clone().filter(|(opening, _)| hall.adapter().is_some_and(|(now, _)| now == *opening));
        if let Some((opening, peripheral)) = known {
            self.deeds.push(std::future::ready(Done::Known(opening, peripheral)).boxed());
        } else {
            (self.peripheral, self.notes) = (None, None);
            self.deeds.push(async move { failed(known_to(&hall, &id).await) }.boxed());
        }
    }

    async fn done(&mut self, done: Done) {
        match done {
            Done::Known(opening, peripheral) => {
                self.peripheral = Some((opening, peripheral.clone()));
                let connected = async move { peripheral.connect().await.map(|()| Done::Connected(peripheral)) };
                self.deeds.push(connected.map(failed).boxed());
            }
            Done::Connected(peripheral) => {
                self.tell(LinkEvent::Connected).await;
                let listens = self.notes.is_some();
                self.deeds.push(async move { failed(resolved(peripheral, listens).await) }.boxed());
            }
            Done::Resolved(has, notes) => {
                self.notes = notes.or(self.notes.take());
                self.tell(LinkEvent::Resolved(has)).await;
            }
            Done::Subscribed(uuid) => self.tell(LinkEvent::Subscribed(uuid)).await,
            Done::Read(characteristic, bytes) => self.tell(LinkEvent::Read { characteristic, bytes }).await,
            Done::Failed(trouble) => self.end(LinkEvent::Failed(trouble)).await,
            Done::Nothing => {}
        }
    }

    fn notified(&self, note: ValueNotification) {
        let characteristic = Uuid(note.uuid.as_u128());
        if self.subscribed.contains(&characteristic) {
            let event = LinkEvent::Notified { characteristic, bytes: note.value, at: Moment::ZERO };
            // A full channel means that nobody looks: what it cannot hold is dropped.
            let _ = self.tell.try_send(self.said(event));
        }
    }

    fn said(&self, event: LinkEvent) -> Said {
        Said { turn: self.turn, at: self.hall.started.elapsed(), event }
    }

    async fn tell(&mut self, event: LinkEvent) {
        // Nobody polls any more: then the orders end as well.
        let _ = self.tell.send(self.said(event)).await;
    }

    /// The link is over, and that is told once.
    async fn end(&mut self, event: LinkEvent) {
        self.tell(event).await;
        self.let_go();
    }

    /// Drops what is under way and lets the instrument go, not waiting for the answer.
    fn let_go(&mut self) {
        self.deeds.clear();
        self.subscribed.clear();
        if !std::mem::replace(&mut self.apart, true)
            && let Some((_, peripheral)) = self.peripheral.clone()
        {
            let (answer, hold) = (self.hall.pace.answer, self.hold.clone());
            tokio::spawn(async move {
                // Gone or never there: then it is let go as well.
                let _ = timeout(answer, peripheral.disconnect()).await;
                drop(hold);
            });
        }
    }
}

fn failed(done: btleplug::Result<Done>) -> Done {
    done.unwrap_or_else(|error| Done::Failed(trouble(&error)))
}

/// The instrument, if the adapter knows it.
async fn known_to(hall: &Hall, id: &InstrumentId) -> btleplug::Result<Done> {
    let (opening, adapter) = hall.adapter().ok_or(btleplug::Error::NoAdapterAvailable)?;
    let all = adapter.peripherals().await?;
    let found = all.into_iter().find(|one| one.id().to_string() == id.as_str());
    found.map(|peripheral| Done::Known(opening, peripheral)).ok_or(btleplug::Error::DeviceNotFound)
}

/// What the instrument has. The stream of its notifications is opened before anything is subscribed to.
async fn resolved(peripheral: Peripheral, listens: bool) -> btleplug::Result<Done> {
    peripheral.discover_services().await?;
    let notes = if listens { None } else { Some(peripheral.notifications().await?.fuse().boxed()) };
    let mut has = Vec::new();
    for offered in peripheral.characteristics() {
        has.push(Characteristic {
            uuid: Uuid(offered.uuid.as_u128()),
            notifies: offered.properties.intersects(CharPropFlags::NOTIFY | CharPropFlags::INDICATE),
            format: format(&peripheral, &offered).await,
        });
    }
    Ok(Done::Resolved(has, notes))
}

/// The presentation format of a characteristic, where it has one that can be read.
async fn format(peripheral: &Peripheral, offered: &Offered) -> Option<Vec<u8>> {
    let number = Uuid::short(PRESENTATION_FORMAT).0;
    let descriptor = offered.descriptors.iter().find(|one| one.uuid.as_u128() == number)?;
    peripheral.read_descriptor(descriptor).await.ok()
}
