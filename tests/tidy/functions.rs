//! How long the functions that ship are.

use crate::no_complaints;
use crate::source::{Source, tracked};
use syn::visit::{self, Visit};
use syn::{Attribute, Block, ImplItemFn, ItemFn, ItemMod, Signature, TraitItemFn};

const MEDIAN: usize = 8;
const NINETY_FIVE: usize = 45;

#[test]
fn functions_stay_short() {
    assert_eq!(spread(&(1..=100).collect::<Vec<_>>()), (50, 95));
    assert_eq!(lengths_in("fn a() {\n}\n#[cfg(test)]\nmod tests {\n fn b() {\n\n\n}}"), [("a".to_owned(), 2)]);
    let mut all: Vec<(usize, String)> =
        tracked().iter().filter(|file| file.is_shipped_rust()).flat_map(named).collect();
    all.sort();
    let (median, ninety_five) = spread(&all.iter().map(|(length, _)| *length).collect::<Vec<_>>());
    println!("{} functions: median {median} lines, 95 % within {ninety_five}", all.len());
    let longest = all.iter().rev().take(20).map(|(length, name)| format!("  {length:4} {name}")).collect::<Vec<_>>();
    let limits = [("median", median, MEDIAN), ("95 %", ninety_five, NINETY_FIVE)];
    let over = limits.iter().filter(|(_, found, limit)| found > limit);
    no_complaints(over.map(|(what, n, limit)| format!("{what} {n}, limit {limit}\n{}", longest.join("\n"))).collect());
}

fn named(file: &Source) -> Vec<(usize, String)> {
    lengths_in(&file.text).into_iter().map(|(name, length)| (length, format!("{} {name}", file.path))).collect()
}

/// The middle length, and the one that 95 of 100 do not exceed, of lengths in order.
fn spread(sorted: &[usize]) -> (usize, usize) {
    let at = |share: usize| sorted.get((sorted.len() * share).div_ceil(100).saturating_sub(1)).copied().unwrap_or(0);
    (at(50), at(95))
}

/// The name and length of each function, from its signature to its closing brace, tests aside.
fn lengths_in(text: &str) -> Vec<(String, usize)> {
    let mut found = Functions(Vec::new());
    found.visit_file(&syn::parse_file(text).expect("tracked Rust parses"));
    found.0
}

struct Functions(Vec<(String, usize)>);

impl Functions {
    fn add(&mut self, signature: &Signature, block: &Block) {
        let lines = block.brace_token.span.close().end().line - signature.fn_token.span.start().line + 1;
        self.0.push((signature.ident.to_string(), lines));
    }
}

impl<'ast> Visit<'ast> for Functions {
    fn visit_item_mod(&mut self, item: &'ast ItemMod) {
        if !is_test(&item.attrs) {
            visit::visit_item_mod(self, item);
        }
    }

    fn visit_item_fn(&mut self, item: &'ast ItemFn) {
        if !is_test(&item.attrs) {
            self.add(&item.sig, &item.block);
            visit::visit_item_fn(self, item);
        }
    }

    fn visit_impl_item_fn(&mut self, item: &'ast ImplItemFn) {
        self.add(&item.sig, &item.block);
        visit::visit_impl_item_fn(self, item);
    }

    fn visit_trait_item_fn(&mut self, item: &'ast TraitItemFn) {
        if let Some(block) = &item.default {
            self.add(&item.sig, block);
        }
    }
}

/// Whether the item is compiled for tests only.
pub(crate) fn is_test(attributes: &[Attribute]) -> bool {
    attributes.iter().any(|attribute| {
        let test = |list: &syn::MetaList| list.path.is_ident("cfg") && list.tokens.to_string() == "test";
        attribute.path().is_ident("test") || attribute.meta.require_list().is_ok_and(test)
    })
}
