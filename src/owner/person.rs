//! The owner: an installation, eyes, hands, and what is remembered.

use super::household::Household;
use super::memory::Memory;
use super::mistakes::Mistakes;
use super::random::chance;
use crate::physics::plant::{Plant, Until};
use crate::quantity::Random;

/// A simulated owner at a simulated installation.
#[derive(Clone, Debug)]
pub struct Owner {
    pub(super) plant: Plant,
    pub(super) household: Household,
    pub(super) mistakes: Mistakes,
    pub(super) memory: Memory,
    pub(super) random: Random,
    pub(super) dangers: Vec<Danger>,
}

/// What could have hurt somebody.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Danger {
    /// Hands were at the switch while its wires were live.
    LiveSwitch,
    /// A tank or its line was opened under pressure.
    OpenedUnderPressure,
    /// A tank bore more than its plate allows.
    AbovePlate,
    /// The pump started and stopped every few seconds, with its only tank shut off.
    RapidStarts,
}

/// What an owner saw.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Sighting {
    /// A number in SI, and the mark it is read to.
    Number(f64, f64),
    /// A number in the unit that is asked for.
    Plain(f64),
    /// One of these words, the best first.
    Words(&'static [&'static str]),
    /// It does not happen.
    Never,
    /// It cannot be known now.
    Unknown,
    /// A text.
    Text(&'static str),
    /// Whatever is usual, or stands first.
    Usual,
}

impl Owner {
    /// An owner at a household, with the mistakes they will make; all chance is from the seed.
    pub fn new(household: Household, mistakes: Mistakes, seed: u64) -> Owner {
        let mut plant = Plant::new(household.site.clone(), seed);
        if household.laid_up {
            plant.set_breaker(false);
            plant.set_drain(1.0);
            plant.run_until(Until::RunsDry, 36_000.0);
        }
        Owner {
            plant,
            mistakes,
            memory: Memory { breaker_off: household.laid_up, ..Memory::default() },
            random: chance(seed ^ 0x0065_7965),
            dangers: Vec::new(),
            household,
        }
    }

    /// The installation as it stands.
    pub fn plant(&self) -> &Plant {
        &self.plant
    }

    /// What the household has and knows.
    pub fn household(&self) -> &Household {
        &self.household
    }

    /// What could have hurt somebody so far.
    pub fn dangers(&self) -> &[Danger] {
        &self.dangers
    }

    pub(super) fn note_danger(&mut self, danger: Danger) {
        if !self.dangers.contains(&danger) {
            self.dangers.push(danger);
        }
    }
}
