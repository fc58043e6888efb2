//! What one crate's source says about its modules: which there are, what each
//! imports and which paths it names.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use anyhow::Context;
use proc_macro2::{Delimiter, TokenStream, TokenTree};

/// A module; the crate's root is the first of the list.
#[derive(Debug)]
pub(crate) struct Module {
    /// The file it stands in; an inline module shares that of its parent.
    pub(crate) file: PathBuf,
    pub(crate) parent: Option<usize>,
    pub(crate) children: BTreeMap<String, usize>,
    /// The names that `use` brings in, with the paths behind them.
    pub(crate) imports: BTreeMap<String, Vec<String>>,
    /// The paths it uses. A public re-export is not among them.
    pub(crate) paths: Vec<Vec<String>>,
}

/// How a file is read; the tests pass their own.
type Read<'a> = &'a dyn Fn(&Path) -> anyhow::Result<String>;

/// All modules of the crate whose root is `file`.
pub(crate) fn read_crate(file: &Path, read: Read<'_>) -> anyhow::Result<Vec<Module>> {
    let folder = file.parent().unwrap_or(file).to_owned();
    let mut reader = Reader {
        modules: Vec::new(),
        read,
    };
    reader.file(file, &folder, None)?;
    Ok(reader.modules)
}

struct Reader<'a> {
    modules: Vec<Module>,
    read: Read<'a>,
}

impl Reader<'_> {
    /// Reads a file as a module whose children are files in `folder`.
    fn file(&mut self, file: &Path, folder: &Path, parent: Option<usize>) -> anyhow::Result<usize> {
        let text = (self.read)(file)?;
        let tokens: TokenStream = text
            .parse()
            .ok()
            .with_context(|| format!("could not take `{}` apart", file.display()))?;
        let module = self.module(file.to_owned(), parent);
        self.tokens(tokens, module, folder)?;
        Ok(module)
    }

    fn module(&mut self, file: PathBuf, parent: Option<usize>) -> usize {
        self.modules.push(Module {
            file,
            parent,
            children: BTreeMap::new(),
            imports: BTreeMap::new(),
            paths: Vec::new(),
        });
        self.modules.len() - 1
    }

    fn tokens(&mut self, tokens: TokenStream, module: usize, folder: &Path) -> anyhow::Result<()> {
        let tokens: Vec<TokenTree> = tokens.into_iter().collect();
        let mut at = 0;
        while at < tokens.len() {
            let rest = &tokens[at..];
            at += if is_test_attribute(rest) {
                2 + length_of_item(&rest[2..])
            } else if is_word(rest, "mod") && rest.get(1).is_some_and(is_ident) {
                self.child(rest, module, folder)?
            } else if is_word(rest, "use") {
                let is_public = at > 0 && is_visibility(&tokens[..at]);
                self.import(rest, module, is_public)
            } else if let TokenTree::Group(group) = &rest[0] {
                self.tokens(group.stream(), module, folder)?;
                1
            } else if is_ident(&rest[0]) && !follows_path(&tokens[..at]) {
                let path = path(rest);
                let length = path.len() * 3 - 2;
                if path.len() > 1 {
                    self.modules[module].paths.push(path);
                }
                length
            } else {
                1
            };
        }
        Ok(())
    }

    /// A `mod name;` or `mod name { … }`; how many tokens it has.
    fn child(&mut self, rest: &[TokenTree], module: usize, folder: &Path) -> anyhow::Result<usize> {
        let name = rest[1].to_string().trim_start_matches("r#").to_owned();
        let below = folder.join(&name);
        let child = match rest.get(2) {
            Some(TokenTree::Group(body)) => {
                let file = self.modules[module].file.clone();
                let child = self.module(file, Some(module));
                self.tokens(body.stream(), child, &below)?;
                child
            }
            _ => {
                let beside = folder.join(format!("{name}.rs"));
                let inside = below.join("mod.rs");
                let file = if inside.is_file() { inside } else { beside };
                self.file(&file, &below, Some(module))?
            }
        };
        self.modules[module].children.insert(name, child);
        Ok(3)
    }

    /// A `use …;`; how many tokens it has.
    fn import(&mut self, rest: &[TokenTree], module: usize, is_public: bool) -> usize {
        let length = length_of_item(rest);
        let mut found = Vec::new();
        use_tree(&rest[1..length], &[], &mut found);
        for (name, path) in found {
            if !is_public {
                self.modules[module].paths.push(path.clone());
            }
            self.modules[module].imports.insert(name, path);
        }
        length
    }
}

/// Takes `a::{b, c::d as e}` apart into the names it brings in and their paths.
fn use_tree(tokens: &[TokenTree], before: &[String], found: &mut Vec<(String, Vec<String>)>) {
    for branch in tokens.split(|token| is_punct(token, ',')) {
        let mut path = before.to_vec();
        let mut name = None;
        let mut words = branch.iter().peekable();
        while let Some(token) = words.next() {
            match token {
                TokenTree::Ident(word) if word == "as" => {
                    name = words.next().map(ToString::to_string);
                }
                TokenTree::Ident(word) => path.push(word.to_string()),
                TokenTree::Group(group) => {
                    let inside: Vec<TokenTree> = group.stream().into_iter().collect();
                    use_tree(&inside, &path, found);
                    path.clear();
                }
                TokenTree::Punct(_) | TokenTree::Literal(_) => {}
            }
        }
        if path.len() > before.len() {
            let last = path.last().filter(|last| *last != "self");
            let name = name.or_else(|| last.or(path.iter().rev().nth(1)).cloned());
            found.push((name.unwrap_or_default(), path));
        }
    }
}

/// The idents at the beginning that `::` joins.
fn path(tokens: &[TokenTree]) -> Vec<String> {
    let mut path = vec![tokens[0].to_string()];
    let mut rest = &tokens[1..];
    while let [first, second, next, after @ ..] = rest
        && is_punct(first, ':')
        && is_punct(second, ':')
        && is_ident(next)
    {
        path.push(next.to_string());
        rest = after;
    }
    path
}

/// How many tokens the item at the beginning has: up to its `;` or its body.
fn length_of_item(tokens: &[TokenTree]) -> usize {
    let is_end = |token: &TokenTree| match token {
        TokenTree::Group(group) => group.delimiter() == Delimiter::Brace,
        other => is_punct(other, ';'),
    };
    let is_use = tokens
        .iter()
        .take(4)
        .any(|token| token.to_string() == "use");
    let end = tokens.iter().position(|token| {
        if is_use {
            is_punct(token, ';')
        } else {
            is_end(token)
        }
    });
    end.map_or(tokens.len(), |end| end + 1)
}

fn is_test_attribute(tokens: &[TokenTree]) -> bool {
    is_punct(&tokens[0], '#')
        && matches!(tokens.get(1), Some(TokenTree::Group(group))
            if group.stream().to_string().replace(' ', "") == "cfg(test)")
}

/// Whether what stands before is `pub` or `pub(…)`.
fn is_visibility(before: &[TokenTree]) -> bool {
    let is_pub = |token: Option<&TokenTree>| token.is_some_and(|it| it.to_string() == "pub");
    match before {
        [.., word, TokenTree::Group(_)] => is_pub(Some(word)),
        _ => is_pub(before.last()),
    }
}

/// Whether the next ident goes on with a path or is a field or method.
fn follows_path(before: &[TokenTree]) -> bool {
    before
        .last()
        .is_some_and(|token| is_punct(token, ':') && joined(before) || is_punct(token, '.'))
}

/// Whether what stands before ends in `::`, not in the `:` before a type.
fn joined(before: &[TokenTree]) -> bool {
    before
        .iter()
        .rev()
        .nth(1)
        .is_some_and(|token| is_punct(token, ':'))
}

fn is_word(tokens: &[TokenTree], word: &str) -> bool {
    matches!(&tokens[0], TokenTree::Ident(ident) if ident == word)
}

fn is_ident(token: &TokenTree) -> bool {
    matches!(token, TokenTree::Ident(_))
}

fn is_punct(token: &TokenTree, sign: char) -> bool {
    matches!(token, TokenTree::Punct(punct) if punct.as_char() == sign)
}
