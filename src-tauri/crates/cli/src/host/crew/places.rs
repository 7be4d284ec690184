//! The networks this machine is on.

use app::forms::CrewPlace;
use std::net::IpAddr;

/// Every address it can be reached at, this machine's own last. Only the plain form of addresses: a browser's address
/// bar takes no other without brackets and a scope.
pub fn places() -> Vec<CrewPlace> {
    let found = if_addrs::get_if_addrs().unwrap_or_default();
    let mut places: Vec<CrewPlace> = found.iter().filter(|one| one.ip().is_ipv4()).map(place).collect();
    places.sort_by(|a, b| (a.here, &a.name, &a.address).cmp(&(b.here, &b.name, &b.address)));
    places
}

fn place(one: &if_addrs::Interface) -> CrewPlace {
    CrewPlace { name: one.name.clone(), address: one.ip().to_string(), here: one.is_loopback() }
}

/// Whether an address is one of this machine's; all of 127.0.0.0/8 are.
pub(super) fn is_ours(address: IpAddr) -> bool {
    address.is_loopback() || places().iter().any(|place| place.address == address.to_string())
}
