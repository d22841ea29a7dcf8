//! Thinks up procedures by the fall of the dice.

use super::step::Step;

/// A source of choices: numbers given by the property, zero when they are used up.
pub struct Dice<'a>(pub std::slice::Iter<'a, u32>);

impl Dice<'_> {
    pub fn below(&mut self, n: usize) -> usize {
        self.0.next().map_or(0, |number| *number as usize % n.max(1))
    }

    pub fn one_in(&mut self, n: usize) -> bool {
        self.below(n) == n - 1
    }

    pub fn pick<'t, T>(&mut self, from: &'t [T]) -> Option<&'t T> {
        if from.is_empty() { None } else { from.get(self.below(from.len())) }
    }
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Sort {
    Number,
    Word,
    YesNo,
}

/// A name that stands before the place being written.
#[derive(Clone, Debug)]
struct Name {
    id: String,
    sort: Sort,
    /// It may have no value although it was answered.
    in_range_only: bool,
    /// Outside its `each`: one answer a tank.
    of_tanks: bool,
}

impl Name {
    fn one(&self) -> String {
        if self.of_tanks { format!("last({})", self.id) } else { self.id.clone() }
    }
}

const STATES: [&str; 3] = ["off", "emptied", "shut"];
/// What only says something.
const SAYS: [&str; 5] = [
    "do = \"Do HOLE.\"",
    "do = \"Do HOLE.\", not_so = \"Again HOLE.\"",
    "do = \"Do HOLE.\", status = \"shut\", not_so = { stop = \"Over HOLE.\", finding = \"not shut\" }",
    "tell = \"Know HOLE.\"",
    "conclude = \"a finding\", grade = \"note\", says = \"Found HOLE.\"",
];

/// Writes steps by the fall of the dice.
pub struct Writer<'a> {
    dice: Dice<'a>,
    names: Vec<Name>,
    /// Conditions asked for so far, to be asked for again.
    asked: Vec<String>,
    count: usize,
    in_each: bool,
}

impl<'a> Writer<'a> {
    pub fn new(dice: Dice<'a>) -> Writer<'a> {
        Writer { dice, names: Vec::new(), asked: Vec::new(), count: 0, in_each: false }
    }

    pub fn steps(&mut self, depth: usize) -> Vec<Step> {
        let length = 1 + self.dice.below(if depth == 0 { 14 } else { 4 });
        (0..length).map(|_| self.step(depth)).collect()
    }

    fn step(&mut self, depth: usize) -> Step {
        self.count += 1;
        let mut step = Step { id: format!("n{}", self.count), ..Step::default() };
        if self.dice.one_in(2) {
            step.when = Some(self.condition(2));
        }
        if self.dice.one_in(2) {
            step.hole = self.hole();
        }
        let state = |dice: &mut Dice<'_>, n| {
            if dice.one_in(n) { vec![STATES[dice.below(3)]] } else { Vec::new() }
        };
        step.needs = state(&mut self.dice, 2);
        step.brings = state(&mut self.dice, 3);
        step.undoes = state(&mut self.dice, 5);
        step.skip = self.dice.one_in(6);
        match self.dice.below(if depth < 2 { 12 } else { 9 }) {
            0 | 1 => self.read(&mut step),
            2 | 3 => self.choose(&mut step),
            4 => step.verb = self.dice.pick(&SAYS).unwrap_or(&SAYS[0]).to_string(),
            5 => self.compute(&mut step),
            6 | 7 => self.check(&mut step),
            8 => self.stop(&mut step),
            9 if !self.in_each => self.each(&mut step, depth),
            _ => self.repeat(&mut step, depth),
        }
        // Only what a person does or answers can be skipped.
        step.skip &= ["read", "choose", "do"].iter().any(|verb| step.verb.starts_with(verb));
        self.asked.extend(step.when.clone());
        step
    }

    fn answers(&mut self, step: &Step, sort: Sort, in_range_only: bool) {
        self.names.push(Name { id: step.id.clone(), sort, in_range_only, of_tanks: false });
    }

    fn read(&mut self, step: &mut Step) {
        let times = if self.dice.one_in(4) { ", times = 2" } else { "" };
        let never = if self.dice.one_in(4) { ", never = { again = \"Wait HOLE.\" }" } else { "" };
        step.verb = format!("read = \"number\", ask = \"Read HOLE?\"{times}{never}");
        self.answers(step, Sort::Number, false);
    }

    fn choose(&mut self, step: &mut Step) {
        step.verb = "choose = [\"a\", \"b\", \"c\"], ask = \"Choose HOLE?\"".to_string();
        self.answers(step, Sort::Word, false);
    }

    fn compute(&mut self, step: &mut Step) {
        step.verb = "compute = \"EXPR\", say = \"Computed HOLE.\"".to_string();
        step.plain = "1";
        let number = self.name_of(Sort::Number);
        let (expr, in_range_only) = match (number, self.dice.below(3)) {
            (Some(name), 0) => (format!("{} + 1", name.one()), name.in_range_only),
            (Some(name), 1) => (format!("1 / {}", name.one()), true),
            (Some(name), _) => {
                (format!("if known({0}) then {1} else 0", name.id, name.one()), name.in_range_only)
            }
            (None, _) => ("2".to_string(), false),
        };
        step.expr = Some(expr);
        self.answers(step, Sort::Number, in_range_only);
    }

    fn check(&mut self, step: &mut Step) {
        let must = if self.dice.one_in(2) { ", must = true" } else { "" };
        step.verb = format!("check = \"EXPR\", pass = \"Holds HOLE.\"{must}");
        step.plain = "lever";
        step.expr = Some(self.condition(1));
        self.answers(step, Sort::YesNo, true);
    }

    fn stop(&mut self, step: &mut Step) {
        step.verb = "stop = \"Over HOLE.\"".to_string();
        step.needs.clear();
        if step.when.is_none() {
            step.when = Some(self.condition(2));
        }
    }

    fn repeat(&mut self, step: &mut Step, depth: usize) {
        let least = self.dice.below(3);
        let early = self.condition(1);
        let asked = self.asked.len();
        step.body = self.steps(depth + 1);
        self.count += 1;
        let asks = Step { id: format!("n{}", self.count), verb: SAYS[0].to_string(), ..Step::default() };
        step.body.push(asks);
        let until = if least == 0 { early } else { self.condition(1) };
        self.asked.truncate(asked.max(self.dice.below(self.asked.len() + 1)));
        step.verb = format!(
            "repeat = {{ until = \"EXPR\", at_most = 3, at_least = {least} }}, say = \"Round HOLE.\""
        );
        step.plain = "lever";
        step.expr = Some(until);
    }

    fn each(&mut self, step: &mut Step, depth: usize) {
        let before = self.names.len();
        self.in_each = true;
        step.body = self.steps(depth + 1);
        self.in_each = false;
        self.names[before..].iter_mut().for_each(|name| name.of_tanks = true);
        // Conditions on the names of the body would be of another kind out here.
        self.asked.clear();
        step.verb = "each = \"tank\"".to_string();
        step.hole = None;
    }

    fn name_of(&mut self, sort: Sort) -> Option<Name> {
        let names: Vec<Name> = self.names.iter().filter(|name| name.sort == sort).cloned().collect();
        self.dice.pick(&names).cloned()
    }

    /// A name to be shown in a text: one that has a value whenever it was answered.
    fn hole(&mut self) -> Option<String> {
        let names: Vec<Name> = self.names.iter().filter(|name| !name.in_range_only).cloned().collect();
        self.dice.pick(&names).map(Name::one)
    }

    fn condition(&mut self, depth: usize) -> String {
        match self.dice.below(if depth > 0 { 9 } else { 5 }) {
            0 => "lever".to_string(),
            1 => format!("sort {} '{}'", self.sign(), self.word()),
            2 if self.dice.one_in(4) => "size > 60 gal".to_string(),
            2 | 3 => self.of_name(),
            4 => self.known(),
            5 => format!("not ({})", self.condition(depth - 1)),
            6 => format!("({}) and ({})", self.condition(depth - 1), self.condition(depth - 1)),
            7 => format!("({}) or ({})", self.condition(depth - 1), self.condition(depth - 1)),
            _ => match self.dice.pick(&self.asked).cloned() {
                Some(asked) if self.dice.one_in(3) => format!("not ({asked})"),
                Some(asked) => asked,
                None => "lever".to_string(),
            },
        }
    }

    fn sign(&mut self) -> &'static str {
        if self.dice.one_in(3) { "!=" } else { "==" }
    }

    fn word(&mut self) -> &'static str {
        ["a", "b", "c"][self.dice.below(3)]
    }

    fn known(&mut self) -> String {
        let names = self.names.clone();
        match self.dice.pick(&names) {
            Some(name) if self.dice.one_in(2) => format!("known({}) and {} ", name.id, self.about(name)),
            Some(name) => format!("known({})", name.id),
            None => "lever".to_string(),
        }
    }

    fn of_name(&mut self) -> String {
        let names = self.names.clone();
        match self.dice.pick(&names) {
            Some(name) => self.about(name),
            None => "lever".to_string(),
        }
    }

    fn about(&mut self, name: &Name) -> String {
        match name.sort {
            Sort::Number => format!("{} > 1", name.one()),
            Sort::Word => format!("{} {} '{}'", name.one(), self.sign(), self.word()),
            Sort::YesNo => name.one(),
        }
    }
}
