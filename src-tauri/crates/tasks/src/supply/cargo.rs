//! The crates, as cargo and its lock file know them.

use super::part::purl;
use super::{Kind, Part};
use crate::checkout::Checkout;
use crate::child;
use crate::outcome::Outcome;
use serde_json::Value;
use std::collections::{BTreeSet, HashMap};
use std::process::Command;

/// What is handed out: the window and the command line.
const SHIPPED: [&str; 2] = ["shell", "cli"];

/// What cargo knows of every package of every platform; of this one alone where the others are not here and cannot be
/// brought.
pub(super) fn metadata(checkout: &Checkout) -> Outcome<Value> {
    const ASK: [&str; 4] = ["metadata", "--format-version", "1", "--locked"];
    let ask = |more: &[&str]| child::answer(&mut child::cargo(checkout.root(), &[&ASK, more].concat()));
    let here = || {
        println!("The crates of other platforms are not here and cannot be brought, so only this platform's are seen.");
        ask(&["--offline", "--filter-platform", &host()?])
    };
    let text = ask(&["--offline"]).or_else(|| ask(&[])).or_else(here);
    let text = text.ok_or("cargo cannot describe the workspace by its lock file. Run `cargo metadata --locked`.")?;
    serde_json::from_str(&text).map_err(|why| format!("What cargo describes is not understood: {why}."))
}

fn host() -> Option<String> {
    let about = child::answer(Command::new("rustc").arg("-vV"))?;
    about.lines().find_map(|line| line.strip_prefix("host: ")).map(str::to_owned)
}

/// Every crate that is not of this workspace.
pub(super) fn parts(metadata: &Value, checkout: &Checkout) -> Outcome<Vec<Part>> {
    let lock = checkout.root().join("Cargo.lock");
    let lock = std::fs::read_to_string(&lock).map_err(|why| format!("{}: {why}.", lock.display()))?;
    let digests = digests(&lock)?;
    let (uses, ships) = (uses(metadata), shipped(metadata));
    let address =
        |id: &str| package(metadata, id).map(|one| purl(Kind::Cargo, text(one, "name"), text(one, "version")));
    let all = list(&metadata["packages"]).filter(|one| !is_own(metadata, text(one, "id")));
    let part = |one: &Value| {
        let (id, name, version) = (text(one, "id"), text(one, "name"), text(one, "version"));
        Part {
            kind: Kind::Cargo,
            name: name.to_owned(),
            version: version.to_owned(),
            licence: text(one, "license").to_owned(),
            digest: digests.get(&(name.to_owned(), version.to_owned())).cloned(),
            origin: one["source"].as_str().map(str::to_owned),
            ships: ships.contains(id),
            uses: uses.get(id).into_iter().flatten().filter_map(|(id, _)| address(id)).collect(),
        }
    };
    Ok(all.map(part).collect())
}

/// The packages of this workspace: name, folder, and the libraries each uses by the names its sources know them by.
pub(super) fn own(metadata: &Value) -> Vec<(&str, &str, Vec<&str>)> {
    let members = list(&metadata["packages"]).filter(|one| is_own(metadata, text(one, "id")));
    let all = list(&metadata["resolve"]["nodes"]).collect::<Vec<_>>();
    members
        .map(|one| {
            let node = all.iter().find(|node| node["id"] == one["id"]);
            let libraries = node.into_iter().flat_map(|node| list(&node["deps"])).map(|to| text(to, "name"));
            (text(one, "name"), text(one, "manifest_path").trim_end_matches("Cargo.toml"), libraries.collect())
        })
        .collect()
}

/// The digest of each crate by its name and version.
fn digests(lock: &str) -> Outcome<HashMap<(String, String), String>> {
    let table: toml::Table = lock.parse().map_err(|why| format!("Cargo.lock: {why}"))?;
    let all = table.get("package").and_then(|all| all.as_array()).into_iter().flatten();
    let word = |one: &toml::Value, key: &str| Some(one.get(key)?.as_str()?.to_owned());
    Ok(all.filter_map(|one| Some(((word(one, "name")?, word(one, "version")?), word(one, "checksum")?))).collect())
}

/// What each package uses, and whether it goes into what is built.
fn uses(metadata: &Value) -> HashMap<&str, Vec<(&str, bool)>> {
    let normal = |to: &Value| list(&to["dep_kinds"]).any(|kind| kind["kind"].is_null());
    let nodes = list(&metadata["resolve"]["nodes"]);
    nodes
        .map(|node| {
            let all = list(&node["deps"]).map(|to| (text(to, "pkg"), normal(to)));
            (text(node, "id"), all.collect())
        })
        .collect()
}

/// Everything that goes into what is handed out.
fn shipped(metadata: &Value) -> BTreeSet<&str> {
    let uses = uses(metadata);
    let start = list(&metadata["packages"]).filter(|one| SHIPPED.contains(&text(one, "name")));
    let mut next: Vec<&str> = start.map(|one| text(one, "id")).filter(|id| is_own(metadata, id)).collect();
    let mut reached = BTreeSet::new();
    while let Some(id) = next.pop() {
        if reached.insert(id) {
            next.extend(uses.get(id).into_iter().flatten().filter(|(_, goes_in)| *goes_in).map(|(to, _)| *to));
        }
    }
    reached
}

fn is_own(metadata: &Value, id: &str) -> bool {
    list(&metadata["workspace_members"]).any(|member| member == id)
}

fn package<'a>(metadata: &'a Value, id: &str) -> Option<&'a Value> {
    list(&metadata["packages"]).find(|one| text(one, "id") == id)
}

pub(super) fn list(value: &Value) -> impl Iterator<Item = &Value> {
    value.as_array().into_iter().flatten()
}

pub(super) fn text<'a>(value: &'a Value, key: &str) -> &'a str {
    value[key].as_str().unwrap_or_default()
}
