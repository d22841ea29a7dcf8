//! A hazard, and its message.

use std::fmt;

use crate::lang::Value;
use crate::quantity::Units;
use crate::words::capitalized;

/// How much is at stake, with the meanings of ANSI Z535.6; the worst first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Signal {
    /// It will kill or seriously injure.
    Danger,
    /// It could kill or seriously injure.
    Warning,
    /// It could injure.
    Caution,
    /// It is about property.
    Notice,
}

/// Something that can hurt.
#[derive(Clone, Copy, Debug)]
pub struct Hazard {
    /// Its name in files and records.
    pub id: &'static str,
    /// How much is at stake.
    pub signal: Signal,
    /// What it is called.
    pub name: &'static str,
    /// What there is, as the end of a sentence.
    pub is: &'static str,
    /// What it does to a person, or to property.
    pub does: &'static str,
    /// What to do, and what not.
    pub avoid: &'static str,
    /// Figures that belong to it, shown where they are known.
    pub figures: &'static [HazardFigure],
    /// When to stop, and whom to call.
    pub stop: &'static str,
    /// What leads the line for later rounds, where it would not say by itself what can hurt.
    pub lead: &'static str,
    /// That line: what to do, with its lead at most 76 characters.
    pub short: &'static str,
}

/// A line of a hazard's message with a figure of the installation.
#[derive(Clone, Copy, Debug)]
pub struct HazardFigure {
    /// What it is made from, by the name the table of observables gives it.
    pub of: &'static str,
    /// The line; the figure stands in place of `{}`.
    pub line: &'static str,
    /// What is shown, made from that.
    pub shows: fn(Value) -> Option<Value>,
    /// When it is shown.
    pub stands: FigureStands,
}

/// When a figure of a hazard's message is shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FigureStands {
    /// In the whole message.
    Whole,
    /// In the line for later rounds too: a limit that must not be forgotten.
    Always,
    /// As always, but only where the figure before it is not known.
    Instead,
}

/// Something a person is warned of, as it is shown.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Warning {
    /// How much is at stake.
    pub signal: Signal,
    /// The words, a line for each thing that is said.
    pub text: String,
}

impl Signal {
    /// The signal word.
    pub fn word(self) -> &'static str {
        match self {
            Signal::Danger => "DANGER",
            Signal::Warning => "WARNING",
            Signal::Caution => "CAUTION",
            Signal::Notice => "NOTICE",
        }
    }

    /// What the word means.
    pub fn means(self) -> &'static str {
        match self {
            Signal::Danger => "it will kill or seriously injure",
            Signal::Warning => "it could kill or seriously injure",
            Signal::Caution => "it could injure",
            Signal::Notice => "it is about property",
        }
    }

    /// Every signal, the worst first.
    pub fn all() -> [Signal; 4] {
        [Signal::Danger, Signal::Warning, Signal::Caution, Signal::Notice]
    }
}

impl Hazard {
    /// The whole message. `known` tells the value of an observable where there is one; a figure that
    /// is not known is left out with its line.
    ///
    /// ```
    /// use tankhand::procedure::hazard;
    /// use tankhand::quantity::Units;
    /// let message = hazard("cords").unwrap().message(&|_| None, Units::Us);
    /// assert_eq!(
    ///     message.to_string().lines().next(),
    ///     Some("WARNING  SHOCK FROM CORDS IN A WET PLACE: a compressor or lamp stands where it is wet.")
    /// );
    /// ```
    pub fn message(&self, known: &dyn Fn(&str) -> Option<Value>, units: Units) -> Warning {
        let mut lines = vec![format!("{}: {}", self.name.to_uppercase(), self.is)];
        lines.extend([self.does, self.avoid].map(str::to_string));
        lines.extend(self.figures_of(known, units).into_iter().map(|(_, line)| line));
        lines.push(self.stop.to_string());
        Warning { signal: self.signal, text: lines.join("\n") }
    }

    /// The line for later rounds.
    pub fn line(&self) -> String {
        let Hazard { lead, short, .. } = self;
        format!("{lead}{short}")
    }

    /// The line for later rounds, with its limits.
    pub fn briefly(&self, known: &dyn Fn(&str) -> Option<Value>, units: Units) -> Warning {
        let figures = self.figures_of(known, units).into_iter();
        let limits = figures.filter(|(figure, _)| figure.stands != FigureStands::Whole);
        let text = limits.fold(self.line(), |text, (_, line)| format!("{text}\n{line}"));
        Warning { signal: self.signal, text }
    }

    /// The box of a worksheet: what it is called, what it does, what to do, with every figure that is known.
    pub fn boxed(&self, known: &dyn Fn(&str) -> Option<Value>, units: Units) -> Warning {
        let said = format!("{}: {} {}", self.name.to_uppercase(), self.does, capitalized(self.short));
        let figures = self.figures_of(known, units).into_iter();
        Warning { signal: self.signal, text: figures.fold(said, |text, (_, line)| format!("{text} {line}")) }
    }

    /// The figures that are known, each with its line.
    fn figures_of(
        &self,
        known: &dyn Fn(&str) -> Option<Value>,
        units: Units,
    ) -> Vec<(&'static HazardFigure, String)> {
        let (mut all, mut before) = (Vec::new(), false);
        for figure in self.figures {
            let value = known(figure.of).and_then(figure.shows);
            let stood_in_for = before && figure.stands == FigureStands::Instead;
            before = value.is_some();
            let line = value.filter(|_| !stood_in_for);
            all.extend(line.map(|value| (figure, figure.line.replace("{}", &value.shown(units)))));
        }
        all
    }
}

/// As a record keeps it: the signal word before the words.
impl fmt::Display for Warning {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}  {}", self.signal.word(), self.text)
    }
}

impl PartialEq for Hazard {
    fn eq(&self, other: &Hazard) -> bool {
        self.id == other.id
    }
}
