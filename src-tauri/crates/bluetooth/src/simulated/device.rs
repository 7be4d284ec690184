//! One simulated instrument: what it answers, what it sends, and how that goes wrong.

use super::{Fault, InstrumentId, LinkEvent, Quantity, Trouble, Uuid};
use crate::Moment;
use crate::profile::{Form, Profile};
use crate::reading::Cause;
use rand_chacha::ChaCha8Rng;
use rand_chacha::rand_core::Rng;
use std::collections::VecDeque;
use std::time::Duration;

/// How often it says that it is there, how long it takes to connect, to say what it has, and to answer.
pub(super) const ADVERT: Duration = Duration::from_secs(1);
const CONNECT: Duration = Duration::from_millis(120);
const RESOLVE: Duration = Duration::from_millis(250);
const ANSWER: Duration = Duration::from_millis(80);

/// The most bytes one notification carries without asking for more: an ATT MTU of 23 less 3 (recalled, not read).
const PIECE: usize = 20;

pub(super) struct Device {
    pub(super) id: InstrumentId,
    pub(super) rests: Quantity,
    pub(super) near: bool,
    pub(super) faults: VecDeque<Fault>,
    pub(super) heard: VecDeque<LinkEvent>,
    /// Counts connections, so that what belongs to an earlier one is known.
    pub(super) connection: u64,
    profile: Profile,
    connected: bool,
    subscribed: bool,
    sent: u8,
}

impl Device {
    pub(super) fn new(id: &str, profile: Profile, rests: Quantity) -> Self {
        Self {
            id: id.into(),
            rests,
            near: true,
            faults: VecDeque::new(),
            heard: VecDeque::new(),
            connection: 0,
            profile,
            connected: false,
            subscribed: false,
            sent: 0,
        }
    }

    pub(super) fn name(&self) -> String {
        self.profile.name.clone()
    }

    pub(super) fn has(&self) -> Vec<Uuid> {
        let trigger = self.profile.trigger.as_ref().map(|trigger| trigger.characteristic);
        [self.profile.characteristic, Uuid::BATTERY_LEVEL].into_iter().chain(trigger).collect()
    }

    pub(super) fn is_connected(&self) -> bool {
        self.connected
    }

    pub(super) fn is_subscribed(&self) -> bool {
        self.subscribed
    }

    pub(super) fn is_live(&self) -> bool {
        self.profile.unasked == Cause::Live
    }

    pub(super) fn is_trigger(&self, to: Uuid) -> bool {
        self.profile.trigger.as_ref().is_some_and(|trigger| trigger.characteristic == to)
    }

    pub(super) fn listened_in(&self, connection: u64) -> bool {
        self.subscribed && self.connection == connection
    }

    /// The connection is over, without a word.
    pub(super) fn part(&mut self) {
        self.connection += 1;
        self.connected = false;
        self.subscribed = false;
    }

    /// The connection breaks, and the radio notices.
    pub(super) fn lose(&mut self) {
        let connected = self.connected;
        self.part();
        if connected {
            self.heard.push_back(LinkEvent::Lost);
        }
    }

    pub(super) fn connect(&mut self) -> Vec<(Duration, LinkEvent)> {
        if !self.near {
            return vec![(CONNECT, LinkEvent::Failed(Trouble::OutOfReach))];
        }
        let later = match self.answer_fault() {
            None => Duration::ZERO,
            Some(Fault::Slow(later)) => later,
            Some(Fault::NeverAnswers) => return vec![],
            Some(Fault::Refuses) => return vec![(CONNECT, LinkEvent::Failed(Trouble::Refused))],
            Some(_) => return vec![(CONNECT, LinkEvent::Connected), (CONNECT + RESOLVE / 2, LinkEvent::Lost)],
        };
        let resolved = LinkEvent::Resolved(self.has().into_iter().map(Into::into).collect());
        vec![(CONNECT + later, LinkEvent::Connected), (CONNECT + later + RESOLVE, resolved)]
    }

    pub(super) fn subscribe(&mut self, to: Uuid) -> Vec<(Duration, LinkEvent)> {
        match self.answer_fault() {
            Some(Fault::NeverAnswers) => vec![],
            Some(Fault::Refuses) => vec![(ANSWER, LinkEvent::Failed(Trouble::Refused))],
            Some(Fault::LostMidReading) => vec![(ANSWER, LinkEvent::Lost)],
            other => {
                self.subscribed |= to == self.profile.characteristic;
                let later = if let Some(Fault::Slow(later)) = other { later } else { Duration::ZERO };
                vec![(ANSWER + later, LinkEvent::Subscribed(to))]
            }
        }
    }

    pub(super) fn read(&self, from: Uuid) -> LinkEvent {
        match from {
            Uuid::BATTERY_LEVEL => LinkEvent::Read { characteristic: from, bytes: vec![83] },
            _ => LinkEvent::Failed(Trouble::Unsuitable),
        }
    }

    /// An event reaches the radio, unless its connection is over. What a full radio cannot hold is dropped.
    pub(super) fn arrives(&mut self, connection: u64, event: LinkEvent, now: Moment, most: usize) {
        if self.connection != connection {
            return;
        }
        let event = match event {
            LinkEvent::Notified { .. } if self.heard.len() >= most => return,
            LinkEvent::Notified { characteristic, bytes, .. } => LinkEvent::Notified { characteristic, bytes, at: now },
            other => other,
        };
        match event {
            LinkEvent::Connected => self.connected = true,
            LinkEvent::Lost | LinkEvent::Failed(_) => self.part(),
            _ => {}
        }
        self.heard.push_back(event);
    }

    /// The events of one measurement, each after its time.
    pub(super) fn send(&mut self, cause: Cause, random: &mut ChaCha8Rng) -> Vec<(Duration, LinkEvent)> {
        self.sent = self.sent.wrapping_add(1);
        let whole = self.message(self.shown(random), cause);
        let (mut at, mut lost, mut bytes) = (ANSWER, false, whole.clone());
        match self.faults.pop_front() {
            None => {}
            Some(Fault::Slow(later)) => at += later,
            Some(Fault::NeverAnswers) => return vec![],
            Some(Fault::Refuses) => return vec![(at, LinkEvent::Failed(Trouble::Refused))],
            Some(Fault::Empty) => bytes.clear(),
            Some(Fault::Truncated) => bytes.truncate(whole.len() / 2),
            Some(Fault::LostMidReading) => {
                bytes.truncate(whole.len() / 2);
                lost = true;
            }
            Some(Fault::Garbage) => random.fill_bytes(&mut bytes),
            Some(Fault::Twice) => bytes.extend_from_slice(&whole),
        }
        let pieces = self.pieces(&bytes, whole.len()).into_iter().map(|bytes| (at, self.notified(bytes)));
        pieces.chain(lost.then_some((at, LinkEvent::Lost))).collect()
    }

    /// What its display shows: where it rests, off by no more than it states, to the step.
    fn shown(&self, random: &mut ChaCha8Rng) -> Quantity {
        let off = f64::from(random.next_u32()) / f64::from(u32::MAX) * 2.0 - 1.0;
        self.rests.shown(self.profile.accuracy.times(off), self.profile.step)
    }

    /// The bytes of a message; none for a value its form cannot carry.
    fn message(&self, value: Quantity, cause: Cause) -> Vec<u8> {
        match self.profile.form {
            Form::Whole(form) => form.encode(value, cause, self.sent).unwrap_or_default(),
            Form::Lines(form) => form.encode(value),
            // The practice instruments speak one of those two.
            _ => Vec::new(),
        }
    }

    /// Whole payloads go one by one, lines in pieces.
    fn pieces(&self, bytes: &[u8], whole: usize) -> Vec<Vec<u8>> {
        let size = if self.profile.form.lines().is_some() { PIECE } else { whole.max(1) };
        if bytes.is_empty() { vec![vec![]] } else { bytes.chunks(size).map(<[u8]>::to_vec).collect() }
    }

    fn notified(&self, bytes: Vec<u8>) -> LinkEvent {
        LinkEvent::Notified { characteristic: self.profile.characteristic, bytes, at: Moment::ZERO }
    }

    /// The next fault, if it is one that an answer can have. The others wait for a message.
    fn answer_fault(&mut self) -> Option<Fault> {
        let of_answers = [Fault::LostMidReading, Fault::NeverAnswers, Fault::Refuses];
        let next = *self.faults.front()?;
        let fits = of_answers.contains(&next) || matches!(next, Fault::Slow(_));
        if fits { self.faults.pop_front() } else { None }
    }
}
