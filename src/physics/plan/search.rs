//! The search for what reaches a set of goals: cut-in, differential and tanks to be had.

use super::{Design, Forecast, Goal, PlanTank, Site};
use crate::quantity::{Truth, Uncertain, Verdict};

/// A size of tank that is sold.
#[derive(Clone, Debug, PartialEq)]
pub struct SoldTank {
    /// What it is sold as.
    pub name: String,
    /// Its whole volume, as its plate would say; m³.
    pub volume: Uncertain,
    /// The highest pressure its plate would allow, where that is known; Pa.
    pub limit: Option<f64>,
    /// What it costs, in whatever money the table counts.
    pub price: Option<f64>,
}

/// What is searched through.
#[derive(Clone, Debug)]
pub struct Search<'a> {
    /// What stays the same.
    pub site: &'a Site,
    /// What there is to begin with: its tanks stay, its switch may be set higher.
    pub start: &'a Design,
    /// The sizes to choose from.
    pub sold: &'a [SoldTank],
    /// What is to be reached.
    pub goals: &'a [Goal],
    /// The cut-ins tried: from the first to the last, by the step; Pa.
    pub cut_ins: [f64; 3],
    /// The differentials tried, the one preferred first; Pa.
    pub differentials: &'a [f64],
}

/// Something that reaches all goals.
#[derive(Clone, Debug, PartialEq)]
pub struct Choice {
    /// The design.
    pub design: Design,
    /// The tanks bought for it, by their places among the sizes.
    pub bought: Vec<usize>,
    /// What they cost, where all prices are known; nothing costs nothing.
    pub price: Option<f64>,
    /// What it does.
    pub forecast: Forecast,
}

impl Search<'_> {
    /// What reaches all goals within all limits that are known: at the confidence asked for, and if
    /// nothing does, by best estimate. The cheapest come first where prices are known, then the
    /// fewest tanks, then what adds the least volume, then the lowest cut-out. A choice is left out when another is no worse in any
    /// of these and gives no less water.
    pub fn choices(&self) -> Vec<Choice> {
        let surely = |truth: Truth| truth.verdict(self.site.confidence) == Verdict::Pass;
        let found = self.that(&surely);
        if found.is_empty() { self.that(&|truth| truth.best) } else { found }
    }

    /// What reaches every goal in the way asked for.
    fn that(&self, reached: &dyn Fn(Truth) -> bool) -> Vec<Choice> {
        let with = |bought: &Vec<usize>| self.with(bought, reached);
        let mut found: Vec<Choice> = self.purchases().iter().flat_map(with).collect();
        found.sort_by(|a, b| rank(a).partial_cmp(&rank(b)).unwrap_or(std::cmp::Ordering::Equal));
        let mut kept: Vec<Choice> = Vec::new();
        for choice in found {
            if !kept.iter().any(|better| no_worse(better, &choice)) {
                kept.push(choice);
            }
        }
        kept
    }

    /// Nothing, each size, each two of them alike or not: what may be bought.
    fn purchases(&self) -> Vec<Vec<usize>> {
        let sizes = self.sold.len();
        let one = (0..sizes).map(|size| vec![size]);
        let two = (0..sizes).flat_map(|size| (size..sizes).map(move |other| vec![size, other]));
        std::iter::once(Vec::new()).chain(one).chain(two).collect()
    }

    /// For each differential the lowest cut-in that will do with what is bought.
    fn with(&self, bought: &[usize], reached: &dyn Fn(Truth) -> bool) -> Vec<Choice> {
        let mut tanks = self.start.tanks.clone();
        tanks.extend(bought.iter().map(|size| self.sold[*size].as_tank()));
        let highest = self.site.highest_cut_out(&tanks) * (1.0 + 1e-9);
        let [first, last, step] = self.cut_ins;
        let steps = ((last - first) / step + 1e-9).floor().clamp(0.0, 1_000.0) as u32;
        let lowest = |differential: &f64| {
            (0..=steps).find_map(|at| {
                let cut_in = first + f64::from(at) * step;
                let cut_out = cut_in + differential;
                let design = Design { tanks: tanks.clone(), cut_in, cut_out };
                (cut_out <= highest).then(|| self.tried(design, bought, reached)).flatten()
            })
        };
        self.differentials.iter().filter_map(lowest).collect()
    }

    /// The design with its forecast, when it reaches every goal.
    fn tried(&self, design: Design, bought: &[usize], reached: &dyn Fn(Truth) -> bool) -> Option<Choice> {
        let forecast = self.site.forecast(&design).ok()?;
        let reaches = |goal: &Goal| goal.holds(&forecast).is_some_and(reached);
        if !self.goals.iter().all(reaches) {
            return None;
        }
        let price = bought.iter().map(|size| self.sold[*size].price).sum::<Option<f64>>();
        Some(Choice { design, bought: bought.to_vec(), price, forecast })
    }
}

impl SoldTank {
    /// The tank, level with the switch.
    fn as_tank(&self) -> PlanTank {
        PlanTank {
            name: self.name.clone(),
            volume: self.volume.clone(),
            above: Uncertain::exact(0.0),
            limit: self.limit,
            precharge: None,
        }
    }
}

/// What choices are ordered by, and differ in: price, how many tanks are bought, volume, cut-out,
/// and last what they give, turned round. Lower is better.
fn rank(choice: &Choice) -> [f64; 5] {
    let volume: f64 = choice.design.tanks.iter().map(|tank| tank.volume.value()).sum();
    let price = choice.price.unwrap_or(f64::MAX);
    let given = choice.forecast.drawdown.value();
    [price, choice.bought.len() as f64, volume, choice.design.cut_out, -given]
}

fn no_worse(one: &Choice, other: &Choice) -> bool {
    rank(one).iter().zip(rank(other)).all(|(one, other)| *one <= other)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::physics::PumpDuty;
    use crate::physics::plan::{GaugeUncertainty, GoalOf, PlanOutlet, PlanPump};
    use crate::quantity::{GALLON, GPM, PSI};
    use proptest::prelude::*;

    fn sold(gallons: f64, price: Option<f64>) -> SoldTank {
        let volume = Uncertain::exact(gallons * GALLON);
        SoldTank { name: format!("{gallons}"), volume, limit: Some(100.0 * PSI), price }
    }

    /// A place with a pump of 8 gal/min and a bath 14 ft up.
    fn site(relief: f64) -> Site {
        let flow = Uncertain::exact(8.0 * GPM);
        let duty = PumpDuty { pressure: Uncertain::exact(50.0 * PSI), flow };
        let bath =
            PlanOutlet { name: "bath".to_string(), above: Uncertain::exact(4.27), pipe: None, least: None };
        let gauge = GaugeUncertainty { accuracy: 0.5 * PSI, resolution: 0.3 * PSI };
        Site {
            gap: 2.0 * PSI,
            confidence: 0.95,
            line: gauge,
            air: gauge,
            relief: Some(relief * PSI),
            pump: PlanPump { duty: Some(duty), ..PlanPump::default() },
            outlets: vec![bath],
            ..Site::default()
        }
    }

    fn choices(site: &Site, goals: &[Goal], prices: [Option<f64>; 3]) -> Vec<Choice> {
        let sizes = [20.0, 44.0, 86.0].into_iter().zip(prices);
        let sizes: Vec<SoldTank> = sizes.map(|(gallons, price)| sold(gallons, price)).collect();
        choices_of(site, goals, &sizes, [30.0, 70.0])
    }

    /// What reaches the goals with these sizes beside a tank of 32 gal, at cut-ins from the first to the last.
    fn choices_of(site: &Site, goals: &[Goal], sizes: &[SoldTank], [first, last]: [f64; 2]) -> Vec<Choice> {
        let own = SoldTank::as_tank(&sold(32.0, None));
        let start = Design { tanks: vec![own], cut_in: 30.0 * PSI, cut_out: 50.0 * PSI };
        let search = Search {
            site,
            start: &start,
            sold: sizes,
            goals,
            cut_ins: [first * PSI, last * PSI, PSI],
            differentials: &[20.0 * PSI, 25.0 * PSI],
        };
        search.choices()
    }

    proptest! {
        /// Whatever is found reaches all goals within the limits, needs no higher cut-in than it has,
        /// and is worse than no other.
        #[test]
        fn what_is_found_does_what_is_asked(
            lowest in 20.0f64..45.0, seconds in 30.0f64..180.0, relief in 60.0f64..100.0
        ) {
            let site = site(relief);
            let goals = [
                Goal { of: GoalOf::Lowest(0), bound: lowest * PSI },
                Goal { of: GoalOf::RunTime, bound: seconds },
            ];
            let found = choices(&site, &goals, [None; 3]);
            for choice in &found {
                let reached = |forecast: &Forecast| {
                    goals.iter().all(|goal| goal.holds(forecast).is_some_and(|truth| truth.best))
                };
                prop_assert!(reached(&choice.forecast));
                prop_assert!(choice.design.cut_out <= (relief - 5.0).min(80.0) * PSI * (1.0 + 1e-6));
                let better = |other: &Choice| other != choice && no_worse(other, choice);
                prop_assert!(!found.iter().any(better));
            }
            prop_assert!(found.windows(2).all(|pair| rank(&pair[0]) <= rank(&pair[1])));
        }
    }

    #[test]
    fn the_cheapest_comes_first_and_a_dear_small_tank_is_passed_over() {
        let goals = [Goal { of: GoalOf::RunTime, bound: 120.0 }];
        let bought = |prices| -> Vec<(Vec<usize>, Option<f64>)> {
            let found = choices(&site(75.0), &goals, prices);
            found.into_iter().map(|choice| (choice.bought, choice.price)).take(2).collect()
        };
        assert_eq!(
            bought([Some(400.0), Some(350.0), Some(700.0)]),
            [(vec![1], Some(350.0)), (vec![1], Some(350.0))]
        );
        assert_eq!(bought([None; 3]), [(vec![0], None), (vec![1], None)]);
    }

    /// Of two tanks of one size the dearer is never bought, neither by itself nor beside another. All else is worse in
    /// something: two tanks of 20 gal are less than one of 44, but two.
    #[test]
    fn what_another_beats_in_everything_is_left_out() {
        let goals = [Goal { of: GoalOf::RunTime, bound: 120.0 }];
        let sizes = [sold(20.0, Some(400.0)), sold(20.0, Some(350.0)), sold(44.0, Some(700.0))];
        let found = choices_of(&site(75.0), &goals, &sizes, [30.0, 70.0]);
        let shown = found.iter().map(|it| {
            let price = it.price.map_or("?".to_string(), |price| price.to_string());
            format!("{:?} for {price} to {:.0}", it.bought, it.design.cut_out / PSI)
        });
        assert_eq!(
            shown.collect::<Vec<_>>(),
            [
                "[1] for 350 to 55",
                "[2] for 700 to 50",
                "[2] for 700 to 55",
                "[1, 1] for 700 to 50",
                "[1, 1] for 700 to 55",
                "[1, 2] for 1050 to 50",
                "[1, 2] for 1050 to 55",
                "[2, 2] for 1400 to 50",
                "[2, 2] for 1400 to 55",
            ]
        );
    }

    /// 30 psi at the switch are 23.9 psi at the bath, 4.27 m up: a cut-in that is given is not raised.
    #[test]
    fn a_cut_in_that_is_given_is_the_only_one_tried() {
        for (bound, [first, last], expected) in [
            (23.0, [30.0, 30.0], Some(30.0)),
            (24.0, [30.0, 30.0], None),
            (24.0, [30.0, 31.0], Some(31.0)),
            (25.0, [30.0, 31.0], None),
        ] {
            let goals = [Goal { of: GoalOf::Lowest(0), bound: bound * PSI }];
            let site = Site { line: GaugeUncertainty::default(), ..site(75.0) };
            let found = choices_of(&site, &goals, &[], [first, last]);
            let cut_in = found.first().map(|choice| (choice.design.cut_in / PSI).round());
            assert_eq!(cut_in, expected, "{bound}");
        }
    }

    #[test]
    fn what_already_does_needs_nothing_bought() {
        let goals = [Goal { of: GoalOf::RunTime, bound: 60.0 }];
        let found = choices(&site(75.0), &goals, [Some(1.0); 3]);
        assert_eq!((found[0].bought.len(), found[0].price), (0, Some(0.0)));
        assert_eq!(found[0].design.cut_in, 30.0 * PSI);
    }

    #[test]
    fn where_a_limit_leaves_no_room_nothing_is_found() {
        let goals = [Goal { of: GoalOf::Lowest(0), bound: 60.0 * PSI }];
        assert_eq!(choices(&site(75.0), &goals, [None; 3]), []);
    }
}
