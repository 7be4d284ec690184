//! The modules of one crate, as the compiler finds them: from its root, by what each file declares.

use crate::functions::is_test;
use std::collections::{BTreeMap, BTreeSet};
use syn::{File, Item, ItemUse, UseTree, Visibility};

/// One module: of a file of its own, or in braces in the file of another.
pub(crate) struct Module {
    /// From the top of the checkout.
    pub(crate) file: String,
    pub(crate) items: Vec<Item>,
    parent: Option<usize>,
    children: BTreeMap<String, usize>,
    /// What is defined here, modules aside.
    names: BTreeSet<String>,
    pub(crate) uses: Vec<Use>,
}

/// One name that a `use` brings in.
pub(crate) struct Use {
    /// What it is called here; `*` for everything of a module.
    name: String,
    pub(crate) path: Vec<String>,
    /// Others may take it from here.
    pub(crate) shown: bool,
}

/// All modules of a crate, the root first.
pub(crate) struct Modules(pub(crate) Vec<Module>);

/// What was asked of which module on the way, so that no way leads in a circle.
type Asked = BTreeSet<(usize, Vec<String>)>;

impl Modules {
    /// The modules from a root file on; `read` gives the text of a file, where there is one.
    pub(crate) fn of(root: &str, read: &dyn Fn(&str) -> Option<String>) -> Self {
        let mut all = Self(Vec::new());
        let folder = root.rsplit_once('/').map_or("", |(folder, _)| folder);
        let items = parsed(root, &read(root).unwrap_or_else(|| panic!("{root} is there"))).items;
        all.grow(root, folder, None, items, read);
        all
    }

    /// Adds a module and all below it; gives its place.
    fn grow(
        &mut self,
        file: &str,
        folder: &str,
        parent: Option<usize>,
        items: Vec<Item>,
        read: &dyn Fn(&str) -> Option<String>,
    ) -> usize {
        let at = self.0.len();
        let names = items.iter().filter_map(named).collect();
        let uses = items.iter().flat_map(brought).collect();
        self.0.push(Module { file: file.into(), items: vec![], parent, children: BTreeMap::new(), names, uses });
        for item in &items {
            let Item::Mod(module) = item else { continue };
            if is_test(&module.attrs) {
                continue;
            }
            let name = module.ident.to_string();
            let inner = if folder.is_empty() { name.clone() } else { format!("{folder}/{name}") };
            let child = match &module.content {
                Some((_, items)) => self.grow(file, &inner, Some(at), items.clone(), read),
                None => {
                    let files = [format!("{inner}.rs"), format!("{inner}/mod.rs")];
                    let found = files.iter().find_map(|path| Some((path, read(path)?)));
                    let (path, text) = found.unwrap_or_else(|| panic!("{file} declares {name}, which has no file"));
                    self.grow(path, &inner, Some(at), parsed(path, &text).items, read)
                }
            };
            self.0[at].children.insert(name, child);
        }
        self.0[at].items = items;
        at
    }

    /// The module in which the thing that a path names is defined; none for what is of another crate.
    pub(crate) fn home(&self, from: usize, path: &[String]) -> Option<usize> {
        self.way(from, path, true, &mut Asked::new())
    }

    /// Whether one module lies in another, however deep.
    pub(crate) fn lies_in(&self, inner: usize, outer: usize) -> bool {
        let mut above = self.0[inner].parent;
        while let Some(at) = above {
            if at == outer {
                return true;
            }
            above = self.0[at].parent;
        }
        false
    }

    /// `all`: through the names that come with everything of a module, too.
    fn way(&self, from: usize, path: &[String], all: bool, asked: &mut Asked) -> Option<usize> {
        let (first, rest) = path.split_first()?;
        match first.as_str() {
            "crate" => self.known(0, rest, all, asked),
            "self" => self.known(from, rest, all, asked),
            "super" => {
                let parent = self.0[from].parent?;
                if rest.first().is_some_and(|next| next == "super") {
                    self.way(parent, rest, all, asked)
                } else {
                    self.known(parent, rest, all, asked)
                }
            }
            _ => self.down(from, path, all, asked),
        }
    }

    /// As `down`; a name that nothing here explains, such as one that a macro makes, belongs to the module itself.
    fn known(&self, at: usize, rest: &[String], all: bool, asked: &mut Asked) -> Option<usize> {
        self.down(at, rest, all, asked).or(Some(at))
    }

    fn down(&self, at: usize, path: &[String], all: bool, asked: &mut Asked) -> Option<usize> {
        let module = &self.0[at];
        let Some((name, rest)) = path.split_first() else { return Some(at) };
        if !asked.insert((at, path.to_vec())) {
            return None;
        }
        if let Some(child) = module.children.get(name) {
            return self.known(*child, rest, all, asked);
        }
        if module.names.contains(name) {
            return Some(at);
        }
        if let Some(found) = module.uses.iter().find(|found| found.name == *name) {
            return self.way(at, &[&found.path, rest].concat(), all, asked);
        }
        let of_all = module.uses.iter().filter(|found| all && found.name == "*");
        let mut whole = of_all.filter_map(|found| self.way(at, &found.path, false, &mut Asked::new()));
        whole.find_map(|other| self.down(other, path, all, asked))
    }
}

fn parsed(path: &str, text: &str) -> File {
    syn::parse_file(text).unwrap_or_else(|why| panic!("{path}: {why}"))
}

/// What an item defines.
fn named(item: &Item) -> Option<String> {
    let name = match item {
        Item::Const(item) => &item.ident,
        Item::Enum(item) => &item.ident,
        Item::Fn(item) => &item.sig.ident,
        Item::Macro(item) => item.ident.as_ref()?,
        Item::Static(item) => &item.ident,
        Item::Struct(item) => &item.ident,
        Item::Trait(item) => &item.ident,
        Item::Type(item) => &item.ident,
        Item::Union(item) => &item.ident,
        _ => return None,
    };
    Some(name.to_string())
}

/// What an item brings in.
fn brought(item: &Item) -> Vec<Use> {
    match item {
        Item::Use(item) if !is_test(&item.attrs) => uses_of(item),
        _ => vec![],
    }
}

pub(crate) fn uses_of(item: &ItemUse) -> Vec<Use> {
    if item.leading_colon.is_some() {
        return vec![];
    }
    let shown = !matches!(item.vis, Visibility::Inherited);
    let mut found = Vec::new();
    branches(&item.tree, &mut Vec::new(), shown, &mut found);
    found
}

fn branches(tree: &UseTree, before: &mut Vec<String>, shown: bool, found: &mut Vec<Use>) {
    let mut add = |name: String, last: Option<String>| {
        let path = before.iter().cloned().chain(last).collect();
        found.push(Use { name, path, shown });
    };
    match tree {
        UseTree::Glob(_) => add("*".into(), None),
        UseTree::Name(name) if name.ident == "self" => add(before.last().cloned().unwrap_or_default(), None),
        UseTree::Name(name) => add(name.ident.to_string(), Some(name.ident.to_string())),
        UseTree::Rename(name) if name.ident == "self" => add(name.rename.to_string(), None),
        UseTree::Rename(name) => add(name.rename.to_string(), Some(name.ident.to_string())),
        UseTree::Path(path) => {
            before.push(path.ident.to_string());
            branches(&path.tree, before, shown, found);
            before.pop();
        }
        UseTree::Group(group) => group.items.iter().for_each(|tree| branches(tree, before, shown, found)),
    }
}
