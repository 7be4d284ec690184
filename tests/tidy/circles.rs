//! No file of a crate uses another that uses it, by whatever way round.
//!
//! A file uses another by a `use`, or by a path in its code, that leads to something which is defined there; on the way
//! there a path passes through the names that other modules hand on, and the handing on itself is no use. Tests aside.

use crate::functions::is_test;
use crate::modules::{Modules, uses_of};
use crate::no_complaints;
use crate::source::top;
use cargo_metadata::{MetadataCommand, Target, TargetKind};
use proc_macro2::{TokenStream, TokenTree};
use std::collections::{BTreeMap, BTreeSet};
use syn::visit::{self, Visit};

/// Root files of crates whose files still go round in circles.
const NOT_YET_FREE: &[&str] = &["src-tauri/crates/cli/src/host/mod.rs"];

/// Which file uses which, and by which path.
type Arrows = BTreeMap<String, BTreeMap<String, BTreeSet<String>>>;

#[test]
fn no_files_of_a_crate_go_round_in_a_circle() {
    let read = |path: &str| std::fs::read_to_string(top().join(path)).ok();
    let complaints = roots().into_iter().flat_map(|root| {
        let found = circles(&arrows(&Modules::of(&root, &read)));
        match (NOT_YET_FREE.contains(&root.as_str()), found.is_empty()) {
            (false, _) => found.iter().map(|circle| format!("Round in a circle:\n{circle}")).collect(),
            (true, true) => vec![format!("{root} is free of circles: take it out of NOT_YET_FREE")],
            (true, false) => vec![],
        }
    });
    no_complaints(complaints.collect());
}

/// The circles of a crate of these files, the root first.
fn in_crate(files: &[(&str, &str)]) -> Vec<String> {
    let read = |path: &str| files.iter().find(|(name, _)| *name == path).map(|(_, text)| text.to_string());
    circles(&arrows(&Modules::of(files[0].0, &read)))
}

#[test]
fn a_circle_is_seen_by_whatever_way_it_goes() {
    let pair = |a: &str, b: &str| in_crate(&[("lib.rs", "mod a;\nmod b;\npub use b::Beam;"), ("a.rs", a), ("b.rs", b)]);
    let uses_a = "use crate::a::joist;\npub struct Beam;";
    for a in [
        "use super::b::{self, Beam as Long};\npub fn joist() {}",
        "use crate::Beam;\npub fn joist() {}",
        "use super::*;\npub fn joist() -> Beam { todo() }",
        "pub fn joist() { let x = crate::b::Beam; }",
        "pub fn joist() { assert!(matches!(x, Some(crate::b::Beam))); }",
        "pub(crate) use crate::b::Beam;\npub fn joist() {}",
        "mod inner { pub fn deep(_: super::super::b::Beam) {} }\npub fn joist() {}",
    ] {
        assert_eq!(pair(a, uses_a).len(), 1, "{a}");
    }
    let told = pair("use crate::Beam;\npub fn joist() {}", uses_a);
    assert_eq!(told, ["  a.rs -> b.rs by crate::Beam\n  b.rs -> a.rs by crate::a::joist"]);
    for parent in [
        "mod child;\npub struct Beam;\nfn f() { child::joist() }",
        "mod child;\npub use child::joist;\npub struct Beam;\nfn f() { joist() }",
        "mod child;\nuse child::joist as laid;\npub struct Beam;",
    ] {
        let files = [("lib.rs", parent), ("child.rs", "use super::Beam;\npub fn joist() {}")];
        assert_eq!(in_crate(&files).len(), 1, "{parent}");
    }
}

#[test]
fn handing_on_and_tests_are_no_circle() {
    let child = "use super::Beam;\npub fn joist() {}";
    for parent in [
        "mod child;\npub use child::joist;\npub struct Beam;",
        "mod child;\npub(crate) use child::joist;\npub struct Beam;\nfn f(joist: u8) -> u8 { g!(x.joist, joist) }",
        "mod child;\npub struct Beam;\n#[cfg(test)]\nmod tests { use super::child::joist; }",
        "mod child;\npub struct Beam;\n#[cfg(test)]\nfn f() { child::joist() }",
    ] {
        assert_eq!(in_crate(&[("lib.rs", parent), ("child.rs", child)]), Vec::<String>::new(), "{parent}");
    }
    let sisters = [
        ("lib.rs", "mod a;\nmod b;\nuse a::Beam;\nfn f(_: Beam) { b::joist() }"),
        ("a.rs", "pub struct Beam;"),
        ("b.rs", "use super::Beam;\npub fn joist() {}"),
    ];
    assert_eq!(in_crate(&sisters), Vec::<String>::new(), "a name that the parent took from a sister is the sister's");
}

/// The root file of every library and program under `src-tauri`.
fn roots() -> Vec<String> {
    let metadata = MetadataCommand::new().current_dir(top()).no_deps().exec().expect("cargo metadata");
    let ours = metadata.workspace_root.join("src-tauri");
    let packages = metadata.workspace_packages().into_iter().filter(|package| package.manifest_path.starts_with(&ours));
    let ships = |kinds: &[TargetKind]| {
        !kinds.iter().any(|kind| {
            matches!(kind, TargetKind::Test | TargetKind::Bench | TargetKind::Example | TargetKind::CustomBuild)
        })
    };
    let targets = packages.flat_map(|package| &package.targets).filter(|target| ships(&target.kind));
    let path = |target: &Target| target.src_path.strip_prefix(&metadata.workspace_root).map(ToString::to_string);
    let found: Vec<String> = targets.map(|target| path(target).expect("it lies in the checkout")).collect();
    assert!(found.len() > 8, "the crates are found");
    found
}

/// The uses among the files of one crate.
fn arrows(modules: &Modules) -> Arrows {
    let mut arrows = Arrows::new();
    for (at, module) in modules.0.iter().enumerate() {
        let mut paths = Paths { found: BTreeSet::new(), locals: BTreeSet::new() };
        module.items.iter().for_each(|item| paths.visit_item(item));
        let handed_on = |path: &[String]| modules.home(at, path).is_some_and(|home| modules.lies_in(home, at));
        let brought = module.uses.iter().filter(|brought| !brought.shown || !handed_on(&brought.path));
        for path in brought.map(|brought| &brought.path).chain(&paths.found) {
            let Some(home) = modules.home(at, path) else { continue };
            let (from, to) = (&module.file, &modules.0[home].file);
            if from != to {
                let by = arrows.entry(from.clone()).or_default().entry(to.clone()).or_default();
                by.insert(path.join("::"));
            }
        }
    }
    arrows
}

/// Every circle, with what leads round in it.
fn circles(arrows: &Arrows) -> Vec<String> {
    let reached: BTreeMap<&str, BTreeSet<&str>> =
        arrows.keys().map(|file| (file.as_str(), reach(arrows, file))).collect();
    let both_ways = |a: &str, b: &str| {
        reached.get(a).is_some_and(|far| far.contains(b)) && reached.get(b).is_some_and(|far| far.contains(a))
    };
    let mut told: BTreeSet<&str> = BTreeSet::new();
    let mut found = Vec::new();
    for file in reached.keys().filter(|file| both_ways(file, file)) {
        if told.contains(file) {
            continue;
        }
        let round: Vec<&str> = reached.keys().copied().filter(|other| both_ways(file, other)).collect();
        told.extend(&round);
        let lines = round.iter().flat_map(|from| {
            let to = arrows[*from].iter().filter(|(to, _)| round.contains(&to.as_str()));
            to.map(move |(to, by)| format!("  {from} -> {to} by {}", by.iter().cloned().collect::<Vec<_>>().join(", ")))
        });
        found.push(lines.collect::<Vec<_>>().join("\n"));
    }
    found
}

/// All files that a file leads to, by one arrow or more.
fn reach<'a>(arrows: &'a Arrows, from: &'a str) -> BTreeSet<&'a str> {
    let mut found = BTreeSet::new();
    let mut next = vec![from];
    while let Some(file) = next.pop() {
        let further = arrows.get(file).into_iter().flat_map(BTreeMap::keys);
        next.extend(further.filter(|to| found.insert(to.as_str())).map(String::as_str));
    }
    found
}

/// The paths of the code of a module; those of the modules inside it are theirs.
struct Paths {
    found: BTreeSet<Vec<String>>,
    /// Names that a pattern or a parameter gives, which are no paths.
    locals: BTreeSet<String>,
}

impl Paths {
    fn add(&mut self, path: Vec<String>) {
        if path.len() > 1 || path.first().is_some_and(|name| !self.locals.contains(name)) {
            self.found.insert(path);
        }
    }

    /// The paths among the tokens of a macro: what follows a dot is a method or a field.
    fn add_tokens(&mut self, tokens: TokenStream) {
        let mut path: Vec<String> = Vec::new();
        let mut colons = 0;
        let mut after_dot = false;
        for token in tokens {
            match token {
                TokenTree::Ident(name) if colons == 2 && !path.is_empty() => path.push(name.to_string()),
                TokenTree::Ident(name) => {
                    self.end(&mut path);
                    if !after_dot {
                        path.push(name.to_string());
                    }
                }
                TokenTree::Punct(mark) if mark.as_char() == ':' => {
                    colons += 1;
                    continue;
                }
                TokenTree::Punct(mark) => {
                    self.end(&mut path);
                    after_dot = mark.as_char() == '.';
                    colons = 0;
                    continue;
                }
                TokenTree::Group(group) => {
                    self.end(&mut path);
                    self.add_tokens(group.stream());
                }
                TokenTree::Literal(_) => self.end(&mut path),
            }
            (colons, after_dot) = (0, false);
        }
        self.end(&mut path);
    }

    fn end(&mut self, path: &mut Vec<String>) {
        if !path.is_empty() {
            self.add(std::mem::take(path));
        }
    }
}

impl<'ast> Visit<'ast> for Paths {
    fn visit_item(&mut self, item: &'ast syn::Item) {
        let attributes = match item {
            syn::Item::Mod(_) | syn::Item::Use(_) => return,
            syn::Item::Fn(item) => &item.attrs,
            syn::Item::Impl(item) => &item.attrs,
            _ => &vec![],
        };
        if !is_test(attributes) {
            visit::visit_item(self, item);
        }
    }

    fn visit_item_fn(&mut self, item: &'ast syn::ItemFn) {
        let outer = self.locals.clone();
        Locals(&mut self.locals).visit_item_fn(item);
        visit::visit_item_fn(self, item);
        self.locals = outer;
    }

    fn visit_impl_item_fn(&mut self, item: &'ast syn::ImplItemFn) {
        if is_test(&item.attrs) {
            return;
        }
        let outer = self.locals.clone();
        Locals(&mut self.locals).visit_impl_item_fn(item);
        visit::visit_impl_item_fn(self, item);
        self.locals = outer;
    }

    fn visit_item_use(&mut self, item: &'ast syn::ItemUse) {
        uses_of(item).into_iter().for_each(|brought| self.add(brought.path));
    }

    fn visit_stmt(&mut self, statement: &'ast syn::Stmt) {
        match statement {
            syn::Stmt::Item(syn::Item::Use(item)) => self.visit_item_use(item),
            _ => visit::visit_stmt(self, statement),
        }
    }

    fn visit_path(&mut self, path: &'ast syn::Path) {
        if path.leading_colon.is_none() {
            self.add(path.segments.iter().map(|segment| segment.ident.to_string()).collect());
        }
        visit::visit_path(self, path);
    }

    fn visit_macro(&mut self, called: &'ast syn::Macro) {
        self.visit_path(&called.path);
        self.add_tokens(called.tokens.clone());
    }

    /// `pub(in path)` says who may use it, not what it uses.
    fn visit_visibility(&mut self, _: &'ast syn::Visibility) {}

    fn visit_attribute(&mut self, _: &'ast syn::Attribute) {}
}

/// The names that patterns and parameters give.
struct Locals<'a>(&'a mut BTreeSet<String>);

impl<'ast> Visit<'ast> for Locals<'_> {
    fn visit_pat_ident(&mut self, pattern: &'ast syn::PatIdent) {
        self.0.insert(pattern.ident.to_string());
        visit::visit_pat_ident(self, pattern);
    }
}
