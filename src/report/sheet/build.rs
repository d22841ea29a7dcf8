//! From a procedure and an installation to a worksheet.

use super::known::{Known, basis};
use super::tables::{self, tables};
use super::wording::{Labels, by_hand, called};
use super::{Sheet, SheetItem, SheetSection, Slot};
use crate::lang::{Checked, Template, Value};
use crate::procedure::{Action, Check, Choose, Fact, Procedure, Repeat, Step, Usual};
use crate::quantity::{Kind, Units};
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
        labels: Labels::of(procedure),
        known: Known::default(),
        units,
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
    let Builder { mut sheet, known, .. } = builder;
    sheet.sections.retain(|section| !section.items.is_empty());
    if let Some(basis) = basis(procedure, &known, (system, tank), units) {
        sheet.tables = tables(procedure, &basis);
    }
    sheet
}

/// The loops around a step.
#[derive(Clone, Debug)]
struct Loops {
    rounds: u32,
    tanks: Vec<String>,
}

struct Builder {
    /// The ids of the system's tanks.
    tanks: Vec<String>,
    labels: Labels,
    known: Known,
    units: Units,
    sheet: Sheet,
}

impl Builder {
    fn facts(&mut self, procedure: &Procedure, system: &System, tank: usize) {
        let mut items = Vec::new();
        for fact in &procedure.facts {
            let told = fact.from.as_deref().and_then(|path| system.value(path, tank));
            match told {
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
                let usual = fact.usual.as_ref().and_then(|usual| self.usual(fact, usual));
                self.known.values.extend(usual.map(|value| (fact.id.to_string(), value)));
                return None;
            }
        };
        let slot = self.slot(&fact.kind);
        let usual = fact.usual.as_ref().map(|usual| match usual {
            Usual::Word(word) => format!("Usual: {word}"),
            Usual::Value(expr) => match self.known.settled(expr) {
                Some(value) => format!("Usual: {}", value.shown(self.units)),
                None => format!("Usual: {}", self.in_words(expr)),
            },
        });
        Some(SheetItem {
            number: format!("F{at}"),
            only_if,
            text: fact.ask.clone(),
            notes: usual.into_iter().collect(),
            slot,
            rounds: 1,
            ..SheetItem::default()
        })
    }

    fn usual(&self, fact: &Fact, usual: &Usual) -> Option<Value> {
        match usual {
            Usual::Value(expr) => self.known.settled(expr),
            Usual::Word(word) if fact.kind == Kind::YesNo => {
                Some(Value::Truth(crate::quantity::Truth::certain(word == "yes")))
            }
            Usual::Word(word) => Some(Value::text(word)),
        }
    }

    /// When a step is done, in words; `None` when always.
    fn condition(&self, when: Option<&Checked>) -> Result<Option<String>, LeftOut> {
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
        let item = SheetItem {
            number: number.clone(),
            only_if,
            rounds: loops.rounds,
            tanks: loops.tanks.clone(),
            ..SheetItem::default()
        };
        let item = self.item(step, item);
        let has_line = item.is_some();
        if let Some(section) = self.sheet.sections.last_mut() {
            section.items.extend(item);
        }
        let loops = match &step.action {
            Action::Repeat(repeat) => Loops { rounds: loops.rounds.max(repeat.at_most), ..loops.clone() },
            Action::Each(_) => Loops { tanks: self.tanks.clone(), ..loops.clone() },
            _ => loops.clone(),
        };
        self.steps(step.body(), &format!("{number}."), &loops);
        has_line
    }

    /// What the line of a step holds; `None` when it needs no line.
    fn item(&mut self, step: &Step, item: SheetItem) -> Option<SheetItem> {
        let item = match &step.action {
            Action::Do(action) => SheetItem {
                danger: self.may(&action.danger),
                text: self.text(&action.text),
                notes: self.may(&action.see).into_iter().collect(),
                slot: Slot::Tick,
                ..item
            },
            Action::Read(read) => {
                let unit = read.unit.or(self.units.unit_for(read.measure)).map(|unit| unit.symbol);
                SheetItem { text: self.text(&read.ask), slot: Slot::Numbers(unit, read.times), ..item }
            }
            Action::Choose(choose) => {
                SheetItem { text: self.text(&choose.ask), slot: self.words(choose), ..item }
            }
            Action::Write(write) => SheetItem { text: self.text(&write.ask), slot: Slot::Line, ..item },
            Action::Wait(wait) => {
                let length = match self.known.settled(&wait.length) {
                    Some(value) => value.shown(self.units),
                    None => self.in_words(&wait.length),
                };
                let meanwhile = self.may(&wait.ask).unwrap_or_default();
                let text = format!("Wait {length}. {meanwhile}");
                SheetItem { text: text.trim_end().to_string(), slot: Slot::Waited, ..item }
            }
            Action::Compute(_) => return self.computed(step, item),
            Action::Check(check) => return self.check(step, check, item),
            Action::Repeat(repeat) => SheetItem { text: self.repeat(repeat), ..item },
            Action::Each(_) => SheetItem { text: "For each tank, one after the other:".to_string(), ..item },
            Action::Stop(stop) => {
                SheetItem { text: format!("STOP. {}", self.text(&stop.text)), slot: Slot::Tick, ..item }
            }
        };
        Some(item)
    }

    fn computed(&mut self, step: &Step, item: SheetItem) -> Option<SheetItem> {
        let Action::Compute(compute) = &step.action else { return None };
        let settled = self.known.settled(&compute.expr).filter(|_| item.only_if.is_none());
        if let Some(value) = settled {
            self.known.values.insert(step.id.to_string(), value);
            let text = self.may(&compute.say)?;
            return Some(SheetItem { text, ..item });
        }
        let expression = compute.expr.expr().to_string();
        let slot = self.slot(compute.expr.ty().kind());
        let text = match called(&expression).iter().find_map(|name| tables::title(name)) {
            Some(title) => format!("Look up [{}] in the table: {title}.", step.name()),
            None if by_hand(&expression) => {
                format!("Work out [{}] = {}", step.name(), self.in_words(&compute.expr))
            }
            None => format!("[{}] is worked out when this sheet is typed in.", step.name()),
        };
        Some(SheetItem { text, notes: self.may(&compute.say).into_iter().collect(), slot, ..item })
    }

    fn check(&mut self, step: &Step, check: &Check, item: SheetItem) -> Option<SheetItem> {
        if item.only_if.is_none()
            && let Some(holds) = self.known.holds(&check.expr)
        {
            let truth = Value::Truth(crate::quantity::Truth::certain(holds));
            self.known.values.insert(step.id.to_string(), truth);
            let said = self.may(if holds { &check.pass } else { &check.fail })?;
            return Some(SheetItem { text: said, ..item });
        }
        let expression = self.in_words(&check.expr);
        let must = if check.must { " (must hold to go on)" } else { "" };
        let said = |word: &str, text: &Option<Template>| Some(format!("{word}: {}", self.may(text)?));
        Some(SheetItem {
            text: format!("Check: {expression}{must}"),
            notes: [said("Pass", &check.pass), said("Fail", &check.fail)].into_iter().flatten().collect(),
            slot: Slot::Verdict,
            ..item
        })
    }

    fn repeat(&self, repeat: &Repeat) -> String {
        let until = self.in_words(&repeat.until);
        let least =
            if repeat.at_least > 1 { format!("at least {}, ", repeat.at_least) } else { String::new() };
        format!("Do the steps below again and again, {least}at most {} times, until {until}.", repeat.at_most)
    }

    /// What a value of a kind is written in.
    fn slot(&self, kind: &Kind) -> Slot {
        match kind {
            Kind::Measure(measure) => Slot::Numbers(self.units.unit_for(*measure).map(|unit| unit.symbol), 1),
            Kind::YesNo => Slot::Words(vec!["yes".to_string(), "no".to_string()]),
            Kind::OneOf(words) => Slot::Words(words.iter().map(ToString::to_string).collect()),
            Kind::Text => Slot::Line,
        }
    }

    fn in_words(&self, checked: &Checked) -> String {
        self.labels.in_words(&checked.expr().to_string(), self.units)
    }

    fn words(&self, choose: &Choose) -> Slot {
        let words = choose.choices.iter().map(|choice| match &choice.label {
            Some(label) if self.text(label) != *choice.value => {
                format!("{} ({})", choice.value, self.text(label))
            }
            _ => choice.value.to_string(),
        });
        Slot::Words(words.collect())
    }

    fn text(&self, template: &Template) -> String {
        let otherwise = |expr: &crate::lang::Expr| match self.labels.in_words(&expr.to_string(), self.units) {
            words if words.starts_with('[') && words.find(']') == Some(words.len() - 1) => words,
            words => format!("({words})"),
        };
        template.filled_or(&self.known, self.units, &otherwise)
    }

    fn may(&self, template: &Option<Template>) -> Option<String> {
        template.as_ref().map(|template| self.text(template))
    }
}

/// The step is not called for at this installation.
#[derive(Debug, thiserror::Error)]
#[error("the step is not called for at this installation")]
struct LeftOut;
