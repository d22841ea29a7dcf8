//! The rules, a row for each.

use crate::acts::Act;

/// What must stand with an act.
pub struct Rule {
    /// The rule in a sentence.
    pub what: &'static str,
    /// Which steps it is about.
    pub acts: fn(&Act<'_>) -> bool,
    /// Whether the step keeps it.
    pub keeps: fn(&Act<'_>) -> bool,
}

const fn rule(what: &'static str, acts: fn(&Act<'_>) -> bool, keeps: fn(&Act<'_>) -> bool) -> Rule {
    Rule { what, acts, keeps }
}

/// Air goes in.
fn adds_air(act: &Act<'_>) -> bool {
    act.orders(&["add air"])
}

/// The breaker is turned, not only looked at or left as it is.
fn turns_breaker(act: &Act<'_>) -> bool {
    let left = [
        "breaker off and tagged",
        "leave the breaker off",
        "with the breaker off",
        "breaker off, gauge at zero",
    ];
    let order = left.iter().fold(act.order(), |order, words| order.replace(words, ""));
    let turned = ["breaker on", "breaker off", "turn the breaker", "'s breaker off", "turn its breaker"];
    turned.iter().any(|words| order.contains(words))
}

/// The work is at a pump, not at a tank on the floor.
fn is_at_the_well(act: &Act<'_>) -> bool {
    let states = ["pump_off", "pump_on", "house_shut"];
    act.loaded.procedure.all_steps().any(|step| step.brings.iter().any(|state| states.contains(&&**state)))
}

/// The water side is opened by hand; a line that never held water and is only looked at is open as it stands.
fn parts_a_line(act: &Act<'_>) -> bool {
    act.brings("water_side_open") && !act.orders(&["go along the pipe"])
}

/// A tank is pushed, tipped, laid down, lifted or carried.
fn moves_tank(act: &Act<'_>) -> bool {
    let words = ["tip the tank", "lay the tank", "lift the tank", "move the old tank", "set the tank in its"];
    act.orders(&words)
        || act.orders(&["put the new tank", "push it gently", "press the center of the old tank"])
}

/// At panel, tank, switch or well.
fn comes_near(act: &Act<'_>) -> bool {
    let hazards = ["mains", "pump_starts", "stored_water", "stored_air", "well_opening"];
    is_at_the_well(act) && act.step.hazards.iter().any(|it| hazards.contains(&it.id))
}

fn has_a_way_out(act: &Act<'_>) -> bool {
    act.may_end()
}

pub static RULES: &[Rule] = &[
    rule(
        "the pump gets power only where a relief valve was seen",
        |act| act.brings("pump_on") || act.brings("filled_by_hand"),
        |act| act.needs("relief_guards"),
    ),
    rule("air is added only where a relief valve was seen, or to a loose tank", adds_air, |act| {
        act.needs("relief_guards")
    }),
    rule(
        "who starts a pump by its lever or a tripped breaker was told of the relief valve",
        |act| act.orders(&["half up", "to on once"]),
        |act| act.warned("relief_valve"),
    ),
    rule("air is added only to a drained tank with its drain open", adds_air, |act| {
        act.needs_all(&["drained", "drain_open"]) || act.orders(&["tank drained, drain left open"])
    }),
    rule("air is added under the message of stored air", adds_air, |act| act.warns("stored_air")),
    rule(
        "a compressor is connected under the messages of stored air and of cords",
        |act| act.orders(&["compressor"]) && !act.orders(&["unplug the compressor"]),
        |act| act.warns("stored_air") && act.warns("cords"),
    ),
    rule(
        "a valve core is changed only under the message of stored air, with the tank drained",
        |act| act.orders(&["change the valve core", "screw in a new one"]),
        |act| act.warns("stored_air") && act.needs_all(&["drained", "drain_open"]),
    ),
    rule(
        "a cover comes off with the breaker off, the tester tried first",
        |act| act.brings("switch_open"),
        |act| act.needs("pump_off") && act.orders(&["tester"]) && act.warns("mains") && act.may_end(),
    ),
    rule(
        "wires are dead by a word that is typed, at the tester, with the breaker off",
        |act| act.brings("wires_dead"),
        |act| {
            act.status() == Some("dead") && act.needs("pump_off") && act.orders(&["tester"]) && act.may_end()
        },
    ),
    rule(
        "a nut of the switch is turned only on dead wires",
        |act| act.needs("switch_open") && act.orders(&["nut, on the"]),
        |act| act.needs("wires_dead"),
    ),
    rule(
        "the pump gets power only with well, filter housing and switch closed",
        |act| act.brings("pump_on"),
        |act| ["well_open", "housing_open", "switch_open"].iter().all(|state| act.is_closed(state)),
    ),
    rule("the breaker is turned under the message of the mains", turns_breaker, |act| act.warned("mains")),
    rule("the breaker is turned with dry hands", turns_breaker, |act| act.orders(&["dry"])),
    rule(
        "the breaker is off by a word that is typed",
        |act| act.brings("pump_off"),
        |act| act.status() == Some("off"),
    ),
    // A check changes nothing by itself: who is to turn something is told so by a `stop`, which says how things are left.
    rule(
        "no check that ends the work gives an order that the record does not keep",
        |act| act.ends_with().is_some(),
        |act| {
            let said = act.ends_with().unwrap_or_default();
            !["turn the breaker", "breaker off with", "open the drain", "turn off"]
                .iter()
                .any(|word| said.contains(word))
        },
    ),
    rule(
        "drains, valves and wires are left by a word that is typed wherever the next step trusts them",
        |act| act.brings("drain_open") && act.undoes("drain_shut") && act.needs("under_pressure"),
        |act| act.status() == Some("open"),
    ),
    rule(
        "the pump gets power under the message of too much pressure",
        |act| act.brings("pump_on"),
        |act| act.warned("over_pressure"),
    ),
    rule(
        "a pump that was given power is watched",
        |act| act.brings("pump_on"),
        |act| act.warned("unattended") || act.orders(&["gauge", "stay", "helper", "needle", "make sure"]),
    ),
    rule(
        "a pump that runs has its way out where it is timed or watched",
        |act| act.needs("pump_on") && ["cut_in", "cut_out", "run_time"].iter().any(|name| act.reads(name)),
        has_a_way_out,
    ),
    rule(
        "no new message is read while the pump has power and eyes belong on the gauge",
        |act| act.needs("pump_on") && !act.needs("pump_waits"),
        |act| act.new_hazards() == 0,
    ),
    rule("who moves a tank was warned of its weight", moves_tank, |act| act.warns("weight")),
    rule(
        "a joint or cap of a tank is undone slowly, under the message of water under pressure",
        |act| parts_a_line(act) || act.orders(&["undo it half a turn"]),
        |act| act.warns("stored_water") && act.orders(&["half a turn", "slowly"]),
    ),
    rule(
        "a line is parted only empty, with the pump proven off, under the message of the metal pipe",
        parts_a_line,
        |act| act.warns("metal_ground") && act.needs_all(&["pump_proven_off", "line_at_zero"]),
    ),
    rule(
        "a well is opened with the pump proven off, under its message",
        |act| act.brings("well_open"),
        |act| act.warns("well_opening") && act.needs("pump_proven_off") && act.may_end(),
    ),
    rule(
        "nothing is done at an open well or housing unless the pump is proven off",
        |act| act.needs("well_open") || act.needs("housing_open"),
        |act| act.needs("pump_proven_off"),
    ),
    rule(
        "bleach is poured under its message",
        |act| act.orders(&["bleach, and pour", "pour the mix"]),
        |act| act.warns("chlorine"),
    ),
    rule(
        "hose ends are lifted before the house loses its pressure",
        |act| act.brings("house_shut"),
        |act| act.warned("back_siphonage"),
    ),
    rule(
        "the heater is spoken of before the house is shut off",
        |act| act.brings("house_shut"),
        |act| act.warned("heat") || act.order().contains("tell everyone"),
    ),
    rule(
        "a relief valve is looked at and lifted knowing it from the heater's",
        |act| act.orders(&["relief valve near the tank", "valve near the tank"]),
        |act| act.warned("relief_valve") || act.orders(&["water heater", "heater's"]),
    ),
    rule("a pit is spoken of before anyone goes near", comes_near, |act| act.warned("confined_space")),
    rule(
        "a lever is held with the cover on, alone, for a minute at most",
        |act| act.orders(&["half up"]),
        |act| {
            ["cover on", "alone", "1 min"].iter().all(|word| act.orders(&[word]))
                || act.orders(&["touch nothing else"])
        },
    ),
    rule(
        "the switch's nipple is left alone",
        |act| act.orders(&["nipple"]),
        |act| act.orders(&["keep off", "never turn", "nipple alone"]),
    ),
    rule(
        "who disinfects, or waits for a lab, was told not to drink the water",
        |act| act.orders(&["why do you want to disinfect", "a lab must test the water"]),
        |act| act.warned("drinking_water"),
    ),
    rule(
        "a pump that is started round after round rests between its starts",
        |act| act.brings("filled_by_hand"),
        |act| act.orders(&["wait 5 min from the last start"]),
    ),
    rule(
        "ice is met under the message of frost",
        |act| act.orders(&["frost", "cracked"]) || act.step.hazards.iter().any(|it| it.id == "freezing"),
        |act| act.warns("freezing"),
    ),
];
