//! The list of everything that the program is made of, as CycloneDX has it: `cargo run -p tasks -- sbom`.
//!
//! The same lock files make the same bytes: there is no time and no number drawn in it.
//!
//! # Source
//! CycloneDX 1.5, JSON (recalled, not read).

use crate::checkout::Checkout;
use crate::outcome::Outcome;
use crate::supply::{self, Kind, Part};
use serde_json::{Value, json};
use std::collections::BTreeSet;

/// Writes the list into the target folder and says where.
pub(crate) fn write(checkout: &Checkout) -> Outcome {
    let parts = supply::parts(checkout)?;
    let text = serde_json::to_string_pretty(&list(&parts)).map_err(|why| format!("The list has no JSON: {why}."))?;
    let folder = checkout.made("sbom");
    let path = folder.join("truefall.cdx.json");
    let written = std::fs::create_dir_all(&folder).and_then(|()| std::fs::write(&path, text + "\n"));
    written.map_err(|why| format!("{} could not be written: {why}.", path.display()))?;
    let ships = parts.iter().filter(|part| part.ships).count();
    println!("{}: {} components, {ships} of which are handed out", path.display(), parts.len());
    Ok(())
}

/// The list as JSON.
fn list(parts: &[Part]) -> Value {
    let own = json!({
        "type": "application", "bom-ref": OWN, "name": "truefall", "version": env!("CARGO_PKG_VERSION"),
        "licenses": [{ "expression": env!("CARGO_PKG_LICENSE") }],
    });
    let all: BTreeSet<String> = parts.iter().map(Part::purl).collect();
    let used: BTreeSet<&String> = parts.iter().flat_map(|part| &part.uses).collect();
    let roots: Vec<&String> = all.iter().filter(|one| !used.contains(one)).collect();
    let mut dependencies = vec![json!({ "ref": OWN, "dependsOn": roots })];
    dependencies.extend(unique(parts).map(|part| json!({ "ref": part.purl(), "dependsOn": part.uses })));
    json!({
        "bomFormat": "CycloneDX", "specVersion": "1.5", "version": 1,
        "metadata": { "component": own },
        "components": unique(parts).map(component).collect::<Vec<_>>(),
        "dependencies": dependencies,
    })
}

/// By what the program itself is referred to.
const OWN: &str = "truefall";

/// The parts in order, each once: the screens' packages may lie in several places.
fn unique(parts: &[Part]) -> impl Iterator<Item = &Part> {
    let mut seen = BTreeSet::new();
    parts.iter().filter(move |part| seen.insert(part.purl()))
}

fn component(part: &Part) -> Value {
    let algorithm = if part.kind == Kind::Cargo { "SHA-256" } else { "SHA-512" };
    let hashes: Vec<Value> = part.digest.iter().map(|digest| json!({ "alg": algorithm, "content": digest })).collect();
    // A slash between licences is how older packages write a choice.
    let licence = part.licence.replace(" / ", " OR ").replace('/', " OR ");
    let (group, name) = match part.name.split_once('/') {
        Some((group, name)) => (Some(group), name),
        None => (None, part.name.as_str()),
    };
    let mut component = json!({
        "type": "library", "bom-ref": part.purl(), "name": name, "version": part.version, "purl": part.purl(),
        "scope": if part.ships { "required" } else { "excluded" },
        "licenses": [{ "expression": licence }], "hashes": hashes,
    });
    if let Some(group) = group {
        component["group"] = json!(group);
    }
    component
}

#[cfg(test)]
mod tests {
    use super::*;

    /// What the form asks for, over the real lock files.
    #[test]
    fn the_list_holds_together() {
        let checkout = Checkout::find().expect("the checkout");
        let parts = supply::parts(&checkout).expect("packages");
        let list = list(&parts);
        let items = |key: &str| list[key].as_array().expect(key).clone();
        assert_eq!((&list["bomFormat"], &list["specVersion"]), (&json!("CycloneDX"), &json!("1.5")));
        let components = items("components");
        assert!(components.len() > 500, "both lock files are in: {}", components.len());
        let mut known = BTreeSet::from([json!(OWN).to_string()]);
        for one in &components {
            let text = |key: &str| one[key].as_str().unwrap_or_else(|| panic!("{key} of {one}"));
            assert!(known.insert(one["bom-ref"].to_string()), "twice: {one}");
            assert!(text("purl").starts_with("pkg:cargo/") || text("purl").starts_with("pkg:npm/"), "{one}");
            assert!(["required", "excluded"].contains(&text("scope")) && text("type") == "library");
            assert!(!text("name").is_empty() && !text("name").contains('/') && !text("version").is_empty());
            let licence = one["licenses"][0]["expression"].as_str().expect("a licence");
            assert!(!licence.is_empty() && !licence.contains('/'), "{one}");
            let length = if one["hashes"][0]["alg"] == "SHA-256" { 64 } else { 128 };
            let digest = one["hashes"][0]["content"].as_str().expect("a digest");
            assert!(digest.len() == length && digest.bytes().all(|byte| byte.is_ascii_hexdigit()), "{one}");
        }
        let dependencies = items("dependencies");
        assert_eq!(dependencies.len(), components.len() + 1, "each says what it uses");
        for one in &dependencies {
            let uses = one["dependsOn"].as_array().expect("a list");
            assert!(known.contains(&one["ref"].to_string()) && uses.iter().all(|to| known.contains(&to.to_string())));
        }
        let ships = |name: &str| components.iter().any(|one| one["name"] == name && one["scope"] == "required");
        assert!(ships("tauri") && ships("rusqlite") && ships("three") && !ships("proptest") && !ships("vite"));
    }

    #[test]
    fn the_same_locks_make_the_same_bytes() {
        let parts = [Part::sample(), Part { name: "b".into(), uses: vec![Part::sample().purl()], ..Part::sample() }];
        assert_eq!(list(&parts), list(&parts));
        assert_eq!(list(&parts)["dependencies"][0], json!({ "ref": OWN, "dependsOn": ["pkg:cargo/b@1.0.0"] }));
    }
}
