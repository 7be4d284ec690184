//! Every reading of one instrument, a line each.

use super::radio::{practice, profiles, radio, unfit};
use app::Refusal;
use app::bluetooth::bridge::{Bridge, Told};
use app::bluetooth::instrument::Heard;
use app::bluetooth::profile::{Profile, Shelf};
use app::bluetooth::reading::{Quantity, Reading};
use app::bluetooth::real::drive;
use data_encoding::HEXLOWER;
use std::cell::RefCell;
use std::path::Path;
use std::process::ExitCode;
use std::time::{Duration, Instant};

pub(super) fn listen(
    home: &Path,
    device: &str,
    readings: Option<usize>,
    seconds: Option<u64>,
) -> Result<ExitCode, Refusal> {
    let shelf = Shelf::with_folder(&profiles(home));
    let mut bridge = Bridge::new(radio(device));
    bridge.look(true);
    // The profile, as soon as it is known which; then the instrument is taken into use.
    let known: RefCell<Option<Profile>> = RefCell::new(practice(device));
    let (mut used, mut count, mut fit) = (practice(device).is_some(), 0, Ok(()));
    let until = seconds.map(|seconds| Instant::now() + Duration::from_secs(seconds));
    let take_up = |bridge: &mut Bridge| {
        if let Some(profile) = known.borrow_mut().take() {
            bridge.look(false);
            bridge.take_up(device.into(), profile);
        }
        true
    };
    drive(&mut bridge, Instant::now(), until, take_up, |told| {
        match told {
            Told::Adapter(adapter) => fit = unfit(adapter),
            Told::Found(found) if found.id.as_str() == device && !used => {
                used = true;
                *known.borrow_mut() = shelf.find(&found).or_else(Shelf::open_standard);
            }
            Told::Found(_) => {}
            Told::Instrument(_, Heard::Reading(reading)) => {
                count += 1;
                println!("{}", line(&reading));
            }
            Told::Instrument(_, Heard::State(state)) => eprintln!("{}", state.words()),
            Told::Instrument(_, Heard::NotAReading(why)) => eprintln!("{why}"),
            Told::Instrument(..) => {}
        }
        fit.is_ok() && readings.is_none_or(|most| count < most)
    });
    fit.map(|()| ExitCode::SUCCESS)
}

fn line(reading: &Reading) -> String {
    let unit = match reading.value {
        Quantity::Length(_) => "mm",
        Quantity::Angle(_) => "degrees",
    };
    serde_json::json!({
        unit: reading.value.number(),
        "u": reading.u.number(),
        "raw": HEXLOWER.encode(&reading.raw),
        "profile": reading.profile,
        "profile_version": reading.profile_version,
    })
    .to_string()
}
