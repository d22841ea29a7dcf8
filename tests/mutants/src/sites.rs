//! Where a source file can be made wrong, and how.

use std::ops::Range;

use proc_macro2::Span;
use syn::spanned::Spanned;
use syn::visit::{self, Visit};
use syn::{BinOp, Expr, Lit, UnOp};

use crate::bodies::stand_ins;

/// One small fault.
#[derive(Clone, Debug)]
pub struct Mutant {
    /// The file, below the project.
    pub file: String,
    /// The function it stands in, with its type.
    pub function: String,
    /// What is written, and what stands there instead.
    pub mutation: String,
    /// Rust that stands in; for an arm or a guard, empty.
    pub text: String,
}

/// A place that mutants share.
#[derive(Debug)]
pub struct Site {
    /// The bytes of what is replaced; empty for what is put in.
    pub range: Range<usize>,
    /// What the switch is written around.
    pub form: Form,
    /// The faults.
    pub mutants: Vec<Mutant>,
}

/// How the switch is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Form {
    /// Around an expression.
    Expression,
    /// At the beginning of a function's body, which it leaves.
    Body,
    /// Around a guard: the first mutant makes it true, the second false.
    Guard,
    /// A guard for an arm that has none, so that it is passed over.
    Arm,
}

/// All sites of one file.
pub fn sites(file: &str, text: &str) -> Vec<Site> {
    let parsed = syn::parse_file(text).unwrap_or_else(|error| panic!("{file}: {error}"));
    let mut finder = Finder { file, text, names: Vec::new(), frozen: true, found: Vec::new() };
    finder.visit_file(&parsed);
    finder.found
}

/// The modules a file declares for tests only.
pub fn test_modules(text: &str) -> Vec<String> {
    let parsed = syn::parse_file(text).map(|file| file.items).unwrap_or_default();
    let modules = parsed.into_iter().filter_map(|item| match item {
        syn::Item::Mod(module) if module.content.is_none() && for_tests(&module.attrs) => Some(module),
        _ => None,
    });
    modules.map(|module| module.ident.to_string()).collect()
}

fn for_tests(attributes: &[syn::Attribute]) -> bool {
    attributes.iter().any(|attribute| {
        let syn::Meta::List(list) = &attribute.meta else { return attribute.path().is_ident("test") };
        list.path.is_ident("cfg") && list.tokens.to_string() == "test"
    })
}

struct Finder<'a> {
    file: &'a str,
    text: &'a str,
    /// The modules, types and functions around.
    names: Vec<String>,
    /// Whether the compiler works this out itself: constants, types.
    frozen: bool,
    found: Vec<Site>,
}

impl Finder<'_> {
    fn source(&self, span: Span) -> &str {
        &self.text[span.byte_range()]
    }

    fn mutant(&self, mutation: String, text: String) -> Mutant {
        let mutation = mutation.split_whitespace().collect::<Vec<_>>().join(" ");
        Mutant { file: self.file.to_string(), function: self.names.join("::"), mutation, text }
    }

    /// Notes an expression that can be replaced.
    fn expression(&mut self, expr: &Expr, texts: Vec<String>) {
        if self.frozen || texts.is_empty() {
            return;
        }
        let written = self.source(expr.span());
        let mutants =
            texts.into_iter().map(|text| self.mutant(format!("{written} => {text}"), text)).collect();
        self.found.push(Site { range: expr.span().byte_range(), form: Form::Expression, mutants });
    }

    /// Visits what stands in a place with a name.
    fn within(&mut self, name: String, frozen: bool, visit: impl FnOnce(&mut Self)) {
        self.names.push(name);
        let before = std::mem::replace(&mut self.frozen, frozen);
        visit(self);
        self.frozen = before;
        self.names.pop();
    }

    fn function(&mut self, signature: &syn::Signature, block: &syn::Block) {
        let constant = signature.constness.is_some();
        self.within(signature.ident.to_string(), constant, |finder| {
            if !constant {
                finder.body(signature, block);
            }
            finder.visit_block(block);
        });
    }

    fn body(&mut self, signature: &syn::Signature, block: &syn::Block) {
        let inner = self.source(block.span());
        let inner = inner[1..inner.len() - 1].trim();
        let mut texts = stand_ins(&signature.output);
        texts.retain(|text| text != inner && !(inner.is_empty() && text == "()"));
        if signature.ident == "default" {
            texts.retain(|text| !text.contains("Default"));
        }
        let start = block.brace_token.span.open().byte_range().end;
        let mutants = texts.into_iter().map(|text| self.mutant(format!("body => {text}"), text));
        let mutants: Vec<Mutant> = mutants.collect();
        if !mutants.is_empty() {
            self.found.push(Site { range: start..start, form: Form::Body, mutants });
        }
    }

    fn binary(&mut self, binary: &syn::ExprBinary) -> Vec<String> {
        if has_let(&binary.left) || has_let(&binary.right) {
            return Vec::new();
        }
        let (left, right) = (self.source(binary.left.span()), self.source(binary.right.span()));
        instead(&binary.op).iter().map(|op| format!("{left} {op} {right}")).collect()
    }

    fn unary(&self, unary: &syn::ExprUnary) -> Vec<String> {
        match unary.op {
            UnOp::Not(_) | UnOp::Neg(_) => vec![self.source(unary.expr.span()).to_string()],
            _ => Vec::new(),
        }
    }

    fn literal(&self, literal: &Lit) -> Vec<String> {
        match literal {
            Lit::Int(_) => vec![format!("{} + 1", self.source(literal.span()))],
            Lit::Float(_) => vec![format!("{} + 1.0", self.source(literal.span()))],
            Lit::Bool(truth) => vec![(!truth.value).to_string()],
            _ => Vec::new(),
        }
    }
}

/// Operators that stand in for one.
fn instead(op: &BinOp) -> &'static [&'static str] {
    match op {
        BinOp::Add(_) => &["-", "*"],
        BinOp::Sub(_) => &["+", "/"],
        BinOp::Mul(_) => &["/", "+"],
        BinOp::Div(_) => &["*", "-"],
        BinOp::Rem(_) => &["/", "+"],
        BinOp::And(_) => &["||"],
        BinOp::Or(_) => &["&&"],
        BinOp::Eq(_) => &["!="],
        BinOp::Ne(_) => &["=="],
        BinOp::Lt(_) => &["<=", ">="],
        BinOp::Le(_) => &["<", ">"],
        BinOp::Gt(_) => &[">=", "<="],
        BinOp::Ge(_) => &[">", "<"],
        BinOp::BitAnd(_) => &["|", "^"],
        BinOp::BitOr(_) => &["&", "^"],
        BinOp::BitXor(_) => &["|", "&"],
        BinOp::Shl(_) => &[">>"],
        BinOp::Shr(_) => &["<<"],
        BinOp::AddAssign(_) => &["-=", "*="],
        BinOp::SubAssign(_) => &["+=", "/="],
        BinOp::MulAssign(_) => &["/=", "+="],
        BinOp::DivAssign(_) => &["*=", "-="],
        BinOp::BitOrAssign(_) => &["&=", "^="],
        BinOp::BitAndAssign(_) => &["|=", "^="],
        _ => &[],
    }
}

/// Whether a condition is a chain with `let`, which no bracket may stand around.
fn has_let(expr: &Expr) -> bool {
    match expr {
        Expr::Let(_) => true,
        Expr::Binary(binary) => has_let(&binary.left) || has_let(&binary.right),
        _ => false,
    }
}

impl<'ast> Visit<'ast> for Finder<'_> {
    fn visit_item_mod(&mut self, item: &'ast syn::ItemMod) {
        if !for_tests(&item.attrs) {
            self.within(item.ident.to_string(), true, |finder| visit::visit_item_mod(finder, item));
        }
    }

    fn visit_item_fn(&mut self, item: &'ast syn::ItemFn) {
        if !for_tests(&item.attrs) {
            self.function(&item.sig, &item.block);
        }
    }

    fn visit_item_impl(&mut self, item: &'ast syn::ItemImpl) {
        let owner = self.source(item.self_ty.span()).to_string();
        let name = match &item.trait_ {
            Some((_, path, _)) => format!("<{owner} as {}>", self.source(path.span())),
            None => owner,
        };
        if !for_tests(&item.attrs) {
            self.within(name, true, |finder| visit::visit_item_impl(finder, item));
        }
    }

    fn visit_impl_item_fn(&mut self, item: &'ast syn::ImplItemFn) {
        if !for_tests(&item.attrs) {
            self.function(&item.sig, &item.block);
        }
    }

    fn visit_item_trait(&mut self, item: &'ast syn::ItemTrait) {
        self.within(item.ident.to_string(), true, |finder| visit::visit_item_trait(finder, item));
    }

    fn visit_trait_item_fn(&mut self, item: &'ast syn::TraitItemFn) {
        if let Some(block) = &item.default {
            self.function(&item.sig, block);
        }
    }

    fn visit_item_const(&mut self, item: &'ast syn::ItemConst) {
        self.within(item.ident.to_string(), true, |finder| visit::visit_item_const(finder, item));
    }

    fn visit_item_static(&mut self, item: &'ast syn::ItemStatic) {
        self.within(item.ident.to_string(), true, |finder| visit::visit_item_static(finder, item));
    }

    fn visit_expr_closure(&mut self, closure: &'ast syn::ExprClosure) {
        let before = std::mem::replace(&mut self.frozen, false);
        self.visit_expr(&closure.body);
        self.frozen = before;
    }

    fn visit_expr_repeat(&mut self, repeat: &'ast syn::ExprRepeat) {
        self.visit_expr(&repeat.expr);
    }

    fn visit_expr_const(&mut self, _: &'ast syn::ExprConst) {}
    fn visit_pat(&mut self, _: &'ast syn::Pat) {}
    fn visit_type(&mut self, _: &'ast syn::Type) {}
    fn visit_attribute(&mut self, _: &'ast syn::Attribute) {}
    fn visit_generic_argument(&mut self, _: &'ast syn::GenericArgument) {}

    fn visit_expr_match(&mut self, matched: &'ast syn::ExprMatch) {
        let wild = |arm: &syn::Arm| matches!(arm.pat, syn::Pat::Wild(_)) && arm.guard.is_none();
        let open = matched.arms.iter().any(wild);
        for arm in &matched.arms {
            let pattern = self.source(arm.pat.span()).to_string();
            let whole = arm.pat.span().byte_range();
            if let Some((_, guard)) = &arm.guard
                && !self.frozen
            {
                let written = format!("{pattern} if {}", self.source(guard.span()));
                let mutants = ["true", "false"]
                    .map(|truth| self.mutant(format!("guard of {written} => {truth}"), String::new()));
                let range = guard.span().byte_range();
                self.found.push(Site { range, form: Form::Guard, mutants: mutants.into() });
            } else if open && !wild(arm) && !self.frozen {
                let mutants = vec![self.mutant(format!("arm {pattern} => passed over"), String::new())];
                self.found.push(Site { range: whole.end..whole.end, form: Form::Arm, mutants });
            }
        }
        visit::visit_expr_match(self, matched);
    }

    fn visit_expr(&mut self, expr: &'ast Expr) {
        let texts = match expr {
            Expr::Binary(binary) => self.binary(binary),
            Expr::Unary(unary) => self.unary(unary),
            Expr::Lit(literal) => self.literal(&literal.lit),
            _ => Vec::new(),
        };
        self.expression(expr, texts);
        visit::visit_expr(self, expr);
    }
}
