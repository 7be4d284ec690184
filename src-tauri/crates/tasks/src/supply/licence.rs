//! Whether a licence is one of those that may be used.

use super::Part;
use crate::checkout::Checkout;
use crate::outcome::Outcome;
use spdx::{Expression, Licensee, ParseMode};

/// The licences that may be used, by their SPDX names.
pub(super) struct Allowed(Vec<Licensee>);

/// As SPDX has it; older packages write a choice as a slash.
const MODE: ParseMode = ParseMode { allow_imprecise_license_names: false, ..ParseMode::LAX };

impl Allowed {
    /// Those of `.cargo/deny.toml`.
    pub(super) fn read(checkout: &Checkout) -> Outcome<Self> {
        let path = checkout.root().join(".cargo/deny.toml");
        let text = std::fs::read_to_string(&path).map_err(|why| format!("{}: {why}.", path.display()))?;
        let table: toml::Table = text.parse().map_err(|why| format!("{}: {why}", path.display()))?;
        let listed = table.get("licenses").and_then(|one| one.get("allow")).and_then(|list| list.as_array());
        let listed = listed.ok_or("There is no list licenses.allow in .cargo/deny.toml.")?;
        Self::of(listed.iter().filter_map(|one| one.as_str()))
    }

    fn of<'a>(names: impl Iterator<Item = &'a str>) -> Outcome<Self> {
        let known =
            |name: &str| Licensee::parse_mode(name, MODE).map_err(|why| format!("{name:?} is no licence: {why}."));
        names.map(known).collect::<Outcome<_>>().map(Self)
    }

    /// What is wrong with a package's licence.
    pub(super) fn complaint(&self, part: &Part) -> Option<String> {
        let Part { name, version, licence, .. } = part;
        let why = "which no choice of .cargo/deny.toml allows";
        (!self.holds(licence)).then(|| format!("{name} {version} is under {licence:?}, {why}."))
    }

    /// Whether an SPDX expression can be met by licences of the list.
    fn holds(&self, expression: &str) -> bool {
        let asked = Expression::parse_mode(expression, MODE);
        asked.is_ok_and(|asked| asked.evaluate(|one| self.0.iter().any(|licence| licence.satisfies(one))))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn expressions_are_met_by_the_list() {
        let names = ["MIT", "Apache-2.0", "Zlib", "Apache-2.0 WITH LLVM-exception"];
        let allowed = Allowed::of(names.into_iter()).expect("they are licences");
        let check = |expression: &str, holds: bool| assert_eq!(allowed.holds(expression), holds, "{expression}");
        check("MIT", true);
        check("GPL-3.0", false);
        check("", false);
        check("GPL-3.0 OR MIT", true);
        check("GPL-3.0/MIT", true);
        check("MIT AND GPL-3.0", false);
        check("(MIT OR GPL-3.0) AND Zlib", true);
        check("GPL-3.0 OR MIT AND ISC", false);
        check("Apache-2.0 WITH LLVM-exception", true);
        check("MIT WITH LLVM-exception", false);
        check("(MIT", false);
        check("MIT MIT", false);
        check("Free for all", false);
        assert!(Allowed::of(["Free for all"].into_iter()).is_err());
    }
}
