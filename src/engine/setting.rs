//! What a run is made with.

use std::collections::BTreeMap;
use std::sync::Arc;

use crate::clock::Moment;
use crate::procedure::{Procedure, is_shipped};
use crate::quantity::{CONFIDENCE, Units};
use crate::record::{Header, KeptText, TextRole};
use crate::system::System;

/// A procedure, the installation it is performed on, and the household's units.
#[derive(Clone, Debug)]
pub struct Setting {
    /// The procedure.
    pub procedure: Arc<Procedure>,
    /// Its name, such as `flush`.
    pub name: String,
    /// The installation.
    pub system: Arc<System>,
    /// The tank worked on, by its place in the system file.
    pub tank: usize,
    /// The units for bare numbers and for showing.
    pub units: Units,
    /// What earlier records have to offer as answers.
    pub past: EarlierAnswers,
}

/// Readings of earlier records, as they would be typed: offered as answers, never taken unasked. And the
/// precharge at each earlier visit, which a diagnosis goes by.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct EarlierAnswers {
    answers: BTreeMap<(Option<String>, String), String>,
    visits: BTreeMap<Option<String>, Vec<EarlierVisit>>,
}

/// The precharge at an earlier visit, SI.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EarlierVisit {
    /// When.
    pub at: Moment,
    /// As it was found.
    pub found: Option<f64>,
    /// As it was left, where it was set.
    pub left: Option<f64>,
    /// The temperature at the tank.
    pub temperature: Option<f64>,
    /// Another tank was put there.
    pub new_tank: bool,
}

impl EarlierAnswers {
    /// Notes what a record tells of an observable of a tank; an earlier note stays.
    pub fn note(&mut self, tank: Option<&str>, observable: &str, typed: String) {
        let key = (tank.map(ToString::to_string), observable.to_string());
        self.answers.entry(key).or_insert(typed);
    }

    /// Notes an earlier visit to a tank.
    pub fn note_visit(&mut self, tank: Option<&str>, visit: EarlierVisit) {
        let visits = self.visits.entry(tank.map(ToString::to_string)).or_default();
        visits.push(visit);
        visits.sort_by_key(|visit| visit.at.unix_seconds());
    }

    /// The earlier visits to a tank since another was put there, the oldest first.
    pub fn visits(&self, tank: Option<&str>) -> &[EarlierVisit] {
        let all = self.visits.get(&tank.map(ToString::to_string)).map_or(&[] as &[_], Vec::as_slice);
        &all[all.iter().rposition(|visit| visit.new_tank).unwrap_or(0)..]
    }

    /// What was noted.
    pub fn get(&self, tank: Option<&str>, observable: &str) -> Option<&str> {
        self.answers.get(&(tank.map(ToString::to_string), observable.to_string())).map(String::as_str)
    }
}

impl Setting {
    /// The head of the record of a run made with this.
    pub fn header(&self, id: String, started: Moment) -> Header {
        let kept = |role, source: &crate::source::SourceText| KeptText {
            role,
            name: source.name().to_string(),
            text: Arc::from(source.text()),
        };
        let mut texts = Vec::new();
        for (at, source) in self.procedure.texts.iter().enumerate() {
            let role = match source {
                main if at == 0 && is_shipped(main) => TextRole::Procedure,
                _ if at == 0 => TextRole::OwnProcedure,
                part if is_shipped(part) => TextRole::Part,
                _ => TextRole::OwnPart,
            };
            texts.push(kept(role, source));
        }
        texts.extend(self.system.text().map(|source| kept(TextRole::System, source)));
        Header {
            id,
            program: concat!("tankhand ", env!("CARGO_PKG_VERSION")).to_string(),
            procedure: self.name.clone(),
            title: self.procedure.title.clone(),
            started,
            units: self.units,
            site: self.system.name.clone(),
            // Where all tanks are gone through, or none of them, the record is not one tank's.
            tank: self.tank_id(self.tank).filter(|_| self.procedure.is_for_one_tank()),
            tanks: self.tanks_in_turn(),
            demo: self.system.invented,
            practice: None,
            transcribed: None,
            without: self.procedure.waivers(),
            mended: None,
            texts,
        }
    }

    /// The tanks that the procedure takes one by one.
    fn tanks_in_turn(&self) -> Vec<String> {
        let tanks = self.system.tanks.iter().filter(|_| self.procedure.goes_round());
        tanks.map(|tank| tank.id.to_string()).collect()
    }

    /// The probability from which checks say pass or fail: the greater of what the procedure and
    /// the owner ask for, so that neither takes away what the other wants; 95 % when neither asks.
    pub fn confidence(&self) -> f64 {
        let asked = [self.procedure.confidence, self.system.confidence].into_iter().flatten();
        asked.reduce(f64::max).unwrap_or(CONFIDENCE)
    }

    /// The id of a tank of the system, by its place.
    pub(super) fn tank_id(&self, tank: usize) -> Option<String> {
        self.system.tanks.get(tank).map(|tank| tank.id.to_string())
    }

    /// The facts to be known, by their places: what the system file tells of gauges is not asked beside it.
    pub(super) fn facts_to_know(&self) -> impl Iterator<Item = usize> {
        let in_file = self.system.text().is_some();
        let facts = self.procedure.facts.iter().enumerate();
        facts.filter(move |(_, fact)| !(in_file && fact.marks_a_gauge())).map(|(at, _)| at)
    }
}
