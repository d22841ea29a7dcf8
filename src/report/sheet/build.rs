//! From a procedure and an installation to a worksheet.

use super::known::{Known, basis};
use super::tables::{self, tables};
use super::wording::{by_hand, called, in_words};
use super::{Sheet, SheetItem, SheetSection};
use crate::lang::{CheckedExpr, Expr, Template, Value};
use crate::procedure::{Course, Fact, Paper, PaperLine, Procedure, Step, Usual};
use crate::quantity::Units;
use crate::report::steps::Steps;
use crate::system::System;

/// The heading over the facts.
const FIRST: &str = "What must be known first";
/// The heading over steps before the first heading of the procedure.
const WORK: &str = "The work";

/// A worksheet of a procedure for a tank of a system. What the system file tells is filled in,
/// and steps that it rules out are left out.
pub fn worksheet(name: &str, procedure: &Procedure, (system, tank): (&System, usize), units: Units) -> Sheet {
    let mut builder = Builder {
        tanks: system.tanks.iter().map(|tank| tank.id.to_string()).collect(),
        called: Steps::of(Some(procedure)),
        known: Known::default(),
        units,
        warned: Vec::new(),
        sheet: Sheet {
            title: procedure.title.clone(),
            name: name.to_string(),
            purpose: procedure.purpose.clone(),
            site: system.name.clone(),
            tank: system
                .tanks
                .get(tank)
                .filter(|_| procedure.is_for_one_tank())
                .map(|tank| tank.id.to_string()),
            time: procedure.time.clone(),
            bring: procedure.bring.clone(),
            ..Sheet::default()
        },
    };
    builder.facts(procedure, system, tank);
    builder.steps(&procedure.steps, "", &Loops { rounds: 1, tanks: Vec::new() });
    let Builder { mut sheet, known, called, .. } = builder;
    sheet.sections.retain(|section| !section.items.is_empty());
    if let Some(basis) = basis(procedure, &known, (system, tank), units) {
        sheet.tables = tables(&called, &basis);
    }
    sheet
}

/// The loops around a step.
#[derive(Clone, Debug)]
struct Loops {
    rounds: u32,
    tanks: Vec<String>,
}

struct Builder<'p> {
    /// The ids of the system's tanks.
    tanks: Vec<String>,
    called: Steps<'p>,
    known: Known,
    units: Units,
    /// The hazards whose whole message stands on the sheet.
    warned: Vec<&'static str>,
    sheet: Sheet,
}

impl Builder<'_> {
    fn facts(&mut self, procedure: &Procedure, system: &System, tank: usize) {
        let mut items = Vec::new();
        for fact in &procedure.facts {
            let from_system = fact.from.as_deref().and_then(|path| system.value(path, tank));
            match from_system {
                Some(value) => {
                    let shown = value.shown(self.units);
                    self.sheet.known.push((fact.id.replace('_', " "), shown));
                    self.known.values.insert(fact.id.to_string(), value.clone());
                }
                None => items.extend(self.fact(fact, items.len() + 1)),
            }
        }
        self.sheet.sections.push(SheetSection { title: FIRST.to_string(), items });
        self.sheet.sections.push(SheetSection { title: WORK.to_string(), items: Vec::new() });
    }

    fn fact(&mut self, fact: &Fact, at: usize) -> Option<SheetItem> {
        let only_if = match self.condition(fact.when.as_ref()) {
            Ok(only_if) => only_if,
            Err(LeftOut) => {
                let usual = self.known.determined_usual(fact);
                self.known.values.extend(usual.map(|value| (fact.id.to_string(), value)));
                return None;
            }
        };
        let slot = OnSheet { builder: self, may_be_left_out: false }.slot(&fact.kind);
        let usual = fact.usual.as_ref().map(|usual| match usual {
            Usual::Word(word) => format!("Usual: {word}"),
            Usual::Value(expr) => match self.known.determined(expr) {
                Some(value) => format!("Usual: {}", value.shown(self.units)),
                None => format!("Usual: {}", self.in_words(expr)),
            },
        });
        Some(SheetItem {
            number: format!("F{at}"),
            only_if,
            line: PaperLine { notes: usual.into_iter().collect(), ..PaperLine::new(fact.ask.clone(), slot) },
            rounds: 1,
            ..SheetItem::default()
        })
    }

    /// When a step is done, in words; `None` when always.
    fn condition(&self, when: Option<&CheckedExpr>) -> Result<Option<String>, LeftOut> {
        let Some(when) = when else { return Ok(None) };
        match self.known.holds(when) {
            Some(true) => Ok(None),
            Some(false) => Err(LeftOut),
            None => Ok(Some(self.in_words(when))),
        }
    }

    fn steps(&mut self, steps: &[Step], before: &str, loops: &Loops) {
        let mut at = 1;
        for step in steps {
            let number = format!("{before}{at}");
            match self.condition(step.when.as_ref()) {
                Err(LeftOut) => {
                    self.known.left_out.insert(step.id.to_string());
                }
                Ok(only_if) => at += u32::from(self.step(step, (number, only_if), loops)),
            }
        }
    }

    /// Adds a step and those inside it; whether it has a line.
    fn step(&mut self, step: &Step, (number, only_if): (String, Option<String>), loops: &Loops) -> bool {
        if let Some(title) = &step.title {
            let title = self.text(title);
            self.sheet.sections.push(SheetSection { title, items: Vec::new() });
        }
        let may_be_left_out = only_if.is_some();
        let warned = self.warned(step, may_be_left_out);
        let line = step.action.on_paper(step, &mut OnSheet { builder: self, may_be_left_out });
        let line = line.or_else(|| (!warned.is_empty()).then(PaperLine::default));
        let has_line = line.is_some();
        let item = line.map(|line| SheetItem {
            number: number.clone(),
            only_if,
            warned,
            line,
            rounds: loops.rounds,
            tanks: loops.tanks.clone(),
        });
        if let Some(section) = self.sheet.sections.last_mut() {
            section.items.extend(item);
        }
        let loops = match step.course() {
            Course::Repeat(repeat) => Loops { rounds: loops.rounds.max(repeat.at_most), ..loops.clone() },
            Course::Each(_) => Loops { tanks: self.tanks.clone(), ..loops.clone() },
            Course::Ask(_)
            | Course::Compute(_)
            | Course::State(_)
            | Course::Check(_)
            | Course::Conclude(_)
            | Course::Diagnose(_)
            | Course::Stop(_) => loops.clone(),
        };
        self.steps(step.body(), &format!("{number}."), &loops);
        has_line
    }

    /// The messages of a step's hazards: whole until one stands where it is certainly read.
    fn warned(&mut self, step: &Step, may_be_left_out: bool) -> Vec<(String, bool)> {
        let mut warned = Vec::new();
        for hazard in &step.hazards {
            let whole = !self.warned.contains(&hazard.id);
            let message = if whole { hazard.message(&|_| None, self.units) } else { hazard.briefly() };
            warned.push((message.to_string().replace('\n', " "), whole));
            if !may_be_left_out {
                self.warned.push(hazard.id);
            }
        }
        warned
    }

    fn in_words(&self, checked: &CheckedExpr) -> String {
        self.spelled(checked.expr())
    }

    fn spelled(&self, expr: &Expr) -> String {
        in_words(&expr.to_string(), &|name| self.called.known_label(name), self.units)
    }

    fn text(&self, template: &Template) -> String {
        let otherwise = |expr: &Expr| match self.spelled(expr) {
            words if words.starts_with('[') && words.find(']') == Some(words.len() - 1) => words,
            words => format!("({words})"),
        };
        template.filled_or(&self.known, self.units, &otherwise)
    }
}

/// The sheet as the verb of one step sees it.
struct OnSheet<'b, 'p> {
    builder: &'b mut Builder<'p>,
    may_be_left_out: bool,
}

impl Paper for OnSheet<'_, '_> {
    fn text(&self, template: &Template) -> String {
        self.builder.text(template)
    }

    fn in_words(&self, expr: &CheckedExpr) -> String {
        self.builder.in_words(expr)
    }

    fn determined(&self, expr: &CheckedExpr) -> Option<Value> {
        self.builder.known.determined(expr)
    }

    fn holds(&self, condition: &CheckedExpr) -> Option<bool> {
        self.builder.known.holds(condition)
    }

    fn units(&self) -> Units {
        self.builder.units
    }

    fn may_be_left_out(&self) -> bool {
        self.may_be_left_out
    }

    fn instead(&self, label: &str, expr: &CheckedExpr) -> String {
        let expression = expr.expr().to_string();
        match called(&expression).iter().find_map(|name| tables::title(name)) {
            Some(title) => format!("Look up [{label}] in the table: {title}."),
            None if by_hand(&expression) => format!("Work out [{label}] = {}", self.in_words(expr)),
            None => format!("[{label}] is worked out when this sheet is typed in."),
        }
    }

    fn determine(&mut self, name: &str, value: Value) {
        self.builder.known.values.insert(name.to_string(), value);
    }
}

/// The step is not called for at this installation.
#[derive(Debug, thiserror::Error)]
#[error("the step is not called for at this installation")]
struct LeftOut;
