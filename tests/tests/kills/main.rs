//! The program itself, killed at seeded moments while it keeps readings, takes a queue, a list or a room in, brings an
//! older file up to date, or writes a backup or a record. What it acknowledged is there afterwards, the journal fits,
//! the program opens, and nothing half stands under a final name.
//!
//! 64 kills as a matter of course, 1152 with `TRUEFALL_LONG=1` (`cargo verify --long`). A kill counts only where the
//! program was still running.

mod bench;
mod client;
mod moment;
mod rounds;
mod whole;

use bench::Bench;
use rand::SeedableRng;
use rand_chacha::ChaCha8Rng;
use rounds::ROUNDS;

/// Kills of each kind.
fn wanted() -> u32 {
    site_tests::long(8, 144)
}

#[test]
fn nothing_is_lost_whenever_the_program_is_killed() {
    let bench = Bench::new();
    let mut counted = Vec::new();
    for (name, round) in ROUNDS {
        let (mut killed, mut tries) = (0, 0);
        while killed < wanted() {
            tries += 1;
            assert!(tries < 100 * wanted(), "{name}: it ends before it is killed");
            // The seed of a round that fails is the last one printed, and makes the same round again.
            let mut seeded = ChaCha8Rng::seed_from_u64(u64::from(tries));
            println!("{name}, seed {tries}");
            killed += u32::from(round(&bench, &mut seeded));
        }
        counted.push(format!("{name}: {killed} kills in {tries} runs"));
    }
    println!("{}", counted.join("\n"));
}
