//! What the language may speak of at one place of a procedure.

use std::sync::Arc;

use super::checking::Checking;
use crate::lang::{Function, Scope, Type};

/// The language's view of what is known.
impl Scope for Checking<'_> {
    fn find(&self, name: &str) -> Option<(Arc<str>, Type)> {
        self.find(name)
    }

    fn names(&self) -> Vec<String> {
        self.names()
    }

    fn origin(&self, name: &str) -> Option<String> {
        self.where_known(name)
    }

    fn function(&self, name: &str) -> Option<&'static Function> {
        super::functions::function(name)
    }

    fn function_names(&self) -> Vec<&'static str> {
        super::functions::functions().map(|f| f.name).collect()
    }
}
