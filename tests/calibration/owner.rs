//! An owner who reads gauges, at an installation whose truth is known.

use std::collections::HashMap;
use std::sync::Arc;

use rand_core::{Rng, SeedableRng};
use rand_pcg::Pcg64;
use tankhand::lang::{
    Ancestry, CheckedExpr, Collapse, Function, Scope, Type, Unknown, Value, Values, check, parse,
};
use tankhand::quantity::{Kind, Measure, PSI, SourceId, Uncertain, rectangular_u};

/// How the world differs from what the program takes it for; nothing of it by default.
#[derive(Clone, Copy, Debug)]
pub struct World {
    /// How many times as far off gauges are as their owners believe.
    pub gauges: f64,
    /// How far a needle stops short, either way; Pa.
    pub sticking: f64,
    /// How much warmer the air in the tank is than the thermometer beside it; K.
    pub warmer: f64,
    /// How many times as much switches scatter as is common.
    pub switch: f64,
}

impl World {
    /// As the program takes it to be.
    pub const ASSUMED: World = World { gauges: 1.0, sticking: 0.0, warmer: 0.0, switch: 1.0 };
}

/// A gauge as its owner believes it to be, and how far it is off.
#[derive(Clone, Copy, Debug)]
pub struct Gauge {
    source: SourceId,
    pub measure: Measure,
    limit: f64,
    step: f64,
    off: f64,
}

/// An owner, with random numbers of their own, and what they know.
pub struct Owner {
    random: Pcg64,
    pub world: World,
    readings: u64,
    gauges: u16,
    values: HashMap<String, Value>,
    formulas: HashMap<String, CheckedExpr>,
}

impl Owner {
    pub fn new(seed: u64, world: World) -> Owner {
        let random = Pcg64::seed_from_u64(seed);
        Owner { random, world, readings: 0, gauges: 0, values: HashMap::new(), formulas: HashMap::new() }
    }

    /// As likely anywhere in a range.
    pub fn even(&mut self, from: f64, to: f64) -> f64 {
        from + (to - from) * (self.random.next_u64() >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// Normally distributed.
    pub fn bell(&mut self, deviation: f64) -> f64 {
        // Marsaglia's polar method, another one than the program uses.
        loop {
            let (x, y) = (self.even(-1.0, 1.0), self.even(-1.0, 1.0));
            let square = x * x + y * y;
            if square > 0.0 && square < 1.0 {
                return deviation * x * (-2.0 * square.ln() / square).sqrt();
            }
        }
    }

    /// A gauge good to a limit either way, with a smallest step.
    pub fn gauge(&mut self, measure: Measure, limit: f64, step: f64) -> Gauge {
        self.gauges += 1;
        let limit_here = limit * self.world.gauges;
        let off = self.even(-limit_here, limit_here);
        Gauge { source: SourceId::Gauge(self.gauges), measure, limit, step, off }
    }

    /// What is read from a gauge, with what the owner knows of it.
    pub fn read(&mut self, gauge: &Gauge, truth: f64) -> Value {
        let stuck = if gauge.measure == Measure::Pressure { self.world.sticking } else { 0.0 };
        let shown = truth + gauge.off + self.even(-stuck, stuck);
        let shown = if gauge.step > 0.0 { (shown / gauge.step).round() * gauge.step } else { shown };
        self.readings += 1;
        let amount = Uncertain::exact(shown)
            .with_component(gauge.source, rectangular_u(gauge.limit))
            .with_component(SourceId::Reading(self.readings), gauge.step / 12f64.sqrt());
        Value::Amount(gauge.measure, amount)
    }

    /// Notes what a name stands for.
    pub fn knows(&mut self, name: &str, value: Value) -> &mut Owner {
        self.values.insert(name.to_string(), value);
        self
    }

    /// Reads a gauge and notes it.
    pub fn reads(&mut self, name: &str, gauge: &Gauge, truth: f64) {
        let value = self.read(gauge, truth);
        self.knows(name, value);
    }

    fn checked(&self, text: &str) -> CheckedExpr {
        check(&Arc::new(parse(text).unwrap()), self, None, None).unwrap()
    }

    /// Works a value out and keeps it.
    pub fn works_out(&mut self, name: &str, text: &str) -> bool {
        let formula = self.checked(text);
        let Ok(value) = formula.value(self) else { return false };
        self.values.insert(name.to_string(), value);
        self.formulas.insert(name.to_string(), formula);
        true
    }

    /// A value, when it has one.
    pub fn value(&self, text: &str) -> Option<Uncertain> {
        self.checked(text).value(self).ok()?.amount().cloned()
    }

    /// What a check comes to.
    pub fn judges(&self, text: &str) -> tankhand::lang::CheckProbability {
        self.checked(text).judged(self).unwrap()
    }

    /// The interval that is told beside a value; the limits where there is none.
    pub fn interval(&self, text: &str) -> Option<[f64; 2]> {
        let amount = self.value(text)?;
        let reach = amount.expanded_uncertainty();
        let plain = [amount.value() - reach, amount.value() + reach];
        Some(self.checked(text).coverage_interval(self).map_or(plain, |told| told.interval))
    }
}

impl Values for Owner {
    fn value(&self, name: &str) -> Result<Value, Unknown> {
        self.values.get(name).cloned().ok_or_else(|| Unknown::because("not answered"))
    }
}

impl Ancestry for Owner {
    fn formula(&self, name: &str) -> Option<&CheckedExpr> {
        self.formulas.get(name)
    }
}

impl Scope for Owner {
    fn find(&self, name: &str) -> Option<(Arc<str>, Type)> {
        let known = match self.values.get(name)? {
            Value::Amount(measure, _) => Type::measure(*measure),
            Value::Series(items) => match items.first()? {
                Value::Amount(measure, _) => Type::Series(Kind::Measure(*measure), Collapse::Mean),
                _ => return None,
            },
            Value::Truth(_) | Value::Text(_) => return None,
        };
        Some((Arc::from(name), known))
    }

    fn names(&self) -> Vec<String> {
        Vec::new()
    }

    fn function(&self, name: &str) -> Option<&'static Function> {
        tankhand::procedure::function(name)
    }

    fn function_names(&self) -> Vec<&'static str> {
        Vec::new()
    }
}

/// A pressure of so many psi.
pub fn psi(number: f64) -> f64 {
    number * PSI
}

impl Owner {
    /// The true pressure at which a gauge shows the mark nearest to a value.
    pub fn set_by(&mut self, gauge: &Gauge, target: f64) -> f64 {
        let mark = (target / gauge.step).round() * gauge.step;
        let stuck = self.world.sticking;
        mark + self.even(-0.5 * gauge.step, 0.5 * gauge.step) - gauge.off + self.even(-stuck, stuck)
    }

    /// How far the starts of this household's switch scatter, as is common: 0.4 psi, as sure as four
    /// degrees of freedom; Pa.
    pub fn switch_scatter(&mut self) -> f64 {
        let square: f64 = (0..4).map(|_| self.bell(1.0).powi(2)).sum();
        psi(0.4) * (4.0 / square).sqrt() * self.world.switch
    }
}
