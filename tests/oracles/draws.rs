//! The oracle of JCGM 101:2008: inputs drawn as their sources are distributed, the formula
//! evaluated on plain numbers, mean and standard deviation taken (5.9, 7.6).

use rand_core::{Rng, SeedableRng};
use rand_pcg::Pcg64;
use tankhand::quantity::{SourceId, Uncertain};

/// Draws of one comparison. The mean is then sure to u/300, the standard deviation to a 450th.
pub const DRAWS: usize = 100_000;
/// Four standard deviations of the mean of so many draws, in u.
const MEAN_SAMPLING: f64 = 0.0127;
/// Four standard deviations of their standard deviation, as a share of it (normal; less when rectangular).
const U_SAMPLING: f64 = 0.009;
/// How far the curvature of a formula may move the mean, in u. Formulas of the trade bend by
/// about the share that the inputs are doubted by, here 1 to 2 %.
const MEAN_LINEARITY: f64 = 0.03;
/// How far it may change the standard deviation, as a share of it.
const U_LINEARITY: f64 = 0.01;

/// How a source of standard deviation 1 is distributed.
#[derive(Clone, Copy, Debug)]
pub enum Law {
    /// As likely anywhere within ±√3: limits of error, graduations.
    Even,
    /// Normal.
    Bell,
    /// Student's t of two degrees of freedom, in units of the standard uncertainty.
    Few,
}

/// Numbers drawn with a fixed seed.
pub struct Urn(Pcg64);

impl Urn {
    pub fn new(seed: u64) -> Urn {
        Urn(Pcg64::seed_from_u64(seed))
    }

    fn uniform(&mut self) -> f64 {
        (self.0.next_u64() >> 11) as f64 / (1_u64 << 53) as f64
    }

    pub fn draw(&mut self, law: Law) -> f64 {
        match law {
            Law::Even => 12f64.sqrt() * (self.uniform() - 0.5),
            // Marsaglia's polar method, another one than the program uses.
            Law::Bell => loop {
                let (x, y) = (2.0 * self.uniform() - 1.0, 2.0 * self.uniform() - 1.0);
                let square = x * x + y * y;
                if square > 0.0 && square < 1.0 {
                    return x * (-2.0 * square.ln() / square).sqrt();
                }
            },
            Law::Few => {
                let [x, y, z] = [(); 3].map(|()| self.draw(Law::Bell));
                x / (0.5 * (y * y + z * z)).sqrt()
            }
        }
    }
}

/// Inputs that may share sources.
#[derive(Clone, Debug, Default)]
pub struct Inputs {
    laws: Vec<Law>,
    values: Vec<(f64, Vec<(usize, f64)>)>,
}

impl Inputs {
    /// A new source.
    pub fn source(&mut self, law: Law) -> usize {
        self.laws.push(law);
        self.laws.len() - 1
    }

    /// An input with what each source contributes.
    pub fn input(&mut self, value: f64, parts: &[(usize, f64)]) -> usize {
        self.values.push((value, parts.to_vec()));
        self.values.len() - 1
    }

    /// An input with a source of its own.
    pub fn own(&mut self, value: f64, u: f64, law: Law) -> usize {
        let source = self.source(law);
        self.input(value, &[(source, u)])
    }

    /// A source of the shape that its law has.
    fn id(&self, source: usize) -> SourceId {
        match self.laws[source] {
            Law::Even => SourceId::Reading(source as u64),
            Law::Bell => SourceId::Spread(source as u64),
            Law::Few => SourceId::Few(source as u64, 2),
        }
    }

    pub fn uncertain(&self) -> Vec<Uncertain> {
        let uncertain = |(value, parts): &(f64, Vec<(usize, f64)>)| {
            parts.iter().fold(Uncertain::exact(*value), |x, (s, u)| x.with_component(self.id(*s), *u))
        };
        self.values.iter().map(uncertain).collect()
    }

    /// The inputs, once drawn.
    pub fn draw_inputs(&self, urn: &mut Urn) -> Vec<f64> {
        let moved: Vec<f64> = self.laws.iter().map(|law| urn.draw(*law)).collect();
        let place = |(value, parts): &(f64, Vec<(usize, f64)>)| {
            value + parts.iter().map(|(source, u)| moved[*source] * u).sum::<f64>()
        };
        self.values.iter().map(place).collect()
    }
}

/// Mean and standard deviation of a formula over the draws.
pub fn mean_and_deviation(inputs: &Inputs, plain: &dyn Fn(&[f64]) -> f64) -> (f64, f64) {
    let mut urn = Urn::new(101);
    let results: Vec<f64> = (0..DRAWS).map(|_| plain(&inputs.draw_inputs(&mut urn))).collect();
    let mean = results.iter().sum::<f64>() / DRAWS as f64;
    let squares: f64 = results.iter().map(|x| (x - mean).powi(2)).sum();
    (mean, (squares / (DRAWS as f64 - 1.0)).sqrt())
}

/// First order must agree with the draws.
#[track_caller]
pub fn agrees(name: &str, inputs: &Inputs, first_order: &Uncertain, plain: &dyn Fn(&[f64]) -> f64) {
    let (mean, deviation) = mean_and_deviation(inputs, plain);
    let (value, u) = (first_order.value(), first_order.standard_uncertainty());
    assert!(u > 0.0, "{name}: no uncertainty");
    let apart = (value - mean).abs() / u;
    assert!(
        apart < MEAN_SAMPLING + MEAN_LINEARITY,
        "{name}: mean {mean}, first order {value}, {apart} u apart"
    );
    let apart = (u / deviation - 1.0).abs();
    assert!(apart < U_SAMPLING + U_LINEARITY, "{name}: u {deviation}, first order {u}");
}
