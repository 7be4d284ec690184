//! `truefall host`, and how it is opened to the crew.

use crate::arguments::HostWords;
use crate::rooms;
use app::forms::{CrewOpen, CrewRole};
use app::{Kind, Refusal};
use host::Opening;
use std::path::PathBuf;
use std::process::ExitCode;

/// Serves until the program is stopped.
pub(crate) fn serve(home: Option<PathBuf>, words: HostWords) -> Result<ExitCode, Refusal> {
    let folder = rooms::folder(home.clone())?;
    let opening = if words.open_to_crew { Some(opening(&words)?) } else { None };
    host::serve(rooms::open(home)?, words.port, Some(folder), opening.as_ref())
}

fn opening(words: &HostWords) -> Result<Opening, Refusal> {
    let role = if words.role == "write" { CrewRole::Write } else { CrewRole::Read };
    let at = if words.at.is_empty() { networks()? } else { words.at.clone() };
    Ok(Opening { open: CrewOpen { at, minutes: words.minutes, role }, port: words.crew_port })
}

/// Every network that reaches further than this machine.
fn networks() -> Result<Vec<String>, Refusal> {
    let found: Vec<String> =
        host::places().into_iter().filter(|place| !place.here).map(|place| place.address).collect();
    let none =
        || Refusal::new(Kind::NotReady, "This machine is on no network. Join one, or name an address with --at.");
    if found.is_empty() { Err(none()) } else { Ok(found) }
}
