//! Where a formula's range ends: the last value that is taken and the next one, which is not.

use tankhand::physics::*;

const PSI: f64 = 6_894.757_293_168_361;
const WARM: f64 = 288.15;

/// What takes a value or refuses it, the last value taken, and one a little beyond, which is refused: beyond
/// what rounding in a conversion of units may bring.
type End = (&'static str, Box<dyn Fn(f64) -> bool>, f64, f64);

const BEYOND: f64 = 1e-9;

fn last(name: &'static str, takes: impl Fn(f64) -> bool + 'static, end: f64) -> End {
    (name, Box::new(takes), end, end + BEYOND * end.abs().max(1e-6))
}

fn first(name: &'static str, takes: impl Fn(f64) -> bool + 'static, end: f64) -> End {
    (name, Box::new(takes), end, end - BEYOND * end.abs().max(1e-6))
}

/// An end that does not belong to the range itself: the number before it does.
fn below(name: &'static str, takes: impl Fn(f64) -> bool + 'static, end: f64) -> End {
    (name, Box::new(takes), end.next_down(), end)
}

fn check(ends: Vec<End>) {
    for (name, takes, taken, refused) in ends {
        assert!(takes(taken), "{name}: {taken} belongs to the range");
        assert!(!takes(refused), "{name}: {refused} does not");
    }
}

#[test]
fn both_ends_of_a_range_belong_to_it_in_any_unit() {
    let unit = |symbol| tankhand::quantity::unit(symbol).unwrap();
    for (degrees, symbol) in [(140.0, "degF"), (60.0, "degC"), (-40.0, "degF"), (-40.0, "degC")] {
        let kelvin = unit(symbol).to_si(tankhand::quantity::Measure::Temperature, degrees);
        assert!(precharge_at(2e5, kelvin, kelvin, 0.0).is_ok(), "{degrees} {symbol}");
    }
    let psi = unit("psi").to_si(tankhand::quantity::Measure::Pressure, 150.0);
    assert!(absolute(psi, 0.0).is_ok());
}

#[test]
fn the_lowest_limit_holds_the_cut_out() {
    let limits = PressureLimits { plate: 100.0 * PSI, relief: 75.0 * PSI, pump: 70.0 * PSI };
    for (limits, lowest) in [
        (limits.clone(), 70.0),
        (PressureLimits { relief: 60.0 * PSI, ..limits.clone() }, 60.0),
        (PressureLimits { plate: 50.0 * PSI, ..limits }, 50.0),
    ] {
        assert_eq!(cut_out_limit(&limits), Ok(lowest * PSI));
    }
}

#[test]
fn the_numbers_that_formulas_are_given() {
    check(vec![
        first("the discharge coefficient", |c| orifice_flow(0.01, c, 1e5).is_ok(), 0.05),
        last("the discharge coefficient", |c| orifice_flow(0.01, c, 1e5).is_ok(), 1.0),
        first("the exponent", |n| fast_fill(0.1, 2e5, 3e5, 4e5, 0.0, n).is_ok(), 1.0),
        last("the exponent", |n| fast_fill(0.1, 2e5, 3e5, 4e5, 0.0, n).is_ok(), 1.4),
        first("the weight", |m| trapped_water(m, 20.0).is_ok(), 18.0),
        first("the air to add", |p| free_air(0.1, 2e5, p, 0.0).is_ok(), 2e5),
        below("what a tank gives", |v| high_precharge_from_drawdown(0.1, v, 4e5, 0.0).is_ok(), 0.1),
        below("the cut-in below the cut-out", |p| drawdown(0.1, 1e5, p, 3e5, 0.0).is_ok(), 3e5),
        below("the end of a draining", |p| drain_time(0.1, 1e5, [4e5, p], 1e-3, 0.0).is_ok(), 4e5),
        // The standard atmosphere at sea level.
        first("the vacuum", |p| absolute(p, 0.0).is_ok(), (-101_325f64).next_up()),
        below("the gap", |gap| precharge_target(1e5, WARM, WARM, gap, 0.0).is_ok(), 1e5f64.next_up()),
    ]);
    // A drained tank of any size gives its water only while the charge lies below the cut-out.
    assert!(volume_needed(0.01, 3.999e5, 3e5, 4e5, 0.0).is_ok());
    assert!(volume_needed(0.01, 3.9999e5, 3e5, 4e5, 0.0).is_err());
    // No water comes where nothing is left to drive it.
    assert!(lowest_pressure(1e5, 0.0, 1e5).is_err());
    assert!(lowest_pressure(1e5, 0.0, 1e5f64.next_down()).is_ok());
}

#[test]
fn the_greatest_drawdown_still_has_a_charge() {
    let (volume, cut_in, cut_out) = (0.1, 3e5, 4e5);
    // Boyle's law worked by hand, the precharge at the cut-in: 0.1 m³ × (1 - 401 325 / 501 325).
    let most = 0.019_947_140_078_791_2;
    let found = drawdown(volume, cut_in, cut_in, cut_out, 0.0).unwrap();
    assert!((found / most - 1.0).abs() < 1e-14, "{found}");
    let precharge = precharge_from_drawdown(volume, most, cut_in, cut_out, 0.0).unwrap();
    assert!((precharge - cut_in).abs() < 1e-3, "{precharge}");
    assert!(precharge_from_drawdown(volume, most * (1.0 + 1e-9), cut_in, cut_out, 0.0).is_err());
}

#[test]
fn turns_are_advised_for_what_a_turn_may_be_worth() {
    let points = |cut_in, cut_out| SwitchPoints { cut_in, cut_out };
    // Powers of two, so that the quotients are exact.
    let (usual, cut_in, cut_out) = (16_384.0, 262_144.0, 393_216.0);
    let turns = move |range: f64, differential: f64| {
        points(cut_in + range * usual, cut_out + (range + differential) * usual)
    };
    let advised = move |range: f64, differential: f64, wanted: SwitchPoints, ceiling: f64| {
        let rate = |value| Rate { value, u: 0.0, degrees: None };
        let adjusters = Adjusters { range: rate(range), differential: rate(differential) };
        next_turns(&adjusters, points(cut_in, cut_out), wanted, ceiling)
    };
    let near = turns(0.5, 0.0);
    check(vec![
        first("a turn's worth", move |r| advised(r, usual, near, 9e5).is_ok(), 0.5 * PSI),
        last("a turn's worth", move |r| advised(r, usual, near, 9e5).is_ok(), 20.0 * PSI),
        first("a turn's worth", move |r| advised(usual, r, near, 9e5).is_ok(), 0.5 * PSI),
        last("a turn's worth", move |r| advised(usual, r, near, 9e5).is_ok(), 20.0 * PSI),
        first("the ceiling", move |c| advised(usual, usual, near, c).is_ok(), near.cut_out),
    ]);
    // Wanted turns; turns advised, where they lead (Pa, worked by hand), and whether more will be needed: two at
    // most are made at once.
    for (wanted, made, leads_to, held_back) in [
        ((2.0, 0.0), (2.0, 0.0), (294_912.0, 425_984.0), false),
        ((3.0, 0.0), (2.0, 0.0), (294_912.0, 425_984.0), true),
        ((4.0, 2.0), (2.0, 1.0), (294_912.0, 442_368.0), true),
        ((1.0, -4.0), (0.5, -2.0), (270_336.0, 368_640.0), true),
        ((-1.0, -1.0), (-1.0, -1.0), (245_760.0, 360_448.0), false),
        ((0.3, -0.3), (0.25, -0.25), (266_240.0, 393_216.0), false),
        ((0.1, 0.2), (0.0, 0.25), (262_144.0, 397_312.0), false),
    ] {
        let next = advised(usual, usual, turns(wanted.0, wanted.1), 9e5).unwrap();
        assert_eq!((next.range, next.differential, next.held_back), (made.0, made.1, held_back));
        assert_eq!(next.expected, points(leads_to.0, leads_to.1));
    }
}

#[test]
fn turns_that_might_pass_the_ceiling_are_halved() {
    let (usual, cut_in, cut_out) = (16_384.0, 262_144.0, 393_216.0);
    let rate = Rate { value: usual, u: 1_000.0, degrees: None };
    let advised = |up_in: f64, up_out: f64, ceiling: f64| {
        let now = SwitchPoints { cut_in, cut_out };
        let wanted = SwitchPoints { cut_in: cut_in + up_in * usual, cut_out: cut_out + up_out * usual };
        let next = next_turns(&Adjusters { range: rate, differential: rate }, now, wanted, ceiling).unwrap();
        (next.range, next.differential, next.cut_out_u, next.held_back)
    };
    // Two turns lead to 2 × 16384 Pa more, give or take 2 × 2000 Pa.
    let just_fits = cut_out + 2.0 * usual + 2.0 * 2_000.0;
    assert_eq!(advised(2.0, 2.0, just_fits), (2.0, 0.0, 2_000.0, false));
    assert_eq!(advised(2.0, 2.0, just_fits.next_down()), (1.0, 0.0, 1_000.0, true));
    assert_eq!(advised(2.0, 2.0, cut_out + 2.0 * usual), (1.0, 0.0, 1_000.0, true));
    // A cut-out that stays where it is passes nothing, however doubted.
    assert_eq!(advised(1.0, 0.0, cut_out), (1.0, -1.0, 1_000.0 * 2f64.sqrt(), false));
}

#[test]
fn the_next_look_is_half_way_to_the_earliest_leaving() {
    const MONTH: f64 = 2_629_746.0;
    let reading = |months: f64, value: f64| Reading { at: months * MONTH, value, u: 0.1 };
    let fit = trend(&[reading(0.0, 38.0), reading(6.0, 37.0), reading(12.0, 36.0)], 0.0).unwrap();
    // In a month at least and a year at most.
    for (leaves_in, look_in) in [(Some(1.0), 1.0), (Some(10.0), 5.0), (Some(60.0), 12.0), (None, 12.0)] {
        let earliest = leaves_in.map(|months| (12.0 + months) * MONTH);
        let exit = BandExit { estimate: None, earliest, latest: None };
        let months = look_again(&fit, &exit) / MONTH - 12.0;
        assert!((months - look_in).abs() < 1e-3, "{leaves_in:?}: {months}");
    }
}
