//! Only `units.rs` turns numbers into quantities: the doors of the core take and give quantities.

use crate::enforce;
use crate::functions::is_test;
use crate::source::Source;
use syn::visit::{self, Visit};
use syn::{Field, FnArg, ImplItemFn, ItemFn, ItemImpl, ItemMod, ReturnType, Signature, Type, Visibility};

/// What a constructor that takes millimetres is called, so that the unit stands at every call.
const BY_UNIT: &str = "mm";

#[test]
fn the_doors_of_the_core_take_quantities() {
    let rule = |file: &Source| {
        let core = file.within("src-tauri/crates/survey/src/") && file.is("rs");
        if !core || file.path.ends_with("/src/units.rs") { vec![] } else { bare_numbers(file) }
    };
    let plane = "src-tauri/crates/survey/src/plane.rs";
    enforce(
        rule,
        &[
            (plane, "pub fn height(x: f64) -> Length { Length::mm(x) }"),
            (plane, "pub fn heights() -> Vec<f64> { vec![] }"),
            (plane, "pub struct Plane { pub height: f64 }"),
            (plane, "impl Plane { pub fn at(&self, xs: &[f64]) -> Length { Length::ZERO } }"),
        ],
    );
    let kernel = Source::new(plane, "pub(crate) fn sum(xs: &[f64]) -> f64 { 0.0 }\nstruct Sum { total: f64 }");
    assert!(bare_numbers(&kernel).is_empty(), "kernels inside the crate may work in millimetres");
}

fn bare_numbers(file: &Source) -> Vec<String> {
    let mut found = Doors { path: &file.path, complaints: vec![] };
    found.visit_file(&syn::parse_file(&file.text).expect("tracked Rust parses"));
    found.complaints
}

struct Doors<'a> {
    path: &'a str,
    complaints: Vec<String>,
}

impl Doors<'_> {
    fn signature(&mut self, visibility: &Visibility, signature: &Signature) {
        let takes = signature.inputs.iter().any(|input| matches!(input, FnArg::Typed(typed) if is_bare(&typed.ty)));
        let gives = matches!(&signature.output, ReturnType::Type(_, ty) if is_bare(ty));
        let names_its_unit = signature.ident == BY_UNIT && !gives;
        if matches!(visibility, Visibility::Public(_)) && (takes || gives) && !names_its_unit {
            self.complaints.push(format!("{}: pub fn {} speaks in bare numbers", self.path, signature.ident));
        }
    }
}

impl<'ast> Visit<'ast> for Doors<'_> {
    fn visit_item_mod(&mut self, item: &'ast ItemMod) {
        if !is_test(&item.attrs) {
            visit::visit_item_mod(self, item);
        }
    }

    fn visit_item_fn(&mut self, item: &'ast ItemFn) {
        self.signature(&item.vis, &item.sig);
    }

    fn visit_item_impl(&mut self, item: &'ast ItemImpl) {
        visit::visit_item_impl(self, item);
    }

    fn visit_impl_item_fn(&mut self, item: &'ast ImplItemFn) {
        self.signature(&item.vis, &item.sig);
    }

    fn visit_field(&mut self, field: &'ast Field) {
        if matches!(field.vis, Visibility::Public(_)) && is_bare(&field.ty) {
            let name = field.ident.as_ref().map(ToString::to_string).unwrap_or_default();
            self.complaints.push(format!("{}: pub {name} is a bare number", self.path));
        }
    }
}

/// Whether the type is `f64`, or holds one.
fn is_bare(ty: &Type) -> bool {
    struct Bare(bool);
    impl<'ast> Visit<'ast> for Bare {
        fn visit_ident(&mut self, ident: &'ast syn::Ident) {
            self.0 |= ident == "f64" || ident == "f32";
        }
    }
    let mut bare = Bare(false);
    bare.visit_type(ty);
    bare.0
}
