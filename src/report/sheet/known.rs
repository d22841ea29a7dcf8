//! What is known before the work begins, and what that settles.

use std::cell::Cell;
use std::collections::{HashMap, HashSet};

use crate::lang::{CheckedExpr, Unknown, Value, Values};
use crate::procedure::Fact;

/// The values that are known before the work, and the names that have none for sure.
#[derive(Debug, Default)]
pub(super) struct Known {
    values: HashMap<String, Value>,
    /// Where tanks are gone through: what is otherwise from tank to tank.
    of_each: Vec<HashMap<String, Value>>,
    pub left_out: HashSet<String>,
    /// The tank in view.
    tank: Cell<Option<usize>>,
    /// Whether a name was asked for that only the work will tell.
    open: Cell<bool>,
}

impl Values for Known {
    fn value(&self, name: &str) -> Result<Value, Unknown> {
        let own = self.tank.get().and_then(|tank| self.of_each.get(tank)?.get(name));
        if let Some(value) = own.or_else(|| self.values.get(name)) {
            return Ok(value.clone());
        }
        self.open.set(self.open.get() || !self.left_out.contains(name));
        Err(Unknown::because("Only the work will tell."))
    }
}

impl Known {
    /// Nothing yet, of so many tanks that are gone through.
    pub(super) fn of_tanks(tanks: usize) -> Known {
        Known { of_each: vec![HashMap::new(); tanks], ..Known::default() }
    }

    /// From here on a name has a value.
    pub(super) fn tell(&mut self, name: &str, value: Value) {
        self.values.insert(name.to_string(), value);
    }

    /// From here on a name has a value at each tank.
    pub(super) fn tell_each(&mut self, name: &str, values: Vec<Value>) {
        match one_of(&values) {
            Some(value) => self.tell(name, value.clone()),
            None => {
                for (own, value) in self.of_each.iter_mut().zip(values) {
                    own.insert(name.to_string(), value);
                }
            }
        }
    }

    /// What is known of a name, of one tank or of whichever.
    pub(super) fn of_tank(&self, name: &str, tank: usize) -> Option<&Value> {
        self.of_each.get(tank).and_then(|own| own.get(name)).or_else(|| self.values.get(name))
    }

    /// Whether a name has a value, the same at every tank or not.
    pub(super) fn has(&self, name: &str) -> bool {
        self.of_tank(name, 0).is_some()
    }

    /// The names that have a value.
    pub(super) fn names(&self) -> HashSet<String> {
        self.values.keys().chain(self.of_each.iter().flat_map(HashMap::keys)).cloned().collect()
    }

    /// Once all tanks were gone through, what was told since has the values of all.
    pub(super) fn gather(&mut self, before: &HashSet<String>) {
        let tanks = self.of_each.len();
        for name in self.names().difference(before) {
            let of_all = (0..tanks).map(|tank| self.of_tank(name, tank).cloned()).collect::<Option<Vec<_>>>();
            self.of_each.iter_mut().for_each(|own| drop(own.remove(name)));
            self.values.extend(of_all.map(|of_all| (name.clone(), Value::Series(of_all))));
        }
    }

    /// What stands for a fact that is not asked for, when that is settled.
    pub(super) fn determined_usual(&self, fact: &Fact) -> Option<Value> {
        one_of(&self.at_each(|known| fact.usual_value(known))?).cloned().flatten()
    }

    /// The value of an expression that rests on nothing the work must tell, the same at every tank.
    pub(super) fn determined(&self, expr: &CheckedExpr) -> Option<Value> {
        one_of(&self.determined_each(expr)?).cloned()
    }

    /// The same, at each tank.
    pub(super) fn determined_each(&self, expr: &CheckedExpr) -> Option<Vec<Value>> {
        self.at_each(|known| expr.value(known).ok())?.into_iter().collect()
    }

    /// Whether it is settled that an expression has no value, at any tank.
    pub(super) fn lacks(&self, expr: &CheckedExpr) -> bool {
        let lacking = self.at_each(|known| expr.value(known).is_err());
        lacking.is_some_and(|lacking| lacking.into_iter().all(|it| it))
    }

    /// Whether a condition holds, when that is settled, and the same at every tank.
    pub(super) fn holds(&self, condition: &CheckedExpr) -> Option<bool> {
        one_of(&self.at_each(|known| condition.truth(known).is_ok_and(|truth| truth.best))?).copied()
    }

    /// What is so at each tank; `None` where the work must tell.
    fn at_each<T>(&self, of: impl Fn(&Known) -> T) -> Option<Vec<T>> {
        let tanks = if self.of_each.is_empty() { 0..1 } else { 0..self.of_each.len() };
        self.open.set(false);
        let found = tanks.map(|tank| {
            self.tank.set(Some(tank));
            of(self)
        });
        let found = found.collect();
        self.tank.set(None);
        (!self.open.get()).then_some(found)
    }
}

/// The one value that several are.
fn one_of<T: PartialEq>(values: &[T]) -> Option<&T> {
    let (first, rest) = values.split_first()?;
    rest.iter().all(|value| value == first).then_some(first)
}
