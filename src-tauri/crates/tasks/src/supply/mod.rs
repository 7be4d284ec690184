//! What the program is made of, and whether it may be: `cargo run -p tasks -- supply`, a step of `cargo verify`.
//!
//! Read from the two lock files and from what cargo knows of its packages; nothing is fetched but what a build needs.

mod cargo;
mod deny;
mod licence;
mod npm;
mod part;
mod screens;
mod unused;

pub(crate) use part::{Kind, Part};

use crate::checkout::Checkout;
use crate::outcome::Outcome;
use licence::Allowed;
use std::collections::{BTreeMap, BTreeSet};

/// So many packages may be there in more than one version. It only ever comes down.
const MOST_DOUBLED: usize = 60;

/// Everything that the program and its screens are made of, this workspace apart, by kind, name and version.
pub(crate) fn parts(checkout: &Checkout) -> Outcome<Vec<Part>> {
    let mut parts = cargo::parts(&cargo::metadata(checkout)?, checkout)?;
    parts.extend(npm::parts(&npm::lock(checkout)?)?);
    parts.sort_by(|a, b| (a.kind, &a.name, &a.version).cmp(&(b.kind, &b.name, &b.version)));
    Ok(parts)
}

/// Holds every package to the rules; the long form asks cargo-deny as well.
pub(crate) fn check(checkout: &Checkout, long: bool) -> Outcome {
    let parts = parts(checkout)?;
    let count = |kind| parts.iter().filter(|part| part.kind == kind).count();
    println!("{} crates and {} packages of the screens", count(Kind::Cargo), count(Kind::Npm));
    let allowed = Allowed::read(checkout)?;
    let mut wrong: Vec<String> = parts.iter().filter_map(|part| allowed.complaint(part)).collect();
    wrong.extend(parts.iter().filter_map(Part::complaint));
    wrong.extend(doubled(&parts));
    wrong.extend(npm::out_of_step(&npm::lock(checkout)?, checkout)?);
    wrong.extend(unused::crates(&cargo::metadata(checkout)?, checkout)?);
    wrong.extend(unused::packages(&npm::lock(checkout)?, checkout)?);
    if !wrong.is_empty() {
        return Err(wrong.join("\n"));
    }
    println!("each is of a known origin, with its digest, under a licence of .cargo/deny.toml, and used");
    screens::built_twice(checkout)?;
    if long {
        return deny::check(checkout);
    }
    println!("Not looked at here: advisories. Their list lies on another site; --long asks for it.");
    Ok(())
}

/// Crates that are there in several versions: how many is printed, too many is a complaint.
fn doubled(parts: &[Part]) -> Option<String> {
    let mut versions: BTreeMap<&str, BTreeSet<&str>> = BTreeMap::new();
    for part in parts.iter().filter(|part| part.kind == Kind::Cargo) {
        versions.entry(&part.name).or_default().insert(&part.version);
    }
    versions.retain(|_, versions| versions.len() > 1);
    let names: Vec<String> = versions
        .iter()
        .map(|(name, all)| format!("{name} {}", all.iter().copied().collect::<Vec<_>>().join("/")))
        .collect();
    println!("{} crates come in more than one version (the cap is {MOST_DOUBLED}): {}", names.len(), names.join(", "));
    (names.len() > MOST_DOUBLED).then(|| {
        format!(
            "{} crates come in more than one version; {MOST_DOUBLED} is the cap. Bring the new ones together.",
            names.len()
        )
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn many_versions_are_too_many() {
        let part = |k: usize, version: &str| Part { name: format!("p{k}"), version: version.into(), ..Part::sample() };
        let all: Vec<Part> = (0..=MOST_DOUBLED).flat_map(|k| [part(k, "1.0.0"), part(k, "2.0.0")]).collect();
        assert!(doubled(&all).is_some());
        assert!(doubled(&all[2..]).is_none(), "as many as there may be");
        assert!(doubled(&[part(1, "1.0.0"), part(1, "1.0.0")]).is_none(), "one version is one");
    }
}
