//! The figure of the tank: the water it holds against the pressure, as found and as left.
//!
//! It is drawn for any procedure that works out `drawdown(volume, precharge, cut_in, cut_out)` with
//! a precharge that a step tells as found or as left.

use crate::lang::{Value, Values};
use crate::physics::{drawdown, water_held};
use crate::quantity::{Measure, Uncertain, Unit, Units, show, show_with_limits};
use crate::record::Phase;
use crate::report::figure::{Axis, Figure, PlotMark, PlotShape, PlotTone};
use crate::report::run_view::RunView;

const FUNCTION: &str = "drawdown";
/// In how many pieces a curve is drawn.
const CURVE_PIECES: i32 = 40;

pub(super) fn figure(run: &RunView<'_>, values: &dyn Values) -> Option<Figure> {
    let [found, left] = [Phase::Found, Phase::Left].map(|tells| tank(run, values, tells));
    let shown = left.as_ref().or(found.as_ref())?;
    let units = run.contents.header.units;
    let (psi, gal) = (units.unit_for(Measure::Pressure)?, units.unit_for(Measure::Volume)?);
    let mut marks = shown.ground(units, if left.is_some() { "as left" } else { "as found" })?;
    for (tank, label, tone) in
        [(&found, "as found", PlotTone::Earlier), (&left, "as left", PlotTone::Computed)]
    {
        if let Some(tank) = tank {
            marks.extend(tank.dead_gap(psi, label));
            let places = tank.curve(shown.cut_out.value(), psi, gal);
            marks.push(PlotMark::new(label, tone, PlotShape::Line(places)));
        }
    }
    // Strips are drawn first, whatever comes after.
    marks.sort_by_key(|mark| !matches!(mark.shape, PlotShape::Band(..) | PlotShape::Gap(..)));
    Some(Figure {
        title: "Water held against pressure".to_string(),
        says: says(units, found.as_ref(), left.as_ref()),
        x: Axis::even(format!("pressure at the tank, {}", psi.symbol)).holding(&[0.0]),
        y: Axis::even(format!("water in the tank, {}", gal.symbol)).holding(&[0.0]),
        marks,
    })
}

/// What decides how much a tank gives.
struct TankAs {
    volume: Uncertain,
    precharge: Uncertain,
    cut_in: Uncertain,
    cut_out: Uncertain,
    elevation: Uncertain,
}

/// The last drawdown worked out with a precharge told so.
fn tank(run: &RunView<'_>, values: &dyn Values, tells: Phase) -> Option<TankAs> {
    let shown = |name: &str| run.steps.get(name).is_some_and(|at| at.step.tells == Some(tells));
    let fits = run.steps.computed().filter(|(_, expr)| expr.name_in_call(FUNCTION, 1).is_some_and(shown));
    let tanks = fits.filter_map(|(_, expr)| TankAs::of(&expr.arguments(FUNCTION, values)?));
    tanks.last()
}

impl TankAs {
    /// From the arguments of a call; only a tank that can be computed with.
    fn of(arguments: &[Value]) -> Option<TankAs> {
        let amount = |at: usize| arguments.get(at).and_then(Value::amount).cloned();
        let elevation = amount(4).unwrap_or_else(|| Uncertain::exact(0.0));
        let tank = TankAs {
            volume: amount(0)?,
            precharge: amount(1)?,
            cut_in: amount(2)?,
            cut_out: amount(3)?,
            elevation,
        };
        tank.gives().is_some().then_some(tank)
    }

    fn gives(&self) -> Option<Uncertain> {
        let TankAs { volume, precharge, cut_in, cut_out, elevation } = self;
        drawdown(volume.clone(), precharge.clone(), cut_in.clone(), cut_out.clone(), elevation.clone()).ok()
    }

    fn held(&self, pressure: f64) -> f64 {
        let held = water_held(self.volume.value(), self.precharge.value(), pressure, self.elevation.value());
        held.unwrap_or(f64::NAN)
    }

    /// Water held from no pressure up to `to`, in the units plotted.
    fn curve(&self, to: f64, psi: &Unit, gal: &Unit) -> Vec<(f64, f64)> {
        let precharge = self.precharge.value().clamp(0.0, to);
        let rising = (0..=CURVE_PIECES)
            .map(|at| precharge + (to - precharge) * f64::from(at) / f64::from(CURVE_PIECES));
        let place = |pressure: f64| (pressure / psi.size, self.held(pressure) / gal.size);
        std::iter::once(0.0).chain(rising).map(place).collect()
    }

    /// The pressures that matter, and the water between start and stop.
    fn ground(&self, units: Units, when: &str) -> Option<Vec<PlotMark>> {
        let (psi, gal) = (units.unit_for(Measure::Pressure)?, units.unit_for(Measure::Volume)?);
        let upright = |word: &str, at: &Uncertain| {
            let label = format!("{word} {}", show(Measure::Pressure, at, units));
            PlotMark::new(label, PlotTone::Limit, PlotShape::Upright(at.value() / psi.size))
        };
        let (low, high) = (self.held(self.cut_in.value()), self.held(self.cut_out.value()));
        let gives = format!("drawdown {}", show_with_limits(Measure::Volume, &self.gives()?, units));
        Some(vec![
            PlotMark::new(gives, PlotTone::Limit, PlotShape::Band(low / gal.size, high / gal.size)),
            upright(&format!("precharge {when}"), &self.precharge),
            upright("cut-in", &self.cut_in),
            upright("drawn from", &self.cut_out),
        ])
    }

    /// The pressures between which the tank is empty and the pump does not run.
    fn dead_gap(&self, psi: &Unit, when: &str) -> Option<PlotMark> {
        let (from, to) = (self.cut_in.value() / psi.size, self.precharge.value() / psi.size);
        (to > from)
            .then(|| PlotMark::new(format!("dead gap {when}"), PlotTone::Limit, PlotShape::Gap(from, to)))
    }
}

fn says(units: Units, found: Option<&TankAs>, left: Option<&TankAs>) -> String {
    let shown = |measure, amount: &Uncertain| show_with_limits(measure, amount, units);
    let sentence = |tank: &TankAs, when: &str| {
        let gives = tank.gives().map(|gives| shown(Measure::Volume, &gives)).unwrap_or_default();
        let mut text = format!(
            "{when}, with a precharge of {}, it gives {gives} between {} and {}.",
            shown(Measure::Pressure, &tank.precharge),
            shown(Measure::Pressure, &tank.cut_out),
            shown(Measure::Pressure, &tank.cut_in)
        );
        if tank.precharge.value() > tank.cut_in.value() {
            text.push_str(
                " The precharge is above cut-in: the tank is empty before the pump starts, and the pressure \
                 falls away in the dead gap.",
            );
        }
        text
    };
    let parts = [
        found.map(|tank| sentence(tank, "As found")),
        left.map(|tank| sentence(tank, "As left")),
        Some("Calculated from the plate's volume by Boyle's law for a slow draw; what the bucket measured is the drawdown among the numbers.".into()),
    ];
    parts.into_iter().flatten().collect::<Vec<_>>().join(" ")
}
