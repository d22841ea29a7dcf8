//! Scales: which numbers an axis spans, where its ticks stand, and how they are written.

use crate::quantity::show_number;

/// About how many ticks an axis gets.
const TICKS: f64 = 5.0;
/// The largest number a scale can hold; what lies beyond is left out.
const LARGEST_ON_SCALE: f64 = 1e12;
/// The smallest number a scale by factors can hold.
const SMALLEST: f64 = 1e-9;

/// The steps between ticks of a calendar, in months; then come years by the ten.
const MONTHS: [f64; 7] = [1.0, 2.0, 3.0, 6.0, 12.0, 24.0, 60.0];

/// How numbers are spread along an axis.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Spread {
    /// Equal steps are equally long.
    Even,
    /// Equal factors are equally long; what is not above zero stands at the lower end.
    Factors,
    /// Months since the year 0, evenly: ticks stand at the beginnings of months or years.
    Calendar,
}

/// An axis.
#[derive(Clone, Debug, PartialEq)]
pub struct Axis {
    /// What is told along it, with its unit.
    pub label: String,
    /// How numbers are spread on it.
    pub spread: Spread,
    /// Numbers that must lie on it, whatever is drawn.
    pub holds: Vec<f64>,
    /// Only whole numbers are written at it.
    pub whole: bool,
    /// At least so many characters find room beside the plot: left of it for the axis up the side, right of it
    /// for the one along the bottom.
    pub room: usize,
}

impl Axis {
    /// An even axis that shows whatever is drawn.
    pub fn even(label: impl Into<String>) -> Axis {
        Axis { label: label.into(), spread: Spread::Even, holds: Vec::new(), whole: false, room: 0 }
    }

    /// The same, with numbers it must hold.
    pub fn holding(mut self, numbers: &[f64]) -> Axis {
        self.holds.extend_from_slice(numbers);
        self
    }
}

/// The span of an axis, with its ticks.
#[derive(Clone, Debug, PartialEq)]
pub struct Scale {
    /// The number at the lower end.
    pub low: f64,
    /// The number at the upper end, above `low`.
    pub high: f64,
    /// Where ticks stand, rising; the first and last hold everything between them.
    pub ticks: Vec<f64>,
    spread: Spread,
}

impl Scale {
    /// The scale that holds all these numbers, with ticks at round ones. What is no number, or
    /// too large for a gauge of any sort, is passed over.
    ///
    /// ```
    /// use tankhand::report::{Axis, Scale};
    /// let scale = Scale::around(&[0.0, 58.0], &Axis::even("psi"));
    /// assert_eq!(scale.ticks, [0.0, 20.0, 40.0, 60.0]);
    /// assert!((scale.share(30.0) - 0.5).abs() < 1e-12);
    /// ```
    pub fn around(numbers: &[f64], axis: &Axis) -> Scale {
        let fits = |number: &&f64| number.abs() <= LARGEST_ON_SCALE;
        match axis.spread {
            Spread::Even => Scale::even(numbers.iter().filter(fits), axis.whole),
            Spread::Calendar => Scale::by_months(numbers.iter().filter(fits)),
            Spread::Factors => Scale::by_factors(numbers.iter().filter(fits).filter(|n| **n >= SMALLEST)),
        }
    }

    fn even<'a>(numbers: impl Iterator<Item = &'a f64>, whole: bool) -> Scale {
        let (mut low, mut high) = ends(numbers).unwrap_or((0.0, 1.0));
        let least = if whole { 1.0 } else { (1e-6 * low.abs().max(high.abs())).max(1e-9) };
        if high - low < least {
            (low, high) = (low - least, high + least);
        }
        let mut step = round_step((high - low) / TICKS);
        if whole {
            step = step.max(1.0).round();
        }
        // A number that is a tick but for rounding gets no further tick beyond it.
        let first = (low / step + 1e-9).floor();
        let last = (high / step - 1e-9).ceil();
        let count = ((last - first) as usize).min(100);
        // Adding zero turns a minus zero into zero.
        let ticks: Vec<f64> = (0..=count).map(|at| (first + at as f64) * step + 0.0).collect();
        Scale::of(ticks, Spread::Even)
    }

    fn by_months<'a>(numbers: impl Iterator<Item = &'a f64>) -> Scale {
        let (mut low, mut high) = ends(numbers).unwrap_or((0.0, 1.0));
        if high - low < 2.0 {
            (low, high) = (low - 1.0, high + 1.0);
        }
        let fits = |step: &f64| (high - low) / step <= TICKS;
        let step =
            MONTHS.into_iter().find(fits).unwrap_or_else(|| 12.0 * round_step((high - low) / TICKS / 12.0));
        let (first, last) = ((low / step).floor(), (high / step).ceil());
        let count = ((last - first) as usize).clamp(1, 100);
        Scale::of((0..=count).map(|at| (first + at as f64) * step + 0.0).collect(), Spread::Calendar)
    }

    fn by_factors<'a>(numbers: impl Iterator<Item = &'a f64>) -> Scale {
        let (low, high) = ends(numbers).unwrap_or((0.1, 1.0));
        let (low, mut high) = (round_down(low), 1.0 / round_down(1.0 / high));
        if high < 9.9 * low {
            high = 10.0 * low;
        }
        let powers = (low.log10() + 0.01).ceil() as i32..=(high.log10() - 0.01).floor() as i32;
        let decades = powers.map(|power| format!("1e{power}").parse().unwrap_or(1.0));
        let ticks = std::iter::once(low).chain(decades).chain([high]).collect();
        Scale::of(ticks, Spread::Factors)
    }

    fn of(ticks: Vec<f64>, spread: Spread) -> Scale {
        let low = ticks.first().copied().unwrap_or(0.0);
        let high = ticks.last().copied().unwrap_or(1.0);
        Scale { low, high, ticks, spread }
    }

    /// How far along the axis a number stands, 0 to 1; at an end what lies beyond it, and at
    /// the lower end what is no number.
    pub fn share(&self, number: f64) -> f64 {
        let share = match self.spread {
            Spread::Even | Spread::Calendar => (number - self.low) / (self.high - self.low),
            Spread::Factors if number > 0.0 => (number / self.low).ln() / (self.high / self.low).ln(),
            Spread::Factors => 0.0,
        };
        if share.is_nan() { 0.0 } else { share.clamp(0.0, 1.0) }
    }

    /// The ticks with how they are written.
    pub fn written(&self) -> Vec<(f64, String)> {
        self.ticks.iter().map(|tick| (*tick, self.tick(*tick))).collect()
    }

    fn tick(&self, tick: f64) -> String {
        match (self.spread, self.ticks.get(1)) {
            (Spread::Even, Some(second)) => {
                let step = second - self.low;
                let decimals = (-step.log10() - 1e-9).ceil().clamp(0.0, 9.0) as usize;
                format!("{tick:.decimals$}")
            }
            (Spread::Calendar, Some(second)) => {
                let (year, month) = ((tick / 12.0).floor(), tick.rem_euclid(12.0));
                let years = (second - self.low) % 12.0 == 0.0;
                if years { format!("{year:.0}") } else { format!("{year:.0}-{:02.0}", month + 1.0) }
            }
            _ => show_number(tick, 0.0),
        }
    }
}

/// The least and the greatest.
fn ends<'a>(numbers: impl Iterator<Item = &'a f64>) -> Option<(f64, f64)> {
    numbers.fold(None, |ends, number| match ends {
        None => Some((*number, *number)),
        Some((low, high)) => Some((low.min(*number), high.max(*number))),
    })
}

/// The smallest of 1, 2 and 5 times a power of ten that is at least `least`.
fn round_step(least: f64) -> f64 {
    let power = 10f64.powf(least.log10().floor());
    let round = [1.0, 2.0, 5.0, 10.0].into_iter().find(|m| m * power >= least * (1.0 - 1e-9));
    round.unwrap_or(10.0) * power
}

/// The largest of 1, 2 and 5 times a power of ten that is at most `most`, but for rounding.
fn round_down(most: f64) -> f64 {
    let power = (most * (1.0 + 1e-9)).log10().floor();
    let round = [5.0, 2.0, 1.0].into_iter().find(|m| m * 10f64.powf(power) <= most * (1.0 + 1e-9));
    // Written and read back, a power of ten is exact.
    format!("{}e{power}", round.unwrap_or(1.0)).parse().unwrap_or(most)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn axis(spread: Spread, whole: bool) -> Axis {
        Axis { spread, whole, ..Axis::even("x") }
    }

    #[test]
    fn ticks_stand_at_round_numbers() {
        let table: [(&[f64], bool, &[&str]); 6] = [
            (&[0.0, 60.0], false, &["0", "20", "40", "60"]),
            (&[55.7, 58.3], false, &["55", "56", "57", "58", "59"]),
            (&[1.0, 6.0], true, &["1", "2", "3", "4", "5", "6"]),
            (&[2.77, 3.03], false, &["2.7", "2.8", "2.9", "3.0", "3.1"]),
            (&[-3.0, 3.0], false, &["-4", "-2", "0", "2", "4"]),
            (&[], false, &["0.0", "0.2", "0.4", "0.6", "0.8", "1.0"]),
        ];
        for (numbers, whole, ticks) in table {
            let written = Scale::around(numbers, &axis(Spread::Even, whole)).written();
            assert_eq!(written.into_iter().map(|(_, text)| text).collect::<Vec<_>>(), ticks);
        }
        let month = |year: f64, month: f64| 12.0 * year + month - 1.0;
        let calendar = |numbers: &[f64]| {
            let scale = Scale::around(numbers, &axis(Spread::Calendar, false));
            scale.written().into_iter().map(|(_, text)| text).collect::<Vec<_>>()
        };
        assert_eq!(calendar(&[month(2031.0, 4.2)]), ["2031-03", "2031-04", "2031-05", "2031-06"]);
        assert_eq!(
            calendar(&[month(2031.0, 4.2), month(2032.0, 4.3)]),
            ["2031-04", "2031-07", "2031-10", "2032-01", "2032-04", "2032-07"]
        );
        assert_eq!(
            calendar(&[month(2031.0, 4.2), month(2034.0, 4.3)]),
            ["2031", "2032", "2033", "2034", "2035"]
        );
        let factors = Scale::around(&[0.1, 30.0, 0.0], &axis(Spread::Factors, false));
        assert_eq!(factors.ticks, [0.1, 1.0, 10.0, 50.0]);
        assert_eq!(factors.share(0.0), 0.0);
        let decade = Scale::around(&[2.0, 3.0], &axis(Spread::Factors, false));
        assert_eq!(decade.ticks, [2.0, 10.0, 20.0]);
        assert!((decade.share(20f64.sqrt() * 2f64.sqrt()) - 0.5).abs() < 1e-12);
    }

    proptest! {
        #[test]
        fn ticks_cover_what_is_drawn(numbers in proptest::collection::vec(-1e7f64..1e7, 0..6), whole: bool) {
            let scale = Scale::around(&numbers, &axis(Spread::Even, whole));
            prop_assert!((2..=12).contains(&scale.ticks.len()), "{:?}", scale.ticks);
            prop_assert!(scale.ticks.windows(2).all(|pair| pair[0] < pair[1]));
            let slack = 1e-6 * (scale.high - scale.low);
            for number in numbers {
                prop_assert!(scale.low - slack <= number && number <= scale.high + slack);
                prop_assert!(!whole || scale.ticks.iter().all(|tick| tick.fract() == 0.0));
            }
        }

        #[test]
        fn factors_cover_what_is_above_zero(numbers in proptest::collection::vec(1e-8f64..1e9, 0..6)) {
            let scale = Scale::around(&numbers, &axis(Spread::Factors, false));
            prop_assert!(scale.ticks.len() >= 2 && scale.low > 0.0);
            for number in numbers {
                prop_assert!(scale.low <= number * 1.000_001 && number <= scale.high * 1.000_001);
            }
        }

        #[test]
        fn any_number_at_all_has_a_place(numbers in proptest::collection::vec(any::<f64>(), 0..6), x: f64) {
            for spread in [Spread::Even, Spread::Factors, Spread::Calendar] {
                let scale = Scale::around(&numbers, &axis(spread, false));
                prop_assert!(scale.high > scale.low && scale.low.is_finite() && scale.high.is_finite());
                prop_assert!((0.0..=1.0).contains(&scale.share(x)));
            }
        }
    }
}
