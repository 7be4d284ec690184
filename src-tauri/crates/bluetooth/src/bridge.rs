//! The one owner of a radio and of every instrument in use.

use crate::Moment;
use crate::instrument::{Heard, Instrument, Patience};
use crate::profile::Profile;
use crate::radio::{Found, InstrumentId, Radio, RadioEvent};
use crate::state::{Adapter, State};
use std::task::{Context, Poll};

/// What the bridge lets its user know.
#[derive(Debug, Clone, PartialEq)]
pub enum Told {
    Adapter(Adapter),
    /// An instrument was heard nearby, in use or not.
    Found(Found),
    Instrument(InstrumentId, Heard),
}

/// Holds the radio and the instruments in use, and says what happens to them.
///
/// It holds no queue of its own and nothing that grows: what is not polled stays with the radio.
pub struct Bridge {
    /// Before the radio, so that their links are given up first.
    instruments: Vec<Instrument>,
    radio: Box<dyn Radio>,
    adapter: Option<Adapter>,
    patience: Patience,
    /// A person looks for instruments.
    looking: bool,
    /// What the radio was last told to do.
    searching: bool,
    /// The latest moment it was polled at.
    now: Moment,
}

impl Bridge {
    pub fn new(radio: Box<dyn Radio>) -> Self {
        Self::with_patience(radio, Patience::default())
    }

    /// A bridge that waits as long as it is told to.
    pub fn with_patience(radio: Box<dyn Radio>, patience: Patience) -> Self {
        let (instruments, now) = (Vec::new(), Moment::ZERO);
        Self { radio, adapter: None, instruments, patience, looking: false, searching: false, now }
    }

    /// Begins or ends looking for instruments nearby.
    pub fn look(&mut self, on: bool) {
        self.looking = on;
        self.search();
    }

    /// Switches Bluetooth on. Only to be called when a person agreed to it.
    pub fn switch_on(&mut self) {
        self.radio.switch_on();
    }

    /// Takes an instrument into use: it is connected as soon as it is heard, and again after every loss.
    pub fn take_up(&mut self, id: InstrumentId, profile: Profile) {
        self.put_away(&id);
        let link = self.radio.link(&id);
        let mut instrument = Instrument::new(id, profile, link, self.patience);
        if let Some(adapter) = self.adapter {
            instrument.bar(adapter, self.now);
        }
        self.instruments.push(instrument);
        self.search();
    }

    /// Disconnects an instrument and forgets it.
    pub fn put_away(&mut self, id: &InstrumentId) {
        self.instruments.retain(|instrument| instrument.id != *id);
        self.search();
    }

    /// Asks an instrument to measure; `false` if it is not ready, still answering, or has no trigger.
    pub fn measure(&mut self, id: &InstrumentId, now: Moment) -> bool {
        self.instruments.iter_mut().find(|instrument| instrument.id == *id).is_some_and(|found| found.measure(now))
    }

    /// How it stands with an instrument; `None` if it is not in use.
    pub fn state(&self, id: &InstrumentId) -> Option<State> {
        self.instruments.iter().find(|instrument| instrument.id == *id).map(Instrument::state)
    }

    /// What happened next, up to `now`. To be called until it is pending.
    ///
    /// What the instruments sent comes before what became of the radio, so that a reading that arrived is not lost
    /// with the radio.
    pub fn poll(&mut self, now: Moment, context: &mut Context<'_>) -> Poll<Told> {
        self.now = self.now.max(now);
        for instrument in &mut self.instruments {
            if let Poll::Ready(heard) = instrument.poll(self.now, context) {
                return Poll::Ready(Told::Instrument(instrument.id.clone(), heard));
            }
        }
        let told = self.radio.poll(self.now, context).map(|event| self.hear(event));
        self.search();
        told
    }

    /// When to poll again even if nothing wakes the context.
    pub fn due(&self) -> Option<Moment> {
        self.instruments.iter().map(Instrument::due).chain([self.radio.due()]).flatten().min()
    }

    fn hear(&mut self, event: RadioEvent) -> Told {
        match event {
            RadioEvent::Adapter(adapter) => {
                self.adapter = Some(adapter);
                self.instruments.iter_mut().for_each(|instrument| instrument.bar(adapter, self.now));
                Told::Adapter(adapter)
            }
            RadioEvent::Found(found) => {
                let known = self.instruments.iter_mut().filter(|instrument| instrument.id == found.id);
                known.for_each(|instrument| instrument.found(self.now));
                Told::Found(found)
            }
        }
    }

    /// The radio searches while a person looks or an instrument in use is not heard yet, and only if it is on.
    fn search(&mut self) {
        let missing = self.instruments.iter().any(|instrument| instrument.state() == State::Searching);
        let wanted = self.adapter == Some(Adapter::On) && (self.looking || missing);
        if self.searching != wanted {
            self.searching = wanted;
            self.radio.search(wanted);
        }
    }
}
