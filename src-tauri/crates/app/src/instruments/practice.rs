//! The practice instruments, and what is done to them in place of hands.

use crate::forms::{DevicePractice, PracticeDeed};
use bluetooth::profile::Profile;
use bluetooth::reading::Quantity;
use bluetooth::simulated::{Deed, LASER, LEVEL, SimulatedRadio};
use judge::{Kind, Refusal};
use survey::units::Length;

/// The profile of a practice instrument.
pub(super) fn profile(id: &str) -> Option<Profile> {
    match id {
        LASER => Some(Profile::practice_laser()),
        LEVEL => Some(Profile::practice_level()),
        _ => None,
    }
}

/// Where the practice laser stands from press to press until it is put somewhere: a floor that is nearly flat, as
/// down from the line, mm. Invented.
const FLOOR: [f64; 8] = [1117.6, 1119.2, 1120.8, 1119.2, 1118.4, 1122.4, 1116.0, 1120.0];

/// The practice radio, and the walk over its invented floor.
pub(super) struct Practice {
    pub(super) radio: SimulatedRadio,
    pressed: usize,
    /// A person said where it stands.
    put: bool,
}

impl Practice {
    pub(super) fn new(seed: u64) -> Self {
        Self { radio: SimulatedRadio::practice(seed), pressed: 0, put: false }
    }

    /// Does it.
    ///
    /// # Errors
    /// `not-found` for anything but a practice instrument, `out-of-range` for a place it cannot be put at.
    pub(super) fn act(&mut self, order: &DevicePractice) -> Result<(), Refusal> {
        let id = order.device.as_str();
        if profile(id).is_none() {
            return Err(Refusal::not_found("practice instrument", id).field("device"));
        }
        match order.deed {
            PracticeDeed::Press => {
                self.walk(id);
                self.radio.act(id, Deed::Press);
            }
            PracticeDeed::Rest => self.rest(id, order.mm)?,
            PracticeDeed::Leave => self.radio.act(id, Deed::Leaves),
            PracticeDeed::Return => self.radio.act(id, Deed::Returns),
        }
        Ok(())
    }

    /// Goes on to the next place of the invented floor.
    fn walk(&mut self, id: &str) {
        if id == LASER && !self.put {
            let mm = FLOOR.get(self.pressed % FLOOR.len()).copied().unwrap_or_default();
            self.radio.act(id, Deed::Rests(Quantity::Length(Length::mm(mm))));
            self.pressed += 1;
        }
    }

    fn rest(&mut self, id: &str, mm: Option<f64>) -> Result<(), Refusal> {
        let (least, most) = Profile::practice_laser().range;
        let there = mm.filter(|mm| mm.is_finite()).map(|mm| Quantity::Length(Length::mm(mm)));
        let there = there.filter(|there| id == LASER && there.within(least, most));
        let there = there.ok_or_else(|| {
            Refusal::new(Kind::OutOfRange, "The practice laser reaches from 50 mm to 30 m.").field("mm")
        })?;
        self.put = true;
        self.radio.act(id, Deed::Rests(there));
        Ok(())
    }
}
