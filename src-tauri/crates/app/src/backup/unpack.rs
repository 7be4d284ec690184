//! A backup taken apart: every name known, every digest right, nothing unfolding beyond the file itself.

use super::digested::copy;
use super::names::ROOMS;
use crate::files::atomic_write::{unread, unwritten};
use crate::files::sha256sums;
use crate::photographs::shelf::PHOTOGRAPHS;
use judge::{Kind, Refusal};
use std::fs::{self, File};
use std::io::{self, Read};
use std::path::Path;
use zip::ZipArchive;

/// The longest list of digests that is read.
const MOST_LIST: u64 = 64 << 20;

/// Whether a name is that of a photograph: the 64 digits of its digest.
pub(super) fn is_digest(name: &str) -> bool {
    name.len() == 64 && name.bytes().all(|byte| matches!(byte, b'0'..=b'9' | b'a'..=b'f'))
}

/// Goes through a backup and throws away what it reads.
///
/// # Errors
/// As [`unpack`].
pub(super) fn check(path: &Path) -> Result<(), Refusal> {
    each(path, |_, from| copy(from, &mut io::sink()).map_err(|error| unread(path, &error)))
}

/// Takes a backup apart into an empty folder.
///
/// # Errors
/// `not-ours` for a file that is none, `damaged` naming the part that is not as it was written.
pub(super) fn unpack(path: &Path, into: &Path) -> Result<(), Refusal> {
    fs::create_dir_all(into.join(PHOTOGRAPHS)).map_err(|error| unwritten(into, &error))?;
    each(path, |name, from| {
        let to = into.join(name);
        let mut file = File::create(&to).map_err(|error| unwritten(&to, &error))?;
        copy(from, &mut file).map_err(|_| damaged(name))
    })
}

/// Hands over every part by its name, and compares what came of it with the list.
fn each(path: &Path, mut take: impl FnMut(&str, &mut dyn Read) -> Result<String, Refusal>) -> Result<(), Refusal> {
    let file = File::open(path).map_err(|error| unread(path, &error))?;
    let mut zip = ZipArchive::new(file).map_err(|_| not_ours())?;
    let (mut found, mut list) = (Vec::new(), None);
    for at in 0..zip.len() {
        let mut part = zip.by_index(at).map_err(|_| damaged("a part"))?;
        let name = part.name().map_err(|_| damaged("a part"))?.to_string();
        if name == sha256sums::NAME {
            let mut text = String::new();
            let read = (&mut part).take(MOST_LIST).read_to_string(&mut text);
            read.map_err(|_| damaged(&name))?;
            list = Some(text);
        } else if is_known(&name) {
            let digest = take(&name, &mut part)?;
            found.push((name, digest));
        } else {
            return Err(not_ours());
        }
    }
    let list = list.ok_or_else(not_ours)?;
    compare(&list, &found)
}

fn is_known(name: &str) -> bool {
    let photograph = name.strip_prefix(PHOTOGRAPHS).and_then(|rest| rest.strip_prefix('/'));
    name == ROOMS || photograph.is_some_and(is_digest)
}

fn compare(list: &str, found: &[(String, String)]) -> Result<(), Refusal> {
    if !found.iter().any(|(name, _)| name == ROOMS) {
        return Err(not_ours());
    }
    if sha256sums::write(found.iter().map(|(name, digest)| (name.as_str(), digest.clone()))) == list {
        return Ok(());
    }
    let stands = |name: &str, digest: &str| list.lines().any(|line| line == format!("{digest}  {name}"));
    let wrong = found.iter().find(|(name, digest)| !stands(name, digest));
    let name = wrong.map_or(sha256sums::NAME, |(name, _)| name.as_str());
    Err(damaged(name))
}

/// What the libraries say of it would help nobody.
fn damaged(name: &str) -> Refusal {
    let message =
        format!("{name} in the backup is not as it was written. Nothing was taken from it: choose an older one.");
    Refusal::new(Kind::Damaged, message).field("file")
}

fn not_ours() -> Refusal {
    let message = "This file is not a backup of Truefall, or it was cut off. Choose one that Truefall wrote.";
    Refusal::new(Kind::NotOurs, message).field("file")
}
