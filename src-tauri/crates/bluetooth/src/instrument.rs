//! One instrument in use: connected, subscribed, lost, tried again.

use crate::Moment;
use crate::decode::{FixedPoint, described};
use crate::listener::Listener;
use crate::profile::{Form, Profile};
use crate::radio::{Characteristic, InstrumentId, Link, LinkEvent, Uuid};
use crate::reading::{Cause, NotAReading, Reading};
use crate::state::{Adapter, State, Trouble};
use std::collections::VecDeque;
use std::task::{Context, Poll};
use std::time::Duration;

/// How long each step may take before the instrument counts as lost. Ours; common practice knows no figures.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Patience {
    pub connect: Duration,
    /// From connected to its characteristics known.
    pub resolve: Duration,
    pub subscribe: Duration,
    /// From asked to answered.
    pub answer: Duration,
}

impl Default for Patience {
    fn default() -> Self {
        let [connect, resolve, subscribe, answer] = [10, 10, 3, 5].map(Duration::from_secs);
        Self { connect, resolve, subscribe, answer }
    }
}

/// What an instrument lets its user know.
#[derive(Debug, Clone, PartialEq)]
pub enum Heard {
    State(State),
    Reading(Reading),
    /// A message came that is no reading; nothing is recorded for it.
    NotAReading(NotAReading),
    /// It was asked to measure and did not answer: no reading was taken, and none will be for that asking.
    NoAnswer,
    /// What is left in its battery, per cent.
    Battery(u8),
}

/// One instrument in use.
pub(crate) struct Instrument {
    pub(crate) id: InstrumentId,
    link: Box<dyn Link>,
    listener: Listener,
    patience: Patience,
    stage: Stage,
    /// Attempts since it was last ready.
    retry: u32,
    /// Until when it may answer.
    asked: Option<Moment>,
    told: Option<State>,
    out: VecDeque<Heard>,
}

#[derive(Debug, Clone, Copy, PartialEq)]
enum Stage {
    Barred(State),
    Searching,
    /// Under way to ready, each step until its time is up.
    Connecting(Moment),
    Resolving(Moment),
    Subscribing(Moment),
    Ready,
    /// Lost, and left alone until the moment.
    Waiting(Moment, Trouble),
}

impl Instrument {
    pub(crate) fn new(id: InstrumentId, profile: Profile, link: Box<dyn Link>, patience: Patience) -> Self {
        let listener = Listener::new(profile);
        let (stage, out) = (Stage::Searching, VecDeque::new());
        Self { id, link, listener, patience, stage, retry: 0, asked: None, told: None, out }
    }

    pub(crate) fn state(&self) -> State {
        match self.stage {
            Stage::Barred(state) => state,
            Stage::Searching => State::Searching,
            Stage::Waiting(_, trouble) => State::Lost { retry: self.retry, trouble },
            Stage::Ready => State::Ready,
            _ => State::Connecting,
        }
    }

    /// The radio's condition changed.
    pub(crate) fn bar(&mut self, adapter: Adapter, now: Moment) {
        match (adapter.bars(), self.stage) {
            (Some(state), _) => {
                self.let_go(now);
                self.stage = Stage::Barred(state);
            }
            (None, Stage::Barred(_)) => self.stage = Stage::Searching,
            (None, _) => {}
        }
    }

    /// It was heard nearby.
    pub(crate) fn found(&mut self, now: Moment) {
        if self.stage == Stage::Searching {
            self.connect(now);
        }
    }

    /// Asks it to measure; whether that could be done.
    pub(crate) fn measure(&mut self, now: Moment) -> bool {
        let Some(trigger) = &self.listener.profile().trigger else { return false };
        let free = self.stage == Stage::Ready && self.asked.is_none();
        if free {
            self.link.write(trigger.characteristic, &trigger.bytes);
            self.asked = Some(now + self.patience.answer);
        }
        free
    }

    /// What it lets its user know next, up to `now`.
    pub(crate) fn poll(&mut self, now: Moment, context: &mut Context<'_>) -> Poll<Heard> {
        loop {
            if let Some(heard) = self.out.pop_front() {
                return Poll::Ready(heard);
            }
            if self.told != Some(self.state()) {
                self.told = Some(self.state());
                return Poll::Ready(Heard::State(self.state()));
            }
            match self.link.poll(now, context) {
                Poll::Ready(event) => self.hear(event, now),
                Poll::Pending if self.overdue(now) => {}
                Poll::Pending => return Poll::Pending,
            }
        }
    }

    /// When its link or its patience wants it to be polled again.
    pub(crate) fn due(&self) -> Option<Moment> {
        let ends = match self.stage {
            Stage::Connecting(end) | Stage::Resolving(end) | Stage::Subscribing(end) | Stage::Waiting(end, _) => {
                Some(end)
            }
            Stage::Barred(_) | Stage::Searching | Stage::Ready => None,
        };
        [ends, self.asked, self.link.due()].into_iter().flatten().min()
    }

    fn hear(&mut self, event: LinkEvent, now: Moment) {
        let readings = self.listener.profile().characteristic;
        match (event, self.stage) {
            (_, Stage::Barred(_) | Stage::Searching | Stage::Waiting(..)) => {}
            (LinkEvent::Lost, _) => self.lost(Trouble::Dropped, now),
            (LinkEvent::Failed(trouble), _) => self.lost(trouble, now),
            (LinkEvent::Connected, Stage::Connecting(_)) => self.stage = Stage::Resolving(now + self.patience.resolve),
            (LinkEvent::Resolved(has), Stage::Resolving(_)) => self.resolved(&has, now),
            (LinkEvent::Subscribed(to), Stage::Subscribing(_)) if to == readings => self.ready(),
            (LinkEvent::Notified { characteristic: from, bytes, at }, Stage::Subscribing(_) | Stage::Ready)
                if from == readings =>
            {
                self.take(bytes, at);
            }
            (LinkEvent::Read { characteristic: Uuid::BATTERY_LEVEL, bytes }, _) => self.battery(&bytes),
            _ => {}
        }
    }

    fn connect(&mut self, now: Moment) {
        self.stage = Stage::Connecting(now + self.patience.connect);
        self.link.connect();
    }

    fn resolved(&mut self, has: &[Characteristic], now: Moment) {
        self.describe(has);
        let readings = self.listener.profile().characteristic;
        let offers = |uuid: Uuid| has.iter().any(|one| one.uuid == uuid);
        if !offers(readings) {
            return self.lost(Trouble::Unsuitable, now);
        }
        self.stage = Stage::Subscribing(now + self.patience.subscribe);
        self.listener.lose(now);
        self.link.subscribe(readings);
        if offers(Uuid::BATTERY_LEVEL) {
            self.link.read(Uuid::BATTERY_LEVEL);
        }
    }

    /// Where the profile leaves it to the instrument, the first thing it sends that says how it is read.
    fn describe(&mut self, has: &[Characteristic]) {
        if !matches!(self.listener.profile().form, Form::Described) {
            return;
        }
        let form = |one: &Characteristic| match one.uuid {
            Uuid::LENGTH => Some(Form::Whole(FixedPoint::LENGTH)),
            Uuid::LINEAR_POSITION => Some(Form::Whole(FixedPoint::LINEAR_POSITION)),
            _ => described(one.format.as_deref()?).map(Form::Field),
        };
        let mut read = has.iter().filter(|one| one.notifies).filter_map(|one| Some((one.uuid, form(one)?)));
        if let Some((characteristic, form)) = read.next() {
            self.listener.described(characteristic, form);
        }
    }

    fn ready(&mut self) {
        self.stage = Stage::Ready;
        self.retry = 0;
    }

    fn take(&mut self, bytes: Vec<u8>, at: Moment) {
        for heard in self.listener.take(bytes, at, self.asked.is_some()) {
            self.out.push_back(match heard {
                Ok(reading) => {
                    if reading.cause == Cause::Asked {
                        self.asked = None;
                    }
                    Heard::Reading(reading)
                }
                Err(why) => Heard::NotAReading(why),
            });
        }
    }

    fn battery(&mut self, bytes: &[u8]) {
        if let [percent @ 0..=100] = bytes {
            self.out.push_back(Heard::Battery(*percent));
        }
    }

    /// Does what its time has come for; whether there was anything.
    ///
    /// An asking without answer ends the link, so that a late answer is never taken for the next one.
    fn overdue(&mut self, now: Moment) -> bool {
        if self.asked.is_some_and(|end| end <= now) {
            self.lost(Trouble::NotAnswering, now);
            return true;
        }
        match self.stage {
            Stage::Connecting(end) | Stage::Resolving(end) | Stage::Subscribing(end) if end <= now => {
                self.lost(Trouble::NotAnswering, now);
            }
            Stage::Waiting(end, _) if end <= now => self.connect(now),
            _ => return false,
        }
        true
    }

    /// The link is gone or of no use: wait 1, 2, 4, then 8 seconds each time.
    fn lost(&mut self, trouble: Trouble, now: Moment) {
        self.let_go(now);
        let wait = Duration::from_secs(1 << self.retry.min(3));
        self.retry = self.retry.saturating_add(1);
        self.stage = Stage::Waiting(now + wait, trouble);
    }

    fn let_go(&mut self, now: Moment) {
        self.link.disconnect();
        self.listener.lose(now);
        if self.asked.take().is_some() {
            self.out.push_back(Heard::NoAnswer);
        }
    }
}

impl Drop for Instrument {
    fn drop(&mut self) {
        self.link.disconnect();
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::decode::TextLine;
    use proptest::prelude::*;
    use std::sync::{Arc, Mutex};
    use std::task::Waker;

    /// A link that tells what it is given, and takes no orders.
    #[derive(Clone, Default)]
    struct Given(Arc<Mutex<VecDeque<LinkEvent>>>);

    impl Link for Given {
        fn connect(&mut self) {}
        fn disconnect(&mut self) {}
        fn subscribe(&mut self, _: Uuid) {}
        fn read(&mut self, _: Uuid) {}
        fn write(&mut self, _: Uuid, _: &[u8]) {}
        fn poll(&mut self, _: Moment, _: &mut Context<'_>) -> Poll<LinkEvent> {
            self.0.lock().expect("one thread").pop_front().map_or(Poll::Pending, Poll::Ready)
        }
    }

    fn plain_lines() -> Profile {
        let form = Form::Lines(TextLine { summed: false, decimal_comma: false });
        Profile { form, ..Profile::practice_laser() }
    }

    fn ms(ms: u64) -> Moment {
        Duration::from_millis(ms)
    }

    fn notified(at: u64, text: &str) -> LinkEvent {
        let characteristic = plain_lines().characteristic;
        LinkEvent::Notified { characteristic, bytes: text.as_bytes().to_vec(), at: ms(at) }
    }

    /// All that is heard when the events come one by one at their times.
    fn hear(profile: Profile, events: Vec<(u64, LinkEvent)>) -> Vec<Heard> {
        let given = Given::default();
        let mut instrument = Instrument::new("given".into(), profile, Box::new(given.clone()), Patience::default());
        instrument.found(Moment::ZERO);
        let mut context = Context::from_waker(Waker::noop());
        let mut heard = Vec::new();
        for (at, event) in events {
            given.0.lock().expect("one thread").push_back(event);
            while let Poll::Ready(one) = instrument.poll(ms(at), &mut context) {
                heard.push(one);
            }
        }
        heard
    }

    fn connected(at: u64) -> Vec<(u64, LinkEvent)> {
        let readings = plain_lines().characteristic;
        let has = vec![readings.into(), Uuid::BATTERY_LEVEL.into()];
        let events = [LinkEvent::Connected, LinkEvent::Resolved(has), LinkEvent::Subscribed(readings)];
        events.into_iter().map(|event| (at, event)).collect()
    }

    fn raws(heard: &[Heard]) -> Vec<String> {
        let raws = heard.iter().filter_map(|heard| match heard {
            Heard::Reading(reading) => Some(String::from_utf8_lossy(&reading.raw).into_owned()),
            _ => None,
        });
        raws.collect()
    }

    /// An instrument that was interrupted sends the rest of its line as soon as it is connected again.
    #[test]
    fn the_rest_of_a_line_is_not_taken_for_a_line() {
        let mut events = connected(5000);
        events.extend([(5050, notified(5050, "4 m\n")), (5100, notified(5100, "2.5 m\n"))]);
        events.extend([(5200, notified(5200, "1.2")), (5300, LinkEvent::Lost)]);
        events.extend([(6300, LinkEvent::Lost), (6300, LinkEvent::Lost)]);
        let heard = hear(plain_lines(), events.clone());
        assert_eq!(raws(&heard), ["2.5 m"]);
        events.truncate(7);
        events.push((6400, LinkEvent::Read { characteristic: Uuid::BATTERY_LEVEL, bytes: vec![40] }));
        events.extend(connected(6500));
        events.extend([(6550, notified(6550, "4 m\n")), (7000, notified(7000, "3.5 m\n"))]);
        assert_eq!(raws(&hear(plain_lines(), events)), ["2.5 m", "3.5 m"]);
    }

    /// The first message may overtake the word that it is subscribed to.
    #[test]
    fn a_message_that_overtakes_is_taken() {
        let mut events = connected(0);
        events.insert(2, (1500, notified(1500, "2.5 m\n")));
        events[3].0 = 1600;
        let heard = hear(plain_lines(), events);
        assert_eq!(raws(&heard), ["2.5 m"]);
        assert_eq!(heard.last(), Some(&Heard::State(State::Ready)));
    }

    #[test]
    fn only_its_own_characteristic_is_read() {
        let mut events = connected(0);
        let elsewhere = LinkEvent::Notified { characteristic: Uuid::LENGTH, bytes: b"1.5 m\n".to_vec(), at: ms(2000) };
        events.extend([(2000, elsewhere), (3500, notified(3500, "2.5 m\n"))]);
        for bytes in [vec![101], vec![], vec![1, 2], vec![100]] {
            events.push((3600, LinkEvent::Read { characteristic: Uuid::BATTERY_LEVEL, bytes }));
        }
        let heard = hear(plain_lines(), events);
        assert_eq!(raws(&heard), ["2.5 m"]);
        let batteries: Vec<_> = heard.iter().filter(|heard| matches!(heard, Heard::Battery(_))).collect();
        assert_eq!(batteries, [&Heard::Battery(100)]);
    }

    fn events() -> impl Strategy<Value = LinkEvent> {
        let readings = plain_lines().characteristic;
        let bytes = prop::collection::vec(any::<u8>(), 0..60);
        prop_oneof![
            Just(LinkEvent::Connected),
            Just(LinkEvent::Resolved(vec![readings.into()])),
            Just(LinkEvent::Resolved(vec![])),
            Just(LinkEvent::Subscribed(readings)),
            Just(LinkEvent::Lost),
            Just(LinkEvent::Failed(Trouble::Refused)),
            Just(notified(0, "1.5 m\n")),
            bytes.prop_map(|bytes| LinkEvent::Read { characteristic: Uuid::BATTERY_LEVEL, bytes }),
        ]
    }

    proptest! {
        /// A link that tells anything in any order makes no reading before it is resolved, and no panic.
        #[test]
        fn any_events_in_any_order(events in prop::collection::vec((0_u64..20_000, events()), 0..60)) {
            let mut now = 0;
            let events: Vec<_> = events
                .into_iter()
                .map(|(pause, event)| {
                    now += pause;
                    (now, event)
                })
                .collect();
            let resolved = events.iter().any(|(_, event)| matches!(event, LinkEvent::Resolved(has) if !has.is_empty()));
            let heard = hear(plain_lines(), events);
            prop_assert!(resolved || raws(&heard).is_empty());
        }
    }
}
