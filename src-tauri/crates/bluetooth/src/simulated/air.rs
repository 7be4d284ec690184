//! What happens between a simulated radio and its instruments, in the order of time.

use super::device::{ADVERT, Device};
use super::{Adapter, Deed, Found, InstrumentId, LinkEvent, RadioEvent, Trouble, Uuid};
use crate::Moment;
use crate::reading::Cause;
use rand_chacha::ChaCha8Rng;
use rand_chacha::rand_core::SeedableRng;
use std::collections::{BTreeMap, VecDeque};
use std::time::Duration;

/// Events that wait for a poll; what the radio hears beyond them is not told.
const MOST_WAITING: usize = 64;

/// How often an instrument that sends all the time sends.
const LIVE: Duration = Duration::from_millis(500);

/// Of what repeats, this much is made up for after a time without polls.
const MADE_UP: Duration = Duration::from_secs(30);

/// One thing that happens to one instrument.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Turn {
    Deed(Deed),
    Advert,
    Connect,
    Subscribe(Uuid),
    Read(Uuid),
    Write(Uuid),
    /// An instrument that sends all the time sends, if still in this connection.
    Live(u64),
    /// The event arrives, if still in this connection.
    Arrives(u64, LinkEvent),
}

enum Plan {
    Radio(Adapter),
    Device(usize, Turn),
}

/// The radio, its instruments, and what is still to happen.
pub(super) struct Air {
    now: Moment,
    /// How far it is being advanced.
    until: Moment,
    adapter: Adapter,
    searching: bool,
    devices: Vec<Device>,
    /// What is to happen, by moment and then by the order of planning.
    plans: BTreeMap<(Moment, u64), Plan>,
    planned: u64,
    pub(super) told: VecDeque<RadioEvent>,
    random: ChaCha8Rng,
}

impl Air {
    pub(super) fn new(seed: u64) -> Self {
        Self {
            now: Moment::ZERO,
            until: Moment::ZERO,
            adapter: Adapter::On,
            searching: false,
            devices: Vec::new(),
            plans: BTreeMap::new(),
            planned: 0,
            told: VecDeque::from([RadioEvent::Adapter(Adapter::On)]),
            random: ChaCha8Rng::seed_from_u64(seed),
        }
    }

    pub(super) fn due(&self) -> Option<Moment> {
        self.plans.keys().next().map(|(at, _)| *at)
    }

    pub(super) fn add(&mut self, device: Device) {
        self.devices.push(device);
        self.put(self.now, Plan::Device(self.devices.len() - 1, Turn::Advert));
    }

    /// Lets something happen to an instrument at once.
    pub(super) fn act(&mut self, id: &str, turn: Turn) {
        if let Some(index) = self.index(id) {
            self.happen(index, turn);
        }
    }

    /// Lets something happen to an instrument when its time has come.
    pub(super) fn plan(&mut self, at: Moment, id: &str, turn: Turn) {
        if let Some(index) = self.index(id) {
            self.put(at, Plan::Device(index, turn));
        }
    }

    fn index(&self, id: &str) -> Option<usize> {
        self.devices.iter().position(|device| device.id.as_str() == id)
    }

    pub(super) fn plan_radio(&mut self, at: Moment, adapter: Adapter) {
        self.put(at, Plan::Radio(adapter));
    }

    pub(super) fn switch_on(&mut self) {
        if self.adapter == Adapter::SwitchedOff {
            self.turn(Adapter::On);
        }
    }

    pub(super) fn search(&mut self, on: bool) {
        self.searching = on && self.adapter == Adapter::On;
    }

    /// Ends the connection; what was on its way is never told.
    pub(super) fn disconnect(&mut self, id: &InstrumentId) {
        if let Some(device) = self.devices.iter_mut().find(|device| device.id == *id) {
            device.part();
            device.heard.clear();
        }
    }

    /// What a link tells next.
    pub(super) fn heard(&mut self, id: &InstrumentId) -> Option<LinkEvent> {
        self.devices.iter_mut().find(|device| device.id == *id)?.heard.pop_front()
    }

    /// Lets everything happen that is planned up to `now`.
    pub(super) fn advance(&mut self, now: Moment) {
        self.until = now;
        while let Some(first) = self.plans.first_entry().filter(|first| first.key().0 <= now) {
            let ((at, _), plan) = first.remove_entry();
            self.now = self.now.max(at);
            match plan {
                Plan::Radio(adapter) => self.turn(adapter),
                Plan::Device(index, turn) => self.happen(index, turn),
            }
        }
        self.now = self.now.max(now);
    }

    fn put(&mut self, at: Moment, plan: Plan) {
        self.planned += 1;
        self.plans.insert((at.max(self.now), self.planned), plan);
    }

    /// What repeats happens again after this long; what was missed for long is left out.
    fn again(&mut self, after: Duration, index: usize, turn: Turn) {
        let at = (self.now + after).max(self.until.saturating_sub(MADE_UP));
        self.put(at, Plan::Device(index, turn));
    }

    fn turn(&mut self, adapter: Adapter) {
        self.adapter = adapter;
        if adapter != Adapter::On {
            self.searching = false;
            self.devices.iter_mut().for_each(Device::lose);
        }
        self.tell(RadioEvent::Adapter(adapter));
    }

    fn tell(&mut self, event: RadioEvent) {
        let news = matches!(event, RadioEvent::Adapter(_));
        if news || self.told.len() < MOST_WAITING {
            self.told.push_back(event);
        }
    }

    fn happen(&mut self, index: usize, turn: Turn) {
        let Some(device) = self.devices.get_mut(index) else { return };
        match turn {
            Turn::Advert => self.advert(index),
            Turn::Deed(Deed::Press) => self.send(index, Cause::Button),
            Turn::Deed(Deed::Rests(value)) => device.rests = value,
            Turn::Deed(Deed::Fails(fault)) => device.faults.push_back(fault),
            Turn::Deed(Deed::Returns) => device.near = true,
            Turn::Deed(Deed::Leaves) => {
                device.near = false;
                device.lose();
            }
            Turn::Connect => self.connect(index),
            Turn::Subscribe(to) => self.subscribe(index, to),
            Turn::Read(from) => {
                let answer = device.read(from);
                self.answer(index, answer);
            }
            Turn::Write(to) if device.is_trigger(to) => self.send(index, Cause::Asked),
            Turn::Write(_) => self.answer(index, LinkEvent::Failed(Trouble::Unsuitable)),
            Turn::Live(connection) if device.listened_in(connection) => self.live(index, connection),
            Turn::Live(_) => {}
            Turn::Arrives(connection, event) => device.arrives(connection, event, self.now, MOST_WAITING),
        }
    }

    /// Says that an instrument is there, once a second while somebody searches.
    fn advert(&mut self, index: usize) {
        let device = self.devices.get(index).filter(|device| device.near && !device.is_connected());
        if let Some(found) = device.filter(|_| self.searching).map(Device::found) {
            self.tell(RadioEvent::Found(found));
        }
        self.again(ADVERT, index, Turn::Advert);
    }

    fn connect(&mut self, index: usize) {
        let on = self.adapter == Adapter::On;
        let Some(device) = self.devices.get_mut(index) else { return };
        device.part();
        let events = if on { device.connect() } else { vec![(Duration::ZERO, LinkEvent::Failed(Trouble::Refused))] };
        self.send_out(index, events);
    }

    fn subscribe(&mut self, index: usize, to: Uuid) {
        let Some(device) = self.devices.get_mut(index).filter(|device| device.is_connected()) else { return };
        let events = device.subscribe(to);
        let live = device.is_live().then_some(Turn::Live(device.connection));
        self.send_out(index, events);
        if let Some(turn) = live {
            self.again(LIVE, index, turn);
        }
    }

    fn live(&mut self, index: usize, connection: u64) {
        self.send(index, Cause::Live);
        self.again(LIVE, index, Turn::Live(connection));
    }

    /// The instrument measures and sends, if anybody listens.
    fn send(&mut self, index: usize, cause: Cause) {
        let Some(device) = self.devices.get_mut(index).filter(|device| device.is_subscribed()) else { return };
        let events = device.send(cause, &mut self.random);
        self.send_out(index, events);
    }

    fn answer(&mut self, index: usize, event: LinkEvent) {
        self.send_out(index, vec![(Duration::ZERO, event)]);
    }

    fn send_out(&mut self, index: usize, events: Vec<(Duration, LinkEvent)>) {
        let Some(connection) = self.devices.get(index).map(|device| device.connection) else { return };
        for (after, event) in events {
            self.put(self.now.saturating_add(after), Plan::Device(index, Turn::Arrives(connection, event)));
        }
    }
}

impl Device {
    fn found(&self) -> Found {
        Found { id: self.id.clone(), name: self.name(), signal_dbm: Some(-58), offers: self.has() }
    }
}
