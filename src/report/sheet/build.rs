//! From a procedure and an installation to a worksheet.

use std::collections::HashMap;

use super::known::Known;
use super::naming::{NO_WORDS, formula, of_each, says_when};
use super::phrases::{Lines, Phrase, Phrases};
use super::rehearsal::Rehearsal;
use super::tables::{self, basis, tables};
use super::{FIRST, MOST_ROUND_COLUMNS, Sheet, SheetItem, SheetSection};
use crate::lang::{CheckedExpr, Expr, Template, Value};
use crate::procedure::{Course, Fact, Needed, Paper, PaperLine, Procedure, Slot, Step, Usual};
use crate::quantity::{Kind, Measure, Units};
use crate::report::steps::Steps;
use crate::system::System;
use crate::words::capitalized;

/// The heading over steps before the first heading of the procedure.
const WORK: &str = "The work";
/// What stands where no words say what the work will tell.
const OPEN: &str = "____";

/// A worksheet of a procedure for a tank of a system: what to do, read and choose, in order, with where to
/// stop. What the system file tells is filled in, and steps that it rules out are left out.
pub fn worksheet(name: &str, procedure: &Procedure, (system, tank): (&System, usize), units: Units) -> Sheet {
    let several = procedure.goes_round() && system.tanks.len() > 1;
    let tanks = if several { system.tanks.as_slice() } else { &[] };
    let mut builder = Builder {
        tanks: tanks.iter().map(|tank| tank.id.to_string()).collect(),
        known: Known::of_tanks(tanks.len()),
        units,
        sheet: Sheet::headed(name, procedure, (system, tank), tanks),
        ..Builder::default()
    };
    builder.facts(procedure, system, tank);
    builder.steps(&procedure.steps, &[]);
    let Builder { mut sheet, known, .. } = builder;
    sheet.sections.retain(|section| !section.items.is_empty());
    sheet.joined();
    if let Some(basis) = basis(procedure, &known, (system, tank), units) {
        let rehearsed = |at| Rehearsal::of(procedure, &known, (system, at));
        let all =
            if tanks.is_empty() { vec![rehearsed(tank)] } else { (0..tanks.len()).map(rehearsed).collect() };
        sheet.tables = tables(&sheet, &Steps::of(Some(procedure)), (&basis, &all));
    }
    sheet
}

#[derive(Default)]
struct Builder {
    /// The ids of the tanks, where several are gone through.
    tanks: Vec<String>,
    known: Known,
    /// What the system file tells, by the observable.
    observed: HashMap<&'static str, Value>,
    lines: Lines,
    units: Units,
    /// The hazards that have their box.
    boxed: Vec<&'static str>,
    /// The hazards that the section under way has named.
    warned: Vec<&'static str>,
    /// Whether the step in view may turn out not to be called for.
    may_be_left_out: bool,
    /// The grids being filled, the innermost last.
    grids: Vec<SheetItem>,
    /// How many lines there are to fill in.
    count: usize,
    sheet: Sheet,
}

impl Builder {
    fn facts(&mut self, procedure: &Procedure, system: &System, tank: usize) {
        self.section(FIRST.to_string());
        for fact in &procedure.facts {
            match fact.from.as_deref().and_then(|path| self.on_file(path, system, tank)) {
                Some(values) => self.learn(fact, values),
                None if fact.marks_a_gauge() && system.text().is_some() => {}
                None => self.fact(fact),
            }
        }
        self.section(WORK.to_string());
    }

    /// What the system file tells, of each tank where several are gone through.
    fn on_file(&self, path: &str, system: &System, tank: usize) -> Option<Vec<Value>> {
        let tanks = if self.tanks.is_empty() { tank..tank + 1 } else { 0..self.tanks.len() };
        tanks.map(|at| system.value(path, at).cloned()).collect()
    }

    fn learn(&mut self, fact: &Fact, values: Vec<Value>) {
        let shown = |value: &Value| value.shown(self.units);
        let same = values.iter().all(|value| *value == values[0]);
        // What kind of tank and pump it is the person sees; what the lines rest on are the numbers.
        if matches!(fact.kind, Kind::Measure(Measure::Pressure | Measure::Temperature)) {
            let of_each =
                || self.tanks.iter().zip(&values).map(|(id, value)| format!("{id} {}", shown(value)));
            let value = if same { shown(&values[0]) } else { of_each().collect::<Vec<_>>().join(", ") };
            self.sheet.known.push((fact.name(), value));
        }
        if same {
            self.observed.extend(fact.observes.map(|known| (known.name, values[0].clone())));
        } else {
            self.lines.of_each.insert(fact.id.to_string(), of_each(fact));
        }
        self.known.tell_each(&fact.id, values);
    }

    /// Begins a part of the work; one without a line is none, and what has the heading of the last goes on with it.
    fn section(&mut self, title: String) {
        self.sheet.sections.pop_if(|last| last.items.is_empty());
        if self.sheet.sections.last().is_some_and(|last| last.title == title) {
            return;
        }
        self.warned.clear();
        self.sheet.sections.push(SheetSection { title, items: Vec::new() });
    }

    fn fact(&mut self, fact: &Fact) {
        let only_if = match self.only_if(fact.when.as_ref()) {
            Ok(only_if) => only_if,
            Err(LeftOut) => {
                if let Some(usual) = self.known.determined_usual(fact) {
                    self.known.tell(&fact.id, usual);
                }
                return;
            }
        };
        let slot = self.slot(&fact.kind);
        let usual = fact.usual.as_ref().and_then(|usual| match usual {
            Usual::Word(word) => Some(word.clone()),
            Usual::Value(expr) => self.amount(expr),
        });
        let usual = usual.map(|usual| format!("Usual: {usual}"));
        let line = PaperLine { notes: usual.into_iter().collect(), ..PaperLine::new(fact.ask.clone(), slot) };
        self.put(SheetItem { step: fact.id.to_string(), only_if, line, ..SheetItem::default() });
    }

    fn phrases(&self) -> Phrases<'_> {
        Phrases { lines: &self.lines, known: &self.known, units: self.units }
    }

    /// When a step is done, in words; `None` when always.
    fn only_if(&self, when: Option<&CheckedExpr>) -> Result<Option<String>, LeftOut> {
        let Some(when) = when else { return Ok(None) };
        match self.known.holds(when) {
            Some(true) => Ok(None),
            Some(false) => Err(LeftOut),
            None => match self.phrases().condition(when.expr()) {
                Phrase::Words(words) => Ok(Some(capitalized(&words))),
                Phrase::Decided(true) => Ok(None),
                Phrase::Decided(false) => Err(LeftOut),
                Phrase::Nothing | Phrase::TooMuch => Ok(Some(NO_WORDS.to_string())),
            },
        }
    }

    fn steps(&mut self, steps: &[Step], tanks: &[String]) {
        for step in steps {
            // What only an earlier record can tell needs no pencil.
            let if_recorded = step.course().asks().and_then(|asks| asks.shows().if_recorded);
            let recalled = if_recorded.is_some_and(|only| self.known.holds(only) == Some(true));
            let called_for = self.only_if(step.when.as_ref()).ok();
            match called_for.filter(|_| !recalled && !self.lacks_what_it_needs(step)) {
                Some(only_if) => self.step(step, only_if, tanks),
                None => {
                    self.known.left_out.insert(step.id.to_string());
                }
            }
        }
    }

    /// Whether a step that only says something needs what the work will never tell.
    fn lacks_what_it_needs(&self, step: &Step) -> bool {
        step.asks_by_itself().into_iter().any(|needed| match needed {
            Needed::Value(expr) | Needed::Shown(expr) => self.known.lacks(expr),
            Needed::Step(id) => self.known.left_out.contains(&**id),
        })
    }

    /// Adds a step and those inside it.
    fn step(&mut self, step: &Step, only_if: Option<String>, tanks: &[String]) {
        if let Some(title) = step.title.as_ref().filter(|_| self.grids.is_empty()) {
            let title = self.text(title);
            self.section(title);
        }
        // What is so in one round need not be so in the next.
        self.may_be_left_out = only_if.is_some() || !self.grids.is_empty();
        let (boxes, warned) = self.warned(step);
        let own = self.line(step);
        // A line that stands for no words of its own holds its boxes alone.
        let (only_if, warned) = if own.is_none() { (None, Vec::new()) } else { (only_if, warned) };
        let line = own.or_else(|| (!boxes.is_empty()).then(PaperLine::default));
        let only_if = only_if.filter(|words| !says_when(step, line.as_ref(), words));
        let item = |line| SheetItem {
            step: step.id.to_string(),
            only_if,
            boxes,
            warned,
            line,
            columns: tanks.to_vec(),
            ..SheetItem::default()
        };
        match step.course() {
            Course::Repeat(repeat) => {
                let rounds =
                    || (1..=repeat.at_most.min(MOST_ROUND_COLUMNS)).map(|round| round.to_string()).collect();
                let columns = if tanks.is_empty() { rounds() } else { tanks.to_vec() };
                self.grids.push(SheetItem { columns, ..item(line.unwrap_or_default()) });
                self.steps(&repeat.body, tanks);
                self.close_grid();
            }
            Course::Each(each) => {
                let before = self.known.names();
                self.steps(&each.body, &self.tanks.clone());
                self.known.gather(&before);
            }
            Course::Ask(_)
            | Course::Compute(_)
            | Course::State(_)
            | Course::Check(_)
            | Course::Conclude(_)
            | Course::Diagnose(_)
            | Course::Stop(_) => {
                self.lines.formulas.extend(formula(step));
                if let Some(line) = line {
                    self.put(item(line));
                }
            }
        }
    }

    /// What a step says on paper: in its own short words, where it has them; with none at all it is left out.
    fn line(&mut self, step: &Step) -> Option<PaperLine> {
        let line = step.action.on_paper(step, self);
        let Some(short) = &step.paper else { return line };
        let is_open = step.course().checks().is_some() && !self.known.has(&step.id);
        let line = line.or_else(|| is_open.then(PaperLine::default))?;
        let text = self.text(short);
        (!text.is_empty()).then(|| PaperLine { text, notes: Vec::new(), ..line })
    }

    /// Puts a line where it belongs, with a number when something is filled in.
    fn put(&mut self, mut item: SheetItem) {
        if item.line.slot != Slot::Nothing {
            self.count += 1;
            item.number = self.count.to_string();
            self.lines.numbers.insert(item.step.clone(), item.number.clone());
        }
        self.keep(vec![item]);
    }

    fn keep(&mut self, items: Vec<SheetItem>) {
        if let Some(grid) = self.grids.last_mut() {
            grid.rows.extend(items);
        } else if let Some(section) = self.sheet.sections.last_mut() {
            section.items.extend(items);
        }
    }

    /// A grid in a grid gives its rows to the outer one.
    fn close_grid(&mut self) {
        let Some(grid) = self.grids.pop() else { return };
        let kept = if self.grids.is_empty() { vec![grid] } else { grid.rows };
        self.keep(kept);
    }

    /// A step's hazards: in a box where the sheet meets them first; later by name, once in a part of the work.
    fn warned(&mut self, step: &Step) -> (Vec<String>, Vec<String>) {
        let (mut boxes, mut warned) = (Vec::new(), Vec::new());
        for hazard in &step.hazards {
            if !self.boxed.contains(&hazard.id) {
                self.boxed.push(hazard.id);
                self.warned.push(hazard.id);
                boxes.push(hazard.boxed(&|of| self.observed.get(of).cloned(), self.units).to_string());
            } else if !self.warned.contains(&hazard.id) {
                self.warned.push(hazard.id);
                warned.push(format!("{}: {}", hazard.signal.word(), hazard.name.to_lowercase()));
            }
        }
        (boxes, warned)
    }
}

/// The sheet as the verb of the step in view sees it.
impl Paper for Builder {
    fn text(&self, template: &Template) -> String {
        let open = |expr: &Expr| self.phrases().amount(expr).unwrap_or_else(|| OPEN.to_string());
        template.filled_or(&self.known, self.units, &open)
    }

    fn condition(&self, expr: &CheckedExpr) -> Option<String> {
        match self.phrases().condition(expr.expr()) {
            Phrase::Words(words) => Some(words),
            Phrase::Nothing | Phrase::Decided(_) | Phrase::TooMuch => None,
        }
    }

    fn amount(&self, expr: &CheckedExpr) -> Option<String> {
        let known = self.known.determined(expr).map(|value| value.shown(self.units));
        known.or_else(|| self.phrases().amount(expr.expr()))
    }

    fn determines(&mut self, name: &str, expr: &CheckedExpr) -> bool {
        self.known.determined_each(expr).map(|values| self.known.tell_each(name, values)).is_some()
    }

    fn holds(&self, condition: &CheckedExpr) -> Option<bool> {
        self.known.holds(condition)
    }

    fn units(&self) -> Units {
        self.units
    }

    fn may_be_left_out(&self) -> bool {
        self.may_be_left_out
    }

    fn in_table(&mut self, name: &str, expr: &CheckedExpr) {
        if let Some(title) = tables::title_for(expr) {
            self.lines.in_tables.insert(name.to_string(), title.to_string());
        }
    }

    fn determine(&mut self, name: &str, value: Value) {
        self.known.tell(name, value);
    }
}

/// The step is not called for at this installation.
#[derive(Debug, thiserror::Error)]
#[error("the step is not called for at this installation")]
struct LeftOut;
