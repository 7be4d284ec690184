//! Many at the door at once.

use app::forms::CrewRole;
use host::Limits;
use serde_json::json;
use site_tests::site::Site;
use std::io::{ErrorKind, Read};
use std::net::TcpStream;
use std::time::Duration;

/// How many come at once: a few here, ten thousand where `TRUEFALL_CROWD` says so.
fn crowd() -> usize {
    std::env::var("TRUEFALL_CROWD").ok().and_then(|text| text.parse().ok()).unwrap_or(400)
}

/// The memory this process has in hand, in bytes; nothing where the system does not say.
fn memory() -> Option<u64> {
    let said = std::fs::read_to_string("/proc/self/statm").ok()?;
    said.split(' ').nth(1)?.parse::<u64>().ok().map(|pages| pages * 4096)
}

#[test]
fn a_crowd_that_says_nothing_takes_no_memory_and_keeps_nobody_out() {
    let most = 24;
    let patience = Duration::from_secs(3600);
    let site = Site::open(Limits { per_address: most, patience, ..Limits::default() });
    let cookie = site.member("Ana", CrewRole::Read);
    assert_eq!(site.of(&cookie, "rooms", &json!({})).status, 200);
    let before = memory();
    let mut held: Vec<TcpStream> = Vec::new();
    for _ in 0..crowd() {
        let mut one = TcpStream::connect(&site.at).expect("the system takes it");
        one.set_read_timeout(Some(Duration::from_secs(20))).expect("a limit");
        // Whoever has a place is waited for; with the places of this address taken, it is closed at once.
        if held.len() < most || one.read(&mut [0u8]).is_err_and(|error| error.kind() == ErrorKind::WouldBlock) {
            held.push(one);
        }
    }
    assert!(held.len() < most + 4, "{} have a place", held.len());
    site.home("rooms", &json!({}));
    if let (Some(before), Some(after)) = (before, memory()) {
        let grown = after.saturating_sub(before);
        assert!(grown < 24 << 20, "{} came and {grown} bytes stayed", crowd());
    }
    drop(held);
    assert!(again(&site, &cookie), "when they are gone, the door is as it was");
}

/// Whether a member is answered once the places are given back, which the door does as it sees each connection end.
fn again(site: &Site, cookie: &str) -> bool {
    (0..10_000).any(|_| site.of(cookie, "rooms", &json!({})).status == 200)
}

#[test]
fn eight_devices_at_once_lose_nothing_and_double_nothing() {
    let told = site_tests::shift::shift(8, 25, std::time::Duration::ZERO);
    assert_eq!((told.sent, told.lost, told.doubled), (200, 0, 0));
    assert!(told.heard > 0, "and the others hear of it");
}
