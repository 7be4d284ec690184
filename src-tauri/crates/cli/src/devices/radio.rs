//! The radio that a verb asks, and where profiles are kept.

use app::bluetooth::decode::Kind as Measured;
use app::bluetooth::profile::Profile;
use app::bluetooth::radio::Radio;
use app::bluetooth::real::RealRadio;
use app::bluetooth::simulated::{Deed, LASER, LEVEL, SimulatedRadio};
use app::bluetooth::state::Adapter;
use app::{Kind, Refusal};
use std::path::{Path, PathBuf};
use std::time::Duration;

/// Where profiles that were taught are kept.
pub(super) fn profiles(home: &Path) -> PathBuf {
    home.join("profiles")
}

/// The radio that plays or hears this instrument.
pub(super) fn radio(device: &str) -> Box<dyn Radio> {
    match practice(device) {
        Some(_) => Box::new(played()),
        None => Box::new(RealRadio::new()),
    }
}

/// The practice radio with nobody to press: the laser is put somewhere else and pressed every other second.
fn played() -> SimulatedRadio {
    let radio = SimulatedRadio::practice(1);
    for press in 1..=1800_u64 {
        let at = Duration::from_secs(2 * press);
        let rests = Measured::Length.quantity(1000.0 + 7.0 * (press * press % 31) as f64);
        radio.script(at, LASER, Deed::Rests(rests));
        radio.script(at, LASER, Deed::Press);
    }
    radio
}

pub(super) fn practice(device: &str) -> Option<Profile> {
    match device {
        LASER => Some(Profile::practice_laser()),
        LEVEL => Some(Profile::practice_level()),
        _ => None,
    }
}

/// The sentence for a radio that cannot be used.
pub(super) fn unfit(adapter: Adapter) -> Result<(), Refusal> {
    adapter.bars().map_or(Ok(()), |state| Err(Refusal::new(Kind::NotReady, state.words())))
}
