//! How each room stands: its verdict, kept beside the rooms under the hash of the journal it was judged from.
//!
//! Nothing hangs on the file: a line that does not fit its room's journal says nothing, and without the file all rooms
//! are judged anew.

use crate::listeners::locked;
use judge::forms::Verdict;
use std::collections::HashMap;
use std::fs::{self, OpenOptions};
use std::io::Write;
use std::path::{Path, PathBuf};
use std::sync::Mutex;
use store::Listed;

/// The first line: a program that judges otherwise begins a file of its own.
const FORM: &str = concat!("truefall ", env!("CARGO_PKG_VERSION"), " standings 1");

/// The verdicts that are known.
pub(crate) struct VerdictCache {
    path: Option<PathBuf>,
    known: Mutex<HashMap<String, (String, Verdict)>>,
}

impl VerdictCache {
    pub(crate) fn of(folder: Option<&Path>) -> Self {
        let path = folder.map(|folder| folder.join("standings"));
        let text = path.as_ref().and_then(|path| fs::read_to_string(path).ok()).unwrap_or_default();
        let lines = text.lines();
        let fits = text.starts_with(FORM);
        let known = lines.skip(1).filter(|_| fits).filter_map(line).collect();
        Self { path, known: Mutex::new(known) }
    }

    /// The verdict of a room as it is now; none where it was not judged since its last change.
    pub(crate) fn known(&self, listed: &Listed) -> Option<Verdict> {
        let known = locked(&self.known);
        let (head, verdict) = known.get(listed.room.id.as_str())?;
        (*head == listed.last.as_ref()?.1.to_string()).then_some(*verdict)
    }

    pub(super) fn keep(&self, judged: Vec<(String, String, Verdict)>) {
        let mut known = locked(&self.known);
        let text: String =
            judged.iter().map(|(room, head, verdict)| format!("{head} {} {room}\n", name(*verdict))).collect();
        known.extend(judged.into_iter().map(|(room, head, verdict)| (room, (head, verdict))));
        if let Some(path) = &self.path {
            // What cannot be written is judged again another day.
            let _ = added(path, &text);
        }
    }
}

fn added(path: &Path, text: &str) -> std::io::Result<()> {
    let begun = fs::read_to_string(path).is_ok_and(|text| text.starts_with(FORM));
    if !begun {
        fs::write(path, format!("{FORM}\n"))?;
    }
    OpenOptions::new().append(true).open(path)?.write_all(text.as_bytes())
}

fn line(text: &str) -> Option<(String, (String, Verdict))> {
    let mut parts = text.splitn(3, ' ');
    let (head, verdict, room) = (parts.next()?, parts.next()?, parts.next()?);
    let verdict = ALL.into_iter().find(|one| name(*one) == verdict)?;
    Some((room.to_string(), (head.to_string(), verdict)))
}

const ALL: [Verdict; 4] = [Verdict::Within, Verdict::Out, Verdict::TooCloseToCall, Verdict::NotTested];

fn name(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Within => "within",
        Verdict::Out => "out",
        Verdict::TooCloseToCall => "too-close-to-call",
        Verdict::NotTested => "not-tested",
    }
}
