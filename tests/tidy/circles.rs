//! No circles among files: what two files both need stands in a third, below both.
//!
//! An arrow goes from a file to each file that defines something it names, in a `use` (private
//! ones, of however many lines) or in a path. What a `mod.rs` only passes on (`pub use`) is an
//! arrow to where it is defined, from whoever names it, and none from the `mod.rs`. Methods are
//! not followed: one type may have its methods in several files.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;

use proc_macro2::{TokenStream, TokenTree};
use syn::visit::{self, Visit};
use syn::{Attribute, Item, ItemMod, ItemUse, UseTree, Visibility};

/// The circles that stand, each with its files and its reason.
const ALLOWED: &[(&[&str], &str)] = &[(
    &["procedure/checking.rs", "procedure/verb.rs"],
    "the grammar's own recursion: a step may be a part, which is made of steps",
)];

/// A file as a module.
#[derive(Default)]
struct Module {
    file: String,
    /// What it defines, modules aside.
    items: BTreeSet<String>,
    /// What it brings into scope: its name here, and the path it comes from.
    imports: BTreeMap<String, Vec<String>>,
    /// Modules all of whose names it brings in.
    globs: Vec<Vec<String>>,
    /// Every path it names, private imports among them.
    paths: Vec<Vec<String>>,
}

/// Modules by their path from the crate.
type Modules = BTreeMap<Vec<String>, Module>;
/// From file to file, with the names that tie them.
type Arrows = BTreeMap<String, BTreeMap<String, BTreeSet<String>>>;

fn only_for_tests(attributes: &[Attribute]) -> bool {
    let is_test = |attribute: &Attribute| {
        attribute.path().is_ident("cfg")
            && attribute.parse_args::<syn::Path>().is_ok_and(|path| path.is_ident("test"))
    };
    attributes.iter().any(is_test)
}

fn attributes(item: &Item) -> &[Attribute] {
    match item {
        Item::Const(item) => &item.attrs,
        Item::Fn(item) => &item.attrs,
        Item::Impl(item) => &item.attrs,
        Item::Mod(item) => &item.attrs,
        Item::Static(item) => &item.attrs,
        Item::Use(item) => &item.attrs,
        _ => &[],
    }
}

impl Module {
    fn read(file: String, text: &str) -> Module {
        let mut module = Module { file, ..Module::default() };
        module.visit_file(&syn::parse_file(text).unwrap());
        module
    }

    fn define(&mut self, item: &Item) {
        let name = match item {
            Item::Const(item) => &item.ident,
            Item::Enum(item) => &item.ident,
            Item::Fn(item) => &item.sig.ident,
            Item::Static(item) => &item.ident,
            Item::Struct(item) => &item.ident,
            Item::Trait(item) => &item.ident,
            Item::Type(item) => &item.ident,
            _ => return,
        };
        self.items.insert(name.to_string());
    }

    /// Takes a `use`; one that is not private only passes on.
    fn bring(&mut self, tree: &UseTree, above: &[String], private: bool) {
        let with = |name: &dyn ToString| [above, &[name.to_string()]].concat();
        let (name, path) = match tree {
            UseTree::Path(path) => return self.bring(&path.tree, &with(&path.ident), private),
            UseTree::Group(group) => {
                return group.items.iter().for_each(|tree| self.bring(tree, above, private));
            }
            UseTree::Glob(_) => return self.globs.push(above.to_vec()),
            UseTree::Name(name) if name.ident == "self" => (above.last().unwrap().clone(), above.to_vec()),
            UseTree::Name(name) => (name.ident.to_string(), with(&name.ident)),
            UseTree::Rename(name) => (name.rename.to_string(), with(&name.ident)),
        };
        if private {
            self.paths.push(path.clone());
        }
        self.imports.insert(name, path);
    }

    /// The paths in a macro's arguments, whose grammar only the macro knows.
    fn scan(&mut self, tokens: TokenStream) {
        let mut path: Vec<String> = Vec::new();
        let mut colons = 0;
        for token in tokens {
            match token {
                TokenTree::Punct(punct) if punct.as_char() == ':' => colons += 1,
                TokenTree::Ident(name) if colons == 2 && !path.is_empty() => {
                    path.push(name.to_string());
                    colons = 0;
                }
                other => {
                    self.paths.push(std::mem::take(&mut path));
                    colons = 0;
                    match other {
                        TokenTree::Ident(name) => path.push(name.to_string()),
                        TokenTree::Group(group) => self.scan(group.stream()),
                        _ => {}
                    }
                }
            }
        }
        self.paths.push(path);
    }
}

impl<'ast> Visit<'ast> for Module {
    fn visit_file(&mut self, file: &'ast syn::File) {
        file.items.iter().for_each(|item| self.define(item));
        visit::visit_file(self, file);
    }

    fn visit_item(&mut self, item: &'ast Item) {
        if !only_for_tests(attributes(item)) {
            visit::visit_item(self, item);
        }
    }

    fn visit_item_mod(&mut self, item: &'ast ItemMod) {
        assert!(item.content.is_none(), "{}: a module inside a file is not followed", self.file);
    }

    fn visit_item_use(&mut self, item: &'ast ItemUse) {
        self.bring(&item.tree, &[], matches!(item.vis, Visibility::Inherited));
    }

    fn visit_path(&mut self, path: &'ast syn::Path) {
        self.paths.push(path.segments.iter().map(|segment| segment.ident.to_string()).collect());
        visit::visit_path(self, path);
    }

    fn visit_macro(&mut self, call: &'ast syn::Macro) {
        self.scan(call.tokens.clone());
    }
}

fn modules() -> Modules {
    let src = crate::root().join("src");
    let mut modules = Modules::new();
    for path in crate::files_below(&src, ".rs").into_iter().filter(|path| !crate::is_only_for_tests(path)) {
        let name = path.strip_prefix(&src).unwrap();
        let mut at: Vec<String> =
            name.with_extension("").iter().map(|part| part.to_str().unwrap().to_string()).collect();
        if at.last().is_some_and(|last| ["mod", "lib"].contains(&last.as_str())) {
            at.pop();
        }
        let module = Module::read(name.to_str().unwrap().to_string(), &fs::read_to_string(&path).unwrap());
        modules.insert(at, module);
    }
    modules
}

/// What a path leads to.
enum Found<'a> {
    Module(Vec<String>),
    /// Something that this file defines.
    In(&'a str),
}

/// What `path`, named in the module `at`, leads to; none when it lies outside the crate.
fn resolve<'a>(modules: &'a Modules, at: &[String], path: &[String], depth: usize) -> Option<Found<'a>> {
    let (first, rest) = path.split_first().filter(|_| depth < 20)?;
    let start = match first.as_str() {
        "crate" | "tankhand" => Found::Module(Vec::new()),
        "self" => Found::Module(at.to_vec()),
        "super" => Found::Module(at[..at.len().checked_sub(1)?].to_vec()),
        name => named(modules, at, name, depth)?,
    };
    rest.iter().try_fold(start, |found, name| match (found, name.as_str()) {
        (Found::Module(at), "super") => Some(Found::Module(at[..at.len().checked_sub(1)?].to_vec())),
        (Found::Module(at), name) => named(modules, &at, name, depth),
        (found, _) => Some(found),
    })
}

/// What a name means in a module: a module below it, what it defines, what it brings in.
fn named<'a>(modules: &'a Modules, at: &[String], name: &str, depth: usize) -> Option<Found<'a>> {
    let below = [at, &[name.to_string()]].concat();
    let module = modules.get(at)?;
    if module.items.contains(name) {
        return Some(Found::In(&module.file));
    }
    if modules.contains_key(&below) {
        return Some(Found::Module(below));
    }
    if let Some(path) = module.imports.get(name) {
        return resolve(modules, at, path, depth + 1);
    }
    let through = |path: &Vec<String>| match resolve(modules, at, path, depth + 1)? {
        Found::Module(there) => named(modules, &there, name, depth + 1),
        Found::In(_) => None,
    };
    module.globs.iter().find_map(through)
}

fn arrows(modules: &Modules) -> Arrows {
    let mut arrows = Arrows::new();
    for (at, module) in modules.iter().filter(|(_, module)| module.file != "lib.rs") {
        for path in &module.paths {
            if let Some(Found::In(file)) = resolve(modules, at, path, 0)
                .filter(|found| matches!(found, Found::In(file) if *file != module.file))
            {
                let names =
                    arrows.entry(module.file.clone()).or_default().entry(file.to_string()).or_default();
                names.insert(path.join("::"));
            }
        }
    }
    arrows
}

/// Every file that can be reached from one by arrows.
fn reached<'a>(arrows: &'a Arrows, from: &str) -> BTreeSet<&'a str> {
    let mut seen = BTreeSet::new();
    let mut left = vec![from];
    while let Some(file) = left.pop() {
        for next in arrows.get(file).into_iter().flat_map(BTreeMap::keys) {
            if seen.insert(next.as_str()) {
                left.push(next);
            }
        }
    }
    seen
}

/// The files that can be reached from each other, circle by circle.
fn circles(arrows: &Arrows) -> BTreeSet<BTreeSet<&str>> {
    let reached: BTreeMap<&str, BTreeSet<&str>> =
        arrows.keys().map(|file| (file.as_str(), reached(arrows, file))).collect();
    let circle = |(file, all): (&&str, &BTreeSet<&'_ str>)| -> BTreeSet<&str> {
        let back = |other: &&&str| reached.get(**other).is_some_and(|back| back.contains(file));
        arrows.keys().map(String::as_str).filter(|other| all.contains(other) && back(&other)).collect()
    };
    reached.iter().filter(|(file, all)| all.contains(*file)).map(circle).collect()
}

/// The arrows inside a circle, one a line.
fn arrow_lines(circle: &BTreeSet<&str>, arrows: &Arrows) -> String {
    let inside = arrows.iter().filter(|(from, _)| circle.contains(from.as_str()));
    let lines = inside.flat_map(|(from, to)| {
        let to = to.iter().filter(|(to, _)| circle.contains(to.as_str()));
        to.map(move |(to, names)| {
            format!("  {from} -> {to}: {}\n", names.iter().cloned().collect::<Vec<_>>().join(", "))
        })
    });
    lines.collect()
}

#[test]
fn files_stand_in_no_circle() {
    let modules = modules();
    let arrows = arrows(&modules);
    let found = circles(&arrows);
    let allowed: BTreeSet<BTreeSet<&str>> =
        ALLOWED.iter().map(|(files, _)| files.iter().copied().collect()).collect();
    assert!(ALLOWED.iter().all(|(_, reason)| !reason.is_empty()));
    let mut faults = String::new();
    for circle in found.difference(&allowed) {
        let files: Vec<&str> = circle.iter().copied().collect();
        faults += &format!("a circle of {} files: {files:?}\n{}", files.len(), arrow_lines(circle, &arrows));
    }
    for gone in allowed.difference(&found) {
        faults += &format!("no circle any more, or another: {gone:?}\n");
    }
    assert!(faults.is_empty(), "{faults}");
}
