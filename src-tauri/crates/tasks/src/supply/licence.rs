//! Whether a licence is one of those that may be used.

use super::Part;
use crate::checkout::Checkout;
use crate::outcome::Outcome;
use std::collections::BTreeSet;

/// The licences that may be used, by their SPDX names.
pub(super) struct Allowed(BTreeSet<String>);

impl Allowed {
    /// Those of `.cargo/deny.toml`.
    pub(super) fn read(checkout: &Checkout) -> Outcome<Self> {
        let path = checkout.root().join(".cargo/deny.toml");
        let text = std::fs::read_to_string(&path).map_err(|why| format!("{}: {why}.", path.display()))?;
        let table: toml::Table = text.parse().map_err(|why| format!("{}: {why}", path.display()))?;
        let listed = table.get("licenses").and_then(|one| one.get("allow")).and_then(|list| list.as_array());
        let listed = listed.ok_or("There is no list licenses.allow in .cargo/deny.toml.")?;
        Ok(Self(listed.iter().filter_map(|one| one.as_str()).map(str::to_owned).collect()))
    }

    /// What is wrong with a package's licence.
    pub(super) fn complaint(&self, part: &Part) -> Option<String> {
        let Part { name, version, licence, .. } = part;
        let why = "which no choice of .cargo/deny.toml allows";
        (!self.holds(licence)).then(|| format!("{name} {version} is under {licence:?}, {why}."))
    }

    /// Whether an SPDX expression can be met by licences of the list.
    fn holds(&self, expression: &str) -> bool {
        let spaced = expression.replace('(', " ( ").replace(')', " ) ").replace('/', " OR ");
        let mut words = spaced.split_whitespace().peekable();
        let holds = self.any(&mut words);
        holds && words.peek().is_none()
    }

    fn any<'a>(&self, words: &mut Words<'a, impl Iterator<Item = &'a str>>) -> bool {
        let mut holds = self.all(words);
        while words.next_if_eq(&"OR").is_some() {
            holds |= self.all(words);
        }
        holds
    }

    fn all<'a>(&self, words: &mut Words<'a, impl Iterator<Item = &'a str>>) -> bool {
        let mut holds = self.one(words);
        while words.next_if_eq(&"AND").is_some() {
            holds &= self.one(words);
        }
        holds
    }

    fn one<'a>(&self, words: &mut Words<'a, impl Iterator<Item = &'a str>>) -> bool {
        match words.next() {
            Some("(") => {
                let holds = self.any(words);
                words.next_if_eq(&")").is_some() && holds
            }
            Some(name) => match words.next_if_eq(&"WITH").and_then(|_| words.next()) {
                Some(exception) => self.0.contains(&format!("{name} WITH {exception}")),
                None => self.0.contains(name),
            },
            None => false,
        }
    }
}

type Words<'a, I> = std::iter::Peekable<I>;

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn expressions_are_met_by_the_list() {
        let names = ["MIT", "Apache-2.0", "Zlib", "Apache-2.0 WITH LLVM-exception"];
        let allowed = Allowed(names.map(str::to_owned).into());
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
    }
}
