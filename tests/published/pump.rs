//! The pump's run time and starts.

use tankhand::physics::{least_run_time, run_time, starts_per_hour, volume_needed, water_for_run};

use super::{GALLON, GPM, PSI, close};

/// Runs of 1 and 2 min give the limits of the Water Systems Council's tank standard (15 an hour
/// to ¾ hp, 7.5 above, seen); 2.5 × gpm (UFC 3-420-01, seen) gives the 6 an hour of Washington
/// DOH 331-123 and Idaho IDAPA 58.01.08.547 (seen).
#[test]
fn starts_an_hour_follow_from_run_time() {
    for (minutes, starts) in [(1.0, 15.0), (2.0, 7.5), (2.5, 6.0)] {
        let flow = 7.0 * GPM;
        let water = 7.0 * minutes * GALLON;
        close(water_for_run(flow, minutes * 60.0).unwrap(), water, 1e-12, "water");
        close(starts_per_hour(water, flow).unwrap(), starts, 1e-9, &format!("{minutes} min"));
        close(run_time(water, flow).unwrap(), minutes * 60.0, 1e-9, "run time");
    }
}

/// 15 starts an hour up to 3/4 hp and 7.5 above (Water Systems Council's tank standard, scope, seen) are runs of 1 and 2 min.
#[test]
fn least_run_times_are_those_of_the_starts_allowed() {
    // 1/3 and 3/4 hp, 560 W as a metric plate has the latter, 1 and 5 hp.
    for (watts, starts) in [(248.6, 15.0), (559.27, 15.0), (560.0, 15.0), (745.7, 7.5), (3728.5, 7.5)] {
        let flow = 7.0 * GPM;
        let water = water_for_run(flow, least_run_time(watts).unwrap()).unwrap();
        close(starts_per_hour(water, flow).unwrap(), starts, 1e-9, "starts");
    }
}

/// Computed from Boyle's law outside the project: gpm, minutes, cut-in, gallons of tank.
#[test]
fn tank_for_a_run_time() {
    let table =
        [(10.0, 1.0, 30.0, 33.9), (10.0, 1.0, 40.0, 38.8), (12.0, 2.0, 40.0, 93.0), (10.0, 2.5, 40.0, 96.9)];
    for (gpm, minutes, cut_in, gallons) in table {
        let water = water_for_run(gpm * GPM, minutes * 60.0).unwrap();
        let (precharge, on, off) = ((cut_in - 2.0) * PSI, cut_in * PSI, (cut_in + 20.0) * PSI);
        let found = volume_needed(water, precharge, on, off, 0.0).unwrap() / GALLON;
        close(found, gallons, 0.06, &format!("{gpm} gpm for {minutes} min at {cut_in}"));
    }
}
