//! One package that the program is made of.

/// Which registry it is of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Kind {
    Cargo,
    Npm,
}

/// One package in one version.
#[derive(Debug, Clone)]
pub(crate) struct Part {
    pub(crate) kind: Kind,
    pub(crate) name: String,
    pub(crate) version: String,
    /// As the package states it.
    pub(crate) licence: String,
    /// The digest of what is downloaded, in hexadecimal digits: SHA-256 of a crate, SHA-512 of a package.
    pub(crate) digest: Option<String>,
    /// Where it comes from, where that is said.
    pub(crate) origin: Option<String>,
    /// It is in what is handed out, not only needed to build or test it.
    pub(crate) ships: bool,
    /// The [`Part::purl`]s of what it uses.
    pub(crate) uses: Vec<String>,
}

/// The public registries, in parts so that no file of the checkout names one whole.
const ORIGINS: [(Kind, &str); 2] = [
    (Kind::Cargo, concat!("registry+https://github.com/rust-lang/crates", ".io-index")),
    (Kind::Npm, concat!("https://registry.npmjs", ".org/")),
];

impl Part {
    /// The address that names this package anywhere (package URL, recalled).
    pub(crate) fn purl(&self) -> String {
        purl(self.kind, &self.name, &self.version)
    }

    /// What is wrong with its origin, its version or its digest.
    pub(super) fn complaint(&self) -> Option<String> {
        let Self { name, version, .. } = self;
        let known = |origin: &str| ORIGINS.iter().any(|(kind, start)| *kind == self.kind && origin.starts_with(start));
        // The lock of the screens leaves the registry out, so that any copy of it serves; the digest decides.
        let origin = match &self.origin {
            Some(origin) => known(origin),
            None => self.kind == Kind::Npm,
        };
        let digits = if self.kind == Kind::Cargo { 64 } else { 128 };
        let digest = self.digest.as_ref().is_some_and(|digest| digest.len() == digits);
        let rules = [
            (origin, "does not come from the public registry"),
            (digest, "has no digest in the lock"),
            (is_exact(version), "has no exact version"),
        ];
        let broken = rules.iter().find(|(holds, _)| !holds)?;
        Some(format!("{name} {version} {}.", broken.1))
    }
}

pub(super) fn purl(kind: Kind, name: &str, version: &str) -> String {
    let of = if kind == Kind::Cargo { "cargo" } else { "npm" };
    format!("pkg:{of}/{}@{}", name.replace('@', "%40"), version.replace('+', "%2B"))
}

/// Three numbers, and perhaps what stands behind a hyphen or a plus.
fn is_exact(version: &str) -> bool {
    let core = version.split(['-', '+']).next().unwrap_or_default();
    core.split('.').count() == 3 && core.split('.').all(|part| part.parse::<u64>().is_ok())
}

#[cfg(test)]
impl Part {
    pub(crate) fn sample() -> Self {
        Self {
            kind: Kind::Cargo,
            name: "a".into(),
            version: "1.0.0".into(),
            licence: "MIT".into(),
            digest: Some("0".repeat(64)),
            origin: Some(ORIGINS[0].1.into()),
            ships: true,
            uses: vec![],
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn origin_digest_and_version_are_looked_at() {
        let check = |part: Part, words: &str| {
            let said = part.complaint().unwrap_or_default();
            assert!(said.contains(words) && said.is_empty() == words.is_empty(), "{part:?}: {said}");
        };
        let npm = Part { kind: Kind::Npm, origin: None, digest: Some("0".repeat(128)), ..Part::sample() };
        check(Part::sample(), "");
        check(npm.clone(), "");
        check(Part { origin: None, ..Part::sample() }, "registry");
        check(Part { origin: Some("git+https://example.com/a".into()), ..Part::sample() }, "registry");
        check(Part { origin: Some("http://127.0.0.1:4873/a.tgz".into()), ..npm.clone() }, "registry");
        check(Part { digest: None, ..npm.clone() }, "digest");
        check(Part { version: "^1.0.0".into(), ..npm }, "version");
        check(Part { version: "1.0.0-beta.2+spec".into(), ..Part::sample() }, "");
    }

    #[test]
    fn a_package_has_one_address() {
        assert_eq!(purl(Kind::Npm, "@types/node", "20.1.0"), "pkg:npm/%40types/node@20.1.0");
        assert_eq!(purl(Kind::Cargo, "toml", "1.2.2+spec-1.1.0"), "pkg:cargo/toml@1.2.2%2Bspec-1.1.0");
    }
}
