//! The steps of a procedure in their places: numbers, labels, loops, parts of the work; and what
//! they say about the entries of a record.

use std::collections::{HashMap, HashSet};

use crate::lang::{Binary, CheckedExpr, Comparison, Node};
use crate::procedure::{Fact, LoopKind, Procedure, Step};
use crate::quantity::Measure;
use crate::record::{Entry, Phase};

/// One step, with where it stands.
#[derive(Debug)]
pub(super) struct PlacedStep<'p> {
    pub step: &'p Step,
    /// Its place among all steps, such as `3.2`.
    pub number: String,
    /// The loops around it, outermost first.
    pub around: Vec<LoopKind>,
    /// The place of the nearest step at or before it that has a heading.
    title: Option<usize>,
}

/// The steps of a procedure in their order; none when there is no procedure at hand.
#[derive(Debug, Default)]
pub(super) struct Steps<'p> {
    pub procedure: Option<&'p Procedure>,
    pub placed: Vec<PlacedStep<'p>>,
    by_id: HashMap<&'p str, usize>,
    /// What the owner calls each tank, by its id, where a record tells.
    pub names: HashMap<String, String>,
}

impl<'p> Steps<'p> {
    pub(super) fn of(procedure: Option<&'p Procedure>) -> Steps<'p> {
        let mut steps = Steps { procedure, ..Steps::default() };
        if let Some(procedure) = procedure {
            steps.place(&procedure.steps, "", &mut Vec::new());
        }
        steps
    }

    fn place(&mut self, block: &'p [Step], before: &str, around: &mut Vec<LoopKind>) {
        for (step, number) in block.iter().zip(1..) {
            let number = format!("{before}{number}");
            let at = self.placed.len();
            let above = at.checked_sub(1).and_then(|above| self.placed[above].title);
            let title = if step.title.is_some() { Some(at) } else { above };
            let inner = format!("{number}.");
            self.by_id.insert(&step.id, at);
            self.placed.push(PlacedStep { step, number, around: around.clone(), title });
            if let Some((which, body)) = step.course().comes_round() {
                around.push(which);
                self.place(body, &inner, around);
                around.pop();
            }
        }
    }

    /// Those that tell of one thing.
    pub(super) fn telling(&self, tells: Phase) -> impl Iterator<Item = &PlacedStep<'p>> {
        self.placed.iter().filter(move |placed| placed.step.tells == Some(tells))
    }

    /// Every value the procedure works out, with its step.
    pub(super) fn computed(&self) -> impl Iterator<Item = (&'p Step, &'p CheckedExpr)> {
        self.placed
            .iter()
            .filter_map(|placed| Some((placed.step, placed.step.course().computes()?.expr.as_ref())))
    }

    /// The most that a check lets a value be, SI.
    pub(super) fn limit(&self, name: &str) -> Option<f64> {
        self.placed.iter().find_map(|placed| {
            let check = placed.step.course().checks()?;
            let Node::Binary(Binary::Compare(Comparison::AtMost | Comparison::Less), _, a, b) =
                &check.expr.expr().node
            else {
                return None;
            };
            match (&a.node, &b.node) {
                (Node::Name(of), Node::Number(number, Some(unit))) if of == name => Some(number * unit.size),
                _ => None,
            }
        })
    }

    pub(super) fn get(&self, id: &str) -> Option<&PlacedStep<'p>> {
        self.placed.get(*self.by_id.get(id)?)
    }

    /// What reports call the answers of a step or fact.
    pub(super) fn label(&self, id: &str) -> String {
        self.procedure.map_or_else(|| id.replace('_', " "), |procedure| procedure.label(id))
    }

    /// What the number is that a step or fact gives.
    pub(super) fn measure(&self, id: &str) -> Option<Measure> {
        match self.get(id) {
            Some(placed) => placed.step.course().gives()?.kind.measure(),
            None => self.fact(id)?.kind.measure(),
        }
    }

    /// The label of an entry, with its tank, its round and which of several readings it is.
    pub(super) fn label_of(&self, entry: &Entry) -> String {
        let mut more = self.rounds(entry);
        more.extend(entry.take.map(|take| format!("reading {take}")));
        let label = self.label(&entry.step);
        if more.is_empty() { label } else { format!("{label} ({})", more.join(", ")) }
    }

    fn rounds(&self, entry: &Entry) -> Vec<String> {
        let around = self.around(entry);
        let word = |(at, round): (usize, &u32)| match (around.get(at), &entry.tank) {
            (Some(LoopKind::Each), Some(tank)) => self.called(tank),
            (Some(LoopKind::Each), None) => format!("tank {round}"),
            (Some(LoopKind::Repeat) | None, _) => format!("round {round}"),
        };
        entry.round.iter().enumerate().map(word).collect()
    }

    /// The loops around an entry. Facts are asked anew only where an `each` begins.
    fn around(&self, entry: &Entry) -> Vec<LoopKind> {
        match self.get(&entry.step) {
            Some(placed) => {
                let own = placed.step.course().comes_round().map(|(which, _)| which);
                let own = own.filter(|which| *which == LoopKind::Repeat);
                placed.around.iter().copied().chain(own).collect()
            }
            None if self.fact(&entry.step).is_some() => {
                let outer = entry.round.len().saturating_sub(1);
                std::iter::repeat_n(LoopKind::Repeat, outer).chain([LoopKind::Each]).collect()
            }
            None => Vec::new(),
        }
    }

    pub(super) fn fact(&self, id: &str) -> Option<&'p Fact> {
        self.procedure?.facts.iter().find(|fact| *fact.id == *id)
    }

    /// What the tank an entry in an `each` is about is called: its id, else its number.
    pub(super) fn tank(&self, entry: &Entry) -> Option<String> {
        let number = self.tank_number(entry)?;
        Some(entry.tank.clone().unwrap_or_else(|| number.to_string()))
    }

    /// What a tank is called on a page, the same everywhere: its owner's name for it, else its id.
    pub(super) fn called(&self, tank: &str) -> String {
        self.names.get(tank).cloned().unwrap_or_else(|| format!("tank {tank}"))
    }

    /// The tank an entry in an `each` is about, counted from 1.
    pub(super) fn tank_number(&self, entry: &Entry) -> Option<u32> {
        let at = self.around(entry).iter().position(|around| *around == LoopKind::Each)?;
        entry.round.get(at).copied()
    }

    /// For each entry the heading of the part of the work it stands in.
    pub(super) fn sections(&self, entries: &[Entry]) -> Vec<Option<String>> {
        let seen: HashSet<&str> = entries.iter().map(|entry| entry.step.as_str()).collect();
        let mut known: HashMap<(&str, bool), Option<String>> = HashMap::new();
        let mut now = None;
        let mut sections = Vec::with_capacity(entries.len());
        for entry in entries {
            let place = (entry.step.as_str(), entry.round.is_empty());
            let section = known.entry(place).or_insert_with(|| self.section(entry, &seen));
            if let Some(section) = section {
                now = Some(section.clone());
            }
            sections.push(now.clone());
        }
        sections
    }

    /// The nearest heading at or before an entry's step that the run came to. A fact asked anew for
    /// another tank stands where it is asked.
    fn section(&self, entry: &Entry, seen: &HashSet<&str>) -> Option<String> {
        if self.fact(&entry.step).is_some() {
            return entry.round.is_empty().then(|| "What was known before".to_string());
        }
        let mut at = self.get(&entry.step)?.title;
        while let Some(titled) = at {
            let step = self.placed[titled].step;
            if came_to(step, seen) {
                return step.title.as_ref().map(crate::lang::Template::unfilled);
            }
            at = titled.checked_sub(1).and_then(|before| self.placed[before].title);
        }
        Some("Steps".to_string())
    }
}

/// Whether the run came to a step: it, or a step inside it, has an entry.
fn came_to(step: &Step, seen: &HashSet<&str>) -> bool {
    seen.contains(step.id.as_ref()) || step.body().iter().any(|inner| came_to(inner, seen))
}
