//! Instruments from the command line, by the same core as on the screens.

mod listen;
mod teach;

use crate::arguments::DevicesVerb;
use app::bluetooth::bridge::{Bridge, Told};
use app::bluetooth::decode::Kind as Measured;
use app::bluetooth::profile::{Profile, Shelf};
use app::bluetooth::radio::{Found, Radio};
use app::bluetooth::real::{RealRadio, drive};
use app::bluetooth::simulated::{Deed, LASER, LEVEL, SimulatedRadio};
use app::bluetooth::state::Adapter;
use app::{Kind, Refusal};
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::process::ExitCode;
use std::time::{Duration, Instant};

pub(crate) fn devices(verb: DevicesVerb, home: Option<PathBuf>) -> Result<ExitCode, Refusal> {
    let home = crate::rooms::folder(home)?;
    match verb {
        DevicesVerb::Scan { seconds } => scan(&home, Duration::from_secs(seconds)),
        DevicesVerb::Listen { device, readings, seconds } => listen::listen(&home, &device, readings, seconds),
        DevicesVerb::Teach(teach) => teach::teach(&home, &teach),
    }
}

/// Where profiles that were taught are kept.
fn profiles(home: &Path) -> PathBuf {
    home.join("profiles")
}

/// The radio that plays or hears this instrument.
fn radio(device: &str) -> Box<dyn Radio> {
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

fn practice(device: &str) -> Option<Profile> {
    match device {
        LASER => Some(Profile::practice_laser()),
        LEVEL => Some(Profile::practice_level()),
        _ => None,
    }
}

/// The sentence for a radio that cannot be used.
fn unfit(adapter: Adapter) -> Result<(), Refusal> {
    adapter.bars().map_or(Ok(()), |state| Err(Refusal::new(Kind::NotReady, state.words())))
}

fn scan(home: &Path, lasts: Duration) -> Result<ExitCode, Refusal> {
    let shelf = Shelf::with_folder(&profiles(home));
    for (file, why) in &shelf.refused {
        eprintln!("{} is left out: {why}.", file.display());
    }
    let mut bridge = Bridge::new(Box::new(RealRadio::new()));
    bridge.look(true);
    let (mut heard, mut fit) = (BTreeMap::new(), Ok(()));
    let until = Instant::now() + lasts;
    drive(
        &mut bridge,
        Instant::now(),
        Some(until),
        |_| true,
        |told| {
            match told {
                Told::Adapter(adapter) => fit = unfit(adapter),
                Told::Found(found) => drop(heard.insert(found.id.as_str().to_string(), found)),
                Told::Instrument(..) => {}
            }
            fit.is_ok()
        },
    );
    fit?;
    heard.values().for_each(|found| println!("{}", line(found, &shelf)));
    println!("{LASER}  practice laser\n{LEVEL}  practice level");
    Ok(ExitCode::SUCCESS)
}

fn line(found: &Found, shelf: &Shelf) -> String {
    let known =
        shelf.find(found).map_or("not known: teach it".to_string(), |profile| format!("read by {}", profile.name));
    let signal = found.signal_dbm.map_or(String::new(), |dbm| format!("  {dbm} dBm"));
    format!("{}  {}{signal}  {known}", found.id, found.name)
}
