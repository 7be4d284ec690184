//! The verbs that keep everything in one file and take it back.

use crate::print::print;
use crate::rooms::folder;
use app::forms::{BackupRoom, Here};
use app::{App, Clock, Refusal};
use std::path::{Path, PathBuf};
use std::process::ExitCode;

pub(crate) fn backup(app: &App, to: Option<PathBuf>) -> Result<ExitCode, Refusal> {
    let made = app.backup(&to.unwrap_or_else(|| PathBuf::from(".")))?;
    print(&format!("{}: {} bytes, {} photographs, read back and whole\n", made.path, made.bytes, made.photographs));
    Ok(ExitCode::SUCCESS)
}

pub(crate) fn restore(home: Option<PathBuf>, file: &Path, look: bool) -> Result<ExitCode, Refusal> {
    let folder = folder(home)?;
    if look {
        let seen = App::open(&folder, Clock::from_environment())?.look_at_backup(file)?;
        lines(&seen.rooms, "");
        print(&format!("{} photographs\n", seen.photographs));
        return Ok(ExitCode::SUCCESS);
    }
    let (app, aside) = App::open_or_set_aside(&folder, Clock::from_environment())?;
    if let Some(aside) = aside {
        print(&format!("The damaged rooms were set aside as {}.\n", aside.display()));
    }
    let restored = app.restore(file)?;
    lines(&restored.taken, "taken in: ");
    lines(&restored.left, "left as it is: ");
    Ok(ExitCode::SUCCESS)
}

/// Makes damaged rooms anew, and says from what.
pub(crate) fn recover(home: Option<PathBuf>) -> Result<ExitCode, Refusal> {
    let found = App::recover(&folder(home)?, Clock::from_environment())?;
    print(&format!("{} rooms are here again.\n", found.rooms));
    match &found.copy {
        Some(copy) => print(&format!("Taken back: the copy {copy}, and {} later entries.\n", found.later)),
        None => print(&format!("There was no copy. Taken from the damaged file: {} entries.\n", found.later)),
    }
    if found.left > 0 {
        print(&format!("{} entries follow on one that cannot be read; they were left out.\n", found.left));
    }
    print(&format!("The damaged file is kept as {}.\n", found.aside));
    Ok(ExitCode::SUCCESS)
}

fn lines(rooms: &[BackupRoom], before: &str) {
    for room in rooms {
        let last = room.last.as_deref().unwrap_or("no entry");
        print(&format!(
            "{before}{} ({}): {} entries, last {last}; {}\n",
            room.name,
            room.id,
            room.entries,
            said(room.here)
        ));
    }
}

fn said(here: Here) -> &'static str {
    match here {
        Here::No => "not here",
        Here::Same => "here, the same",
        Here::Behind => "here, with fewer entries",
        Here::Ahead => "here, with more entries",
        Here::Differs => "here, and went another way: take its room file in as a second room",
    }
}
