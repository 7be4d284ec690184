//! Eight devices, five readings a second each, over the real door: twenty seconds, or ten minutes with `--long`.
//! Prints what was sent, lost and doubled, how long an answer took, and how much memory stayed.

use site_tests::shift::{Told, shift};
use std::time::Duration;

fn main() {
    let seconds = if std::env::args().any(|word| word == "--long") { 600 } else { 20 };
    let before = memory();
    let Told { sent, lost, doubled, heard, waits } = shift(8, 5 * seconds, Duration::from_millis(200));
    let at = |part: usize| waits.get(waits.len() * part / 100).map_or(0.0, |wait| wait.as_secs_f64() * 1e3);
    let most = waits.last().map_or(0.0, |wait| wait.as_secs_f64() * 1e3);
    println!("8 devices, 5 readings a second each, {seconds} s: sent {sent}, lost {lost}, doubled {doubled}");
    println!(
        "changes heard {heard}; an answer took {:.1} ms, 95 in 100 under {:.1} ms, at most {most:.1} ms",
        at(50),
        at(95)
    );
    println!("memory: {} KiB before, {} KiB after", before / 1024, memory() / 1024);
    assert!(lost == 0 && doubled == 0, "every reading is kept once");
}

/// The memory this process has in hand, in bytes; 0 where the system does not say.
fn memory() -> u64 {
    let said = std::fs::read_to_string("/proc/self/statm").unwrap_or_default();
    said.split(' ').nth(1).and_then(|pages| pages.parse::<u64>().ok()).unwrap_or(0) * 4096
}
