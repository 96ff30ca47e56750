//! The sources of all crates as modules that import from one another, read by a parser of Rust.

use super::{files, top};
use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use syn::visit::{self, Visit};
use syn::{Attribute, Item, ItemMod, ItemUse, Macro, UseTree, Visibility};

/// A path of names, the crate's first: `["roulade", "cell", "winding"]`.
pub(super) type Name = Vec<String>;

/// One file of one crate.
#[derive(Default)]
struct Module {
    /// Names that it hands on: what is called so here stands there.
    reexports: BTreeMap<String, Name>,
    /// Paths that it uses, as far as they lead into one of the crates.
    uses: BTreeSet<Name>,
}

/// All files, and who uses whom.
pub(super) struct Sources(BTreeMap<Name, Module>);

impl Sources {
    /// Reads every file of every crate. Tests, and what they share, look at the code from outside: they do not count.
    pub(super) fn read() -> Self {
        let mut texts = BTreeMap::new();
        for folder in fs::read_dir(top().join("crates")).expect("the crates") {
            let folder = folder.expect("a crate").path();
            let name = folder.file_name().expect("a name").to_string_lossy().replace('-', "_");
            let source = folder.join("src");
            for file in files(&source, ".rs") {
                let inside = file.strip_prefix(&source).expect("below the source").with_extension("");
                let parts = inside.components().map(|part| part.as_os_str().to_string_lossy().into_owned());
                let mut module: Name = std::iter::once(name.clone()).chain(parts).collect();
                if module.iter().any(|part| part == "tests" || part == "test_support") {
                    continue;
                }
                if ["mod", "lib", "main"].contains(&module.last().expect("a name").as_str()) {
                    module.pop();
                }
                let text = fs::read_to_string(&file).expect("a source file");
                let parsed = syn::parse_file(&text).unwrap_or_else(|e| panic!("{}: {e}", file.display()));
                texts.insert(module, parsed);
            }
        }
        // A file that its parent declares for tests alone.
        let outside: BTreeSet<Name> =
            texts.iter().flat_map(|(own, file)| only_for_tests(own, file)).collect();
        texts.retain(|name, _| !outside.contains(name));
        let names: BTreeSet<Name> = texts.keys().cloned().collect();
        let read = |(own, file): (Name, syn::File)| {
            let mut reader =
                Reader { own: &own, names: &names, aliases: BTreeMap::new(), module: Module::default() };
            // Imports first: the paths in the code begin with them.
            for item in &file.items {
                if let Item::Use(item) = item {
                    reader.import(item);
                }
            }
            reader.visit_file(&file);
            (own.clone(), reader.module)
        };
        Self(texts.into_iter().map(read).collect())
    }

    /// Every module.
    pub(super) fn names(&self) -> impl Iterator<Item = &Name> {
        self.0.keys()
    }

    /// The modules whose items a module uses, itself left out.
    pub(super) fn used_by(&self, module: &Name) -> BTreeSet<&Name> {
        let uses = self.0.get(module).into_iter().flat_map(|module| &module.uses);
        uses.filter_map(|path| self.home(path)).filter(|home| *home != module).collect()
    }

    /// The module in which what a path names stands, through all that only hands it on.
    fn home(&self, path: &[String]) -> Option<&Name> {
        let mut path = path.to_vec();
        for _ in 0..8 {
            let (name, module) = (0..=path.len()).rev().find_map(|n| self.0.get_key_value(path.get(..n)?))?;
            match path.get(name.len()).and_then(|next| module.reexports.get(next)) {
                Some(to) => path = to.iter().chain(path.iter().skip(name.len() + 1)).cloned().collect(),
                None => return Some(name),
            }
        }
        None
    }

    /// Modules that use one another in a circle, each with its way around; one circle for each module that begins one.
    pub(super) fn circles(&self) -> Vec<Vec<&Name>> {
        self.names().filter_map(|start| self.way(start, start)).collect()
    }

    /// The shortest way from one module to another over what they use.
    fn way<'a>(&'a self, from: &'a Name, to: &Name) -> Option<Vec<&'a Name>> {
        let mut came: BTreeMap<&Name, &Name> = BTreeMap::new();
        let mut front = vec![from];
        while !front.is_empty() {
            let mut next = Vec::new();
            for module in front {
                for used in self.used_by(module) {
                    if used == to {
                        let mut way = vec![module];
                        while let Some(before) =
                            came.get(way[way.len() - 1]).filter(|_| way[way.len() - 1] != from)
                        {
                            way.push(before);
                        }
                        way.reverse();
                        return Some(way);
                    }
                    if used != from && !came.contains_key(used) {
                        came.insert(used, module);
                        next.push(used);
                    }
                }
            }
            front = next;
        }
        None
    }
}

/// Reads what one file uses.
struct Reader<'a> {
    own: &'a Name,
    names: &'a BTreeSet<Name>,
    /// What a name of this file stands for.
    aliases: BTreeMap<String, Name>,
    module: Module,
}

impl Reader<'_> {
    /// A path from the top, or `None` where it leads out of the crates.
    #[allow(clippy::single_match_else, reason = "an alias or a name: both weigh the same")]
    fn resolved(&self, path: &[String]) -> Option<Name> {
        let (first, rest) = path.split_first()?;
        let mut at: Name = match first.as_str() {
            "crate" => vec![self.own[0].clone()],
            "self" => self.own.clone(),
            "super" => self.own[..self.own.len().saturating_sub(1)].to_vec(),
            name => match self.aliases.get(name) {
                Some(alias) => alias.clone(),
                None => {
                    let child: Name = self.own.iter().cloned().chain([name.to_owned()]).collect();
                    if self.names.contains(&child) {
                        child
                    } else if self.names.contains(&vec![name.to_owned()]) {
                        vec![name.to_owned()]
                    } else {
                        return None;
                    }
                }
            },
        };
        for part in rest {
            match part.as_str() {
                "super" => drop(at.pop()),
                "self" => {}
                other => at.push(other.to_owned()),
            }
        }
        Some(at)
    }

    fn import(&mut self, item: &ItemUse) {
        if tests_only(&item.attrs) {
            return;
        }
        let mut leaves = Vec::new();
        flatten(&item.tree, &mut Vec::new(), &mut leaves);
        for (path, name) in leaves {
            let Some(to) = self.resolved(&path) else { continue };
            if matches!(item.vis, Visibility::Inherited) {
                self.aliases.insert(name, to.clone());
                self.module.uses.insert(to);
            } else {
                // What a module hands on is not used by it.
                self.aliases.insert(name.clone(), to.clone());
                self.module.reexports.insert(name, to);
            }
        }
    }
}

impl<'ast> Visit<'ast> for Reader<'_> {
    fn visit_item(&mut self, item: &'ast Item) {
        let attributes = match item {
            Item::Mod(item) => &item.attrs,
            Item::Fn(item) => &item.attrs,
            Item::Impl(item) => &item.attrs,
            Item::Use(_) => return,
            _ => return visit::visit_item(self, item),
        };
        if !tests_only(attributes) {
            visit::visit_item(self, item);
        }
    }

    fn visit_item_mod(&mut self, item: &'ast ItemMod) {
        // What an interpreter imports is listed in line, as the macro asks for, and hands on what stands around it.
        let listed = item.attrs.iter().any(|attribute| attribute.path().is_ident("pymodule"));
        assert!(item.content.is_none() || listed, "{}: a module in line", self.own.join("::"));
    }

    fn visit_path(&mut self, path: &'ast syn::Path) {
        let names: Name = path.segments.iter().map(|segment| segment.ident.to_string()).collect();
        if names.len() > 1 || self.aliases.contains_key(&names[0]) {
            self.module.uses.extend(self.resolved(&names));
        }
        visit::visit_path(self, path);
    }

    /// Who may see an item is no use of what sees it.
    fn visit_visibility(&mut self, _: &'ast Visibility) {}

    fn visit_macro(&mut self, of: &'ast Macro) {
        // What stands in a macro is not parsed: its whole paths are looked for.
        let text = of.tokens.to_string().replace(' ', "");
        for (at, _) in text.match_indices("crate::") {
            if at > 0 && text.as_bytes()[at - 1] == b'$' {
                continue;
            }
            let path: String =
                text[at..].chars().take_while(|c| c.is_alphanumeric() || *c == '_' || *c == ':').collect();
            let names: Name = path.split("::").filter(|part| !part.is_empty()).map(str::to_owned).collect();
            self.module.uses.extend(self.resolved(&names));
        }
    }
}

/// Modules that a file declares for tests alone.
fn only_for_tests(own: &Name, file: &syn::File) -> Vec<Name> {
    let declared = file.items.iter().filter_map(|item| match item {
        Item::Mod(item) if tests_only(&item.attrs) => Some(item.ident.to_string()),
        _ => None,
    });
    declared.map(|name| own.iter().cloned().chain([name]).collect()).collect()
}

fn tests_only(attributes: &[Attribute]) -> bool {
    attributes.iter().any(|attribute| {
        let of_tests = || match &attribute.meta {
            syn::Meta::List(list) => list.tokens.to_string().contains("test"),
            _ => false,
        };
        attribute.path().is_ident("test") || (attribute.path().is_ident("cfg") && of_tests())
    })
}

/// Each path of a grouped import, with the name it has from then on.
fn flatten(tree: &UseTree, before: &mut Name, leaves: &mut Vec<(Name, String)>) {
    match tree {
        UseTree::Path(path) => {
            before.push(path.ident.to_string());
            flatten(&path.tree, before, leaves);
            before.pop();
        }
        UseTree::Group(group) => group.items.iter().for_each(|item| flatten(item, before, leaves)),
        UseTree::Glob(_) => leaves.push((before.clone(), "*".to_owned())),
        UseTree::Name(name) => leaf(name.ident.to_string(), name.ident.to_string(), before, leaves),
        UseTree::Rename(name) => leaf(name.ident.to_string(), name.rename.to_string(), before, leaves),
    }
}

fn leaf(name: String, called: String, before: &[String], leaves: &mut Vec<(Name, String)>) {
    if name == "self" {
        let called = if called == "self" { before.last().cloned().unwrap_or_default() } else { called };
        leaves.push((before.to_vec(), called));
    } else {
        leaves.push((before.iter().cloned().chain([name]).collect(), called));
    }
}
