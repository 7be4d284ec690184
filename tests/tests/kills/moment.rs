//! The moment of a kill: once the files have grown by so many bytes, and a while of idle turns after that.

use rand::Rng;
use rand_chacha::ChaCha8Rng;
use std::fs;
use std::hint;
use std::path::Path;
use std::process::{Child, Command, Stdio};

/// Idle turns after the bytes: up to this power of two, small ones as likely as large.
const MOST_TURNS: u32 = 24;

/// The bytes of all files in a folder.
fn bytes_in(folder: &Path) -> u64 {
    let entries = fs::read_dir(folder).into_iter().flatten().flatten();
    let size = |entry: fs::DirEntry| match entry.metadata() {
        Ok(about) if about.is_dir() => bytes_in(&entry.path()),
        Ok(about) => about.len(),
        Err(_) => 0,
    };
    entries.map(size).sum()
}

fn start(command: &mut Command) -> Child {
    command.stdin(Stdio::null()).stdout(Stdio::null()).stderr(Stdio::null()).spawn().expect("the program starts")
}

/// By how many bytes a folder grows at most while the program runs undisturbed.
pub(crate) fn growth(command: &mut Command, folder: &Path) -> u64 {
    let before = bytes_in(folder);
    let mut child = start(command);
    let mut most = before;
    let ended = loop {
        most = most.max(bytes_in(folder));
        if let Some(ended) = child.try_wait().expect("it can be followed") {
            break ended;
        }
    };
    assert!(ended.success(), "undisturbed, it does what is asked: {command:?}");
    most - before
}

/// Kills the program at a seeded moment, and says whether it was still running.
pub(crate) fn killed(command: &mut Command, folder: &Path, growth: u64, seeded: &mut ChaCha8Rng) -> bool {
    let wanted = bytes_in(folder) + below(seeded, growth + 1);
    let mut child = start(command);
    while bytes_in(folder) < wanted {
        if child.try_wait().expect("it can be followed").is_some() {
            return false;
        }
    }
    idle(seeded);
    end(&mut child)
}

/// Kills a child, and says whether that is what ended it.
pub(crate) fn end(child: &mut Child) -> bool {
    // One that has just ended by itself cannot be killed any more.
    let _ = child.kill();
    child.wait().expect("it ends").code().is_none()
}

/// Passes a seeded while without sleeping.
pub(crate) fn idle(seeded: &mut ChaCha8Rng) {
    let power = below(seeded, u64::from(MOST_TURNS) + 1);
    let turns = below(seeded, 1 << power);
    (0..turns).for_each(|_| hint::spin_loop());
}

/// A whole number from 0 up to, but not including, `most`.
pub(crate) fn below(seeded: &mut ChaCha8Rng, most: u64) -> u64 {
    seeded.next_u64() % most.max(1)
}
