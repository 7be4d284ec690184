//! Instruments from the command line, by the same core as on the screens.

mod listen;
mod radio;
mod teach;

use crate::arguments::DevicesVerb;
use app::Refusal;
use app::bluetooth::bridge::{Bridge, Told};
use app::bluetooth::profile::Shelf;
use app::bluetooth::radio::Found;
use app::bluetooth::real::{RealRadio, drive};
use app::bluetooth::simulated::{LASER, LEVEL};
use radio::{profiles, unfit};
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
