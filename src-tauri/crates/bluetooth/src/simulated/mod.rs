//! A radio of nothing but arithmetic: practice instruments that ship, and every fault of a real one on demand.
//!
//! The same seed, script and times give the same bytes. It has no clock: things happen when a poll says that their
//! time has come. A call between two polls counts as made at the earlier one.

mod air;
mod deed;
mod device;

pub use deed::{Deed, Fault};

use crate::Moment;
use crate::profile::Profile;
use crate::radio::{Found, InstrumentId, Link, LinkEvent, Radio, RadioEvent, Uuid};
use crate::reading::Quantity;
use crate::state::{Adapter, Trouble};
use air::{Air, Turn};
use device::Device;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::task::{Context, Poll};
use survey::units::{Angle, Length};

/// The name of the practice laser.
pub const LASER: &str = "practice-laser";
/// The name of the practice level.
pub const LEVEL: &str = "practice-level";

/// A radio whose instruments do as they are told. A clone is another hold on the same radio.
#[derive(Clone)]
pub struct SimulatedRadio(Arc<Mutex<Air>>);

impl SimulatedRadio {
    /// A radio that is switched on and hears nothing yet.
    pub fn new(seed: u64) -> Self {
        Self(Arc::new(Mutex::new(Air::new(seed))))
    }

    /// A radio with the practice laser, 44 in from its target, and the practice level on a fall of 1/4 in per foot.
    pub fn practice(seed: u64) -> Self {
        let radio = Self::new(seed);
        radio.add(LASER, Profile::practice_laser(), Quantity::Length(Length::inches(44.0)));
        radio.add(
            LEVEL,
            Profile::practice_level(),
            Quantity::Angle(Angle::degrees((1.0_f64 / 48.0).atan().to_degrees())),
        );
        radio
    }

    /// Puts an instrument within range that sends as the profile says, each reading off by no more than its accuracy.
    pub fn add(&self, id: &str, profile: Profile, rests: Quantity) {
        self.air().add(Device::new(id, profile, rests));
    }

    /// Does something to an instrument now; nothing if there is none of that name.
    pub fn act(&self, id: &str, deed: Deed) {
        self.air().act(id, Turn::Deed(deed));
    }

    /// Does something to an instrument when its time has come.
    pub fn script(&self, at: Moment, id: &str, deed: Deed) {
        self.air().plan(at, id, Turn::Deed(deed));
    }

    /// Changes the radio itself when its time has come: unplugged, switched off, forbidden, back.
    pub fn turn(&self, at: Moment, adapter: Adapter) {
        self.air().plan_radio(at, adapter);
    }

    fn air(&self) -> MutexGuard<'_, Air> {
        self.0.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

impl Radio for SimulatedRadio {
    fn switch_on(&mut self) {
        self.air().switch_on();
    }

    fn search(&mut self, on: bool) {
        self.air().search(on);
    }

    fn link(&mut self, id: &InstrumentId) -> Box<dyn Link> {
        Box::new(SimulatedLink { air: self.clone(), id: id.clone() })
    }

    fn poll(&mut self, now: Moment, _: &mut Context<'_>) -> Poll<RadioEvent> {
        let mut air = self.air();
        air.advance(now);
        air.told.pop_front().map_or(Poll::Pending, Poll::Ready)
    }

    fn due(&self) -> Option<Moment> {
        self.air().due()
    }
}

/// The way to one simulated instrument.
struct SimulatedLink {
    air: SimulatedRadio,
    id: InstrumentId,
}

impl SimulatedLink {
    fn turn(&self, turn: Turn) {
        self.air.air().act(self.id.as_str(), turn);
    }
}

impl Link for SimulatedLink {
    fn connect(&mut self) {
        self.turn(Turn::Connect);
    }

    fn disconnect(&mut self) {
        self.air.air().disconnect(&self.id);
    }

    fn subscribe(&mut self, characteristic: Uuid) {
        self.turn(Turn::Subscribe(characteristic));
    }

    fn read(&mut self, characteristic: Uuid) {
        self.turn(Turn::Read(characteristic));
    }

    fn write(&mut self, characteristic: Uuid, _: &[u8]) {
        self.turn(Turn::Write(characteristic));
    }

    fn poll(&mut self, now: Moment, _: &mut Context<'_>) -> Poll<LinkEvent> {
        let mut air = self.air.air();
        air.advance(now);
        air.heard(&self.id).map_or(Poll::Pending, Poll::Ready)
    }

    fn due(&self) -> Option<Moment> {
        self.air.air().due()
    }
}

#[cfg(test)]
mod tests;
