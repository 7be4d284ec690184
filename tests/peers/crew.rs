//! Eight devices, five readings a second each, over the real door: twenty seconds, or ten minutes with `--long`.
//! Prints what was sent, lost and doubled, how long an answer took, and how much memory stayed.

use site_tests::shift::{Told, in_hand, shift};
use std::time::Duration;

fn main() {
    let seconds = if std::env::args().any(|word| word == "--long") { 600 } else { 20 };
    let before = in_hand();
    let Told { sent, lost, doubled, heard, waits, memory } = shift(8, 5 * seconds, Duration::from_millis(200));
    let at = |part: usize| waits.get(waits.len() * part / 100).map_or(0.0, |wait| wait.as_secs_f64() * 1e3);
    let most = waits.last().map_or(0.0, |wait| wait.as_secs_f64() * 1e3);
    println!("8 devices, 5 readings a second each, {seconds} s: sent {sent}, lost {lost}, doubled {doubled}");
    println!(
        "changes heard {heard}; an answer took {:.1} ms, 95 in 100 under {:.1} ms, at most {most:.1} ms",
        at(50),
        at(95)
    );
    let [early, half, end] = memory.map(|bytes| bytes >> 10);
    println!("memory in KiB: {} before, {early} at a tenth, {half} halfway, {end} at the end", before >> 10);
    assert!(lost == 0 && doubled == 0, "every reading is kept once");
}
