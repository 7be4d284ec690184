//! The packages of the screens, as their lock file knows them.

use super::part::purl;
use super::{Kind, Part};
use crate::checkout::Checkout;
use crate::outcome::Outcome;
use data_encoding::{BASE64, HEXLOWER};
use serde_json::{Map, Value};
use std::path::Path;

/// Where packages lie, and where those lie that only one of them uses.
const FOLDER: &str = "node_modules/";

/// The lock file.
pub(super) fn lock(checkout: &Checkout) -> Outcome<Value> {
    read(&checkout.ui().join("package-lock.json"))
}

pub(super) fn read(path: &Path) -> Outcome<Value> {
    let text = std::fs::read_to_string(path).map_err(|why| format!("{}: {why}.", path.display()))?;
    serde_json::from_str(&text).map_err(|why| format!("{}: {why}.", path.display()))
}

/// Every package of the lock, by where it lies; the screens themselves apart.
pub(super) fn packages(lock: &Value) -> impl Iterator<Item = (&String, &Value)> {
    lock["packages"].as_object().into_iter().flatten().filter(|(path, _)| !path.is_empty())
}

/// Every package as a part.
pub(super) fn parts(lock: &Value) -> Outcome<Vec<Part>> {
    let all = lock["packages"].as_object().ok_or("The lock of the screens lists no packages.")?;
    let word = |one: &Value, key: &str| one[key].as_str().map(str::to_owned);
    let part = |(path, one): (&String, &Value)| Part {
        kind: Kind::Npm,
        name: name(path).to_owned(),
        version: word(one, "version").unwrap_or_default(),
        licence: word(one, "license").unwrap_or_default(),
        digest: one["integrity"].as_str().and_then(sha512),
        origin: word(one, "resolved"),
        ships: one["dev"] != true,
        uses: used(all, path, one),
    };
    Ok(packages(lock).map(part).collect())
}

/// The name of the package that lies at this path.
pub(super) fn name(path: &str) -> &str {
    path.rsplit_once(FOLDER).map_or(path, |(_, name)| name)
}

/// The addresses of what a package uses, as far as it is there: some is only for other platforms.
fn used(all: &Map<String, Value>, path: &str, one: &Value) -> Vec<String> {
    let kinds = ["dependencies", "optionalDependencies", "peerDependencies"];
    let names = kinds.iter().flat_map(|kind| one[*kind].as_object().into_iter().flatten().map(|(name, _)| name));
    let mut found: Vec<String> = names.filter_map(|name| nearest(all, path, name)).collect();
    found.sort();
    found.dedup();
    found
}

/// The package of a name that one at this path finds: its own, else that of the nearest folder above.
fn nearest(all: &Map<String, Value>, path: &str, wanted: &str) -> Option<String> {
    let mut from = path;
    loop {
        let below = if from.is_empty() { String::new() } else { format!("{from}/") };
        if let Some(one) = all.get(&format!("{below}{FOLDER}{wanted}")) {
            return Some(purl(Kind::Npm, wanted, one["version"].as_str()?));
        }
        if from.is_empty() {
            return None;
        }
        from = from.rfind(FOLDER).and_then(|at| from.get(..at)).unwrap_or_default().trim_end_matches('/');
    }
}

/// A digest as the lock writes it (`sha512-` and base 64) in hexadecimal digits.
fn sha512(integrity: &str) -> Option<String> {
    let bytes = BASE64.decode(integrity.strip_prefix("sha512-")?.as_bytes()).ok()?;
    Some(HEXLOWER.encode(&bytes))
}

/// Where the lock no longer says what `package.json` asks for.
pub(super) fn out_of_step(lock: &Value, checkout: &Checkout) -> Outcome<Vec<String>> {
    let asked = read(&checkout.ui().join("package.json"))?;
    let kinds = ["dependencies", "devDependencies"];
    let differs = kinds.iter().filter(|kind| asked[**kind] != lock["packages"][""][**kind]);
    let said =
        |kind: &&str| format!("The {kind} of ui/package.json are not those of its lock. Run `npm install` in ui.");
    Ok(differs.map(said).collect())
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    #[test]
    fn a_digest_is_the_same_in_other_digits() {
        // SHA-512 of nothing (FIPS 180-4, recalled).
        let nothing = "sha512-z4PhNX7vuL3xVChQ1m2AB9Yg5AULVxXcg/SpIdNs6c5H0NE8XYXysP+DGNKHfuwvY7kxvUdBeoGlODJ6+SfaPg==";
        let digits = sha512(nothing).expect("a digest");
        assert!(digits.starts_with("cf83e1357eefb8bdf1542850d66d8007") && digits.ends_with("927da3e"), "{digits}");
        assert_eq!(sha512("sha1-2jmj7l5rSw0yVb/vlWAYkK/YBwk="), None);
    }

    #[test]
    fn a_package_uses_the_nearest_of_a_name() {
        let lock = json!({ "packages": {
            "": { "dependencies": { "a": "^1" } },
            "node_modules/a": { "version": "1.0.0", "license": "MIT", "dependencies": { "b": "^2", "@x/c": "1" } },
            "node_modules/a/node_modules/b": { "version": "2.0.0", "dev": true, "dependencies": { "@x/c": "1" } },
            "node_modules/@x/c": { "version": "1.5.0", "dependencies": { "b": "^1", "gone": "1" } },
            "node_modules/b": { "version": "1.0.0" },
        }});
        let parts = parts(&lock).expect("packages");
        let of = |name: &str, version: &str| {
            let found = parts.iter().find(|part| part.name == name && part.version == version);
            found.map(|part| (part.uses.join(" "), part.ships)).expect(name)
        };
        assert_eq!(of("a", "1.0.0"), ("pkg:npm/%40x/c@1.5.0 pkg:npm/b@2.0.0".into(), true));
        assert_eq!(of("b", "2.0.0"), ("pkg:npm/%40x/c@1.5.0".into(), false));
        assert_eq!(of("@x/c", "1.5.0").0, "pkg:npm/b@1.0.0");
    }
}
