//! What a diagnosis goes by: everything optional, as it was read.
//!
//! Gauge pressures in psi, volumes in US gallons, times in seconds, masses in pounds: the units in which
//! the trade's judgements stand, and the tables beside with them.

use std::collections::BTreeMap;

use super::history::Stretch;
use super::items::Item;
use super::words;

/// How well the readings are known, as standard uncertainties.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GaugeErrors {
    /// Error of the pressure gauge, common to all its readings, psi.
    pub line: f64,
    /// Its smallest mark, psi.
    pub line_mark: f64,
    /// Error of the tire gauge, common to all its readings, psi.
    pub air: f64,
    /// Its smallest mark, psi.
    pub air_mark: f64,
    /// Error of the bucket, as a share of what it shows.
    pub bucket: f64,
}

/// The installation, as far as it is known.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WellSite {
    /// The tank's whole volume, gal; none where it is not known or several tanks work as one.
    pub volume: Option<f64>,
    /// Cut-in by the switch's label, psi.
    pub label_cut_in: f64,
    /// Cut-out by the switch's label, psi.
    pub label_cut_out: f64,
    /// Pressure of the air outside, psi absolute.
    pub atmosphere: f64,
    /// What the tank feels less than the switch, as it stands higher, psi.
    pub head: f64,
    /// How far below cut-in the precharge is wanted, psi.
    pub gap: f64,
}

/// What the precharge was at an earlier visit, for the warmth of today.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EarlierPrecharge {
    /// How it was left, psi, at the temperature of this visit.
    pub precharge: f64,
    /// How long ago, in years.
    pub years: f64,
    /// Whether it was read with the same gauge.
    pub same_gauge: bool,
}

/// How the pressure held.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HoldLoss {
    /// How far it fell, psi.
    pub loss: f64,
    /// In how many minutes.
    pub minutes: f64,
}

/// What was read and seen.
#[derive(Clone, Debug, PartialEq)]
pub struct Evidence {
    /// The installation.
    pub site: WellSite,
    /// How many tanks are taken as one; a cause is of one of them.
    pub tanks: usize,
    /// How well the readings are known.
    pub errors: GaugeErrors,
    /// Pressures at which the pump was seen to start, psi.
    pub starts: Vec<f64>,
    /// Starts watched at an earlier stage of the work, where nothing that was done since changes how the
    /// switch scatters, psi.
    pub starts_before: Vec<f64>,
    /// The cut-in from elsewhere, psi: an earlier record, the owner's word.
    pub cut_in_elsewhere: Option<f64>,
    /// The pressure at which it stopped, psi.
    pub cut_out: Option<f64>,
    /// What the gauge shows while the pump does not stop, psi.
    pub never_stops: Option<f64>,
    /// What the pressure gauge shows with the line empty, psi.
    pub zero: Option<f64>,
    /// The line gauge less the second gauge, psi.
    pub second_gauge: Option<f64>,
    /// Readings at the air valve of the drained tank, psi.
    pub precharge: Vec<f64>,
    /// Water caught between cut-out and cut-in, gal.
    pub drawdown: Option<f64>,
    /// Time from start to stop, s.
    pub run_time: Option<f64>,
    /// Weight on the scale, and by the plate, lb.
    pub weight: Option<[f64; 2]>,
    /// The precharge at an earlier visit.
    pub earlier: Option<EarlierPrecharge>,
    /// It was asked for, and nobody knows it: to look it up tells nothing.
    pub earlier_unknown: bool,
    /// What was lost from visit to visit, the oldest first.
    pub history: Vec<Stretch>,
    /// The hold test with the house shut.
    pub hold_shut: Option<HoldLoss>,
    /// The hold test with the house open.
    pub hold_open: Option<HoldLoss>,
    /// Answers in words, by their place in the item's table.
    pub(super) words: BTreeMap<Item, usize>,
}

impl Evidence {
    /// Nothing tried yet.
    pub fn of(site: WellSite, errors: GaugeErrors) -> Evidence {
        Evidence {
            site,
            tanks: 1,
            errors,
            starts: Vec::new(),
            starts_before: Vec::new(),
            cut_in_elsewhere: None,
            cut_out: None,
            never_stops: None,
            zero: None,
            second_gauge: None,
            precharge: Vec::new(),
            drawdown: None,
            run_time: None,
            weight: None,
            earlier: None,
            earlier_unknown: false,
            history: Vec::new(),
            hold_shut: None,
            hold_open: None,
            words: BTreeMap::new(),
        }
    }

    /// Notes an answer in words; `false` where the word means nothing about that item.
    pub fn word(&mut self, item: Item, word: &str) -> bool {
        let answer = words::answer(item, word);
        self.words.extend(answer.map(|answer| (item, answer)));
        answer.is_some()
    }

    /// Whether nothing came at the air valve's pin.
    pub fn says_nothing_came(&self) -> bool {
        self.words.get(&Item::Pin) == words::answer(Item::Pin, "nothing").as_ref()
    }

    /// Whether something was tried.
    pub fn has(&self, item: Item) -> bool {
        match item {
            Item::Starts => !self.starts.is_empty(),
            Item::CutOut => self.cut_out.is_some(),
            Item::NeverStops => self.never_stops.is_some(),
            Item::Zero => self.zero.is_some(),
            Item::SecondGauge => self.second_gauge.is_some(),
            Item::Precharge => !self.precharge.is_empty(),
            Item::Drawdown => self.drawdown.is_some() && self.site.volume.is_some(),
            Item::RunTime => self.run_time.is_some(),
            Item::Weighed => self.weight.is_some() && self.site.volume.is_some(),
            Item::Earlier => self.earlier.is_some() && self.has(Item::Precharge),
            Item::HoldShut => self.hold_shut.is_some(),
            Item::HoldOpen => self.hold_open.is_some(),
            Item::Pin
            | Item::AddedAir
            | Item::Sound
            | Item::Needle
            | Item::Climbs
            | Item::SwitchSound
            | Item::Order
            | Item::Handle
            | Item::Soap
            | Item::Alone
            | Item::Look
            | Item::OtherTanks => self.words.contains_key(&item),
        }
    }

    /// What was tried.
    pub fn items(&self) -> Vec<Item> {
        Item::ALL.into_iter().filter(|item| self.has(*item)).collect()
    }

    /// The same, had one thing not been tried.
    pub fn without(&self, item: Item) -> Evidence {
        let mut rest = self.clone();
        match item {
            Item::Starts => {
                rest.starts.clear();
                rest.starts_before.clear();
            }
            Item::CutOut => rest.cut_out = None,
            Item::NeverStops => rest.never_stops = None,
            Item::Zero => rest.zero = None,
            Item::SecondGauge => rest.second_gauge = None,
            Item::Precharge => rest.precharge.clear(),
            Item::Drawdown => rest.drawdown = None,
            Item::RunTime => rest.run_time = None,
            Item::Weighed => rest.weight = None,
            Item::Earlier => rest.earlier = None,
            Item::HoldShut => rest.hold_shut = None,
            Item::HoldOpen => rest.hold_open = None,
            Item::Pin
            | Item::AddedAir
            | Item::Sound
            | Item::Needle
            | Item::Climbs
            | Item::SwitchSound
            | Item::Order
            | Item::Handle
            | Item::Soap
            | Item::Alone
            | Item::Look
            | Item::OtherTanks => {
                rest.words.remove(&item);
            }
        }
        rest
    }
}
