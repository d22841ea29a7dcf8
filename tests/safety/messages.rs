//! What the messages of the hazards must say, and the weight of a full tank.

use tankhand::lang::Value;
use tankhand::procedure::{HAZARDS, Signal, hazard};
use tankhand::quantity::{Measure, Units};

/// A hazard, its signal word, and what its message says.
const SAID: &[(&str, Signal, &[&str])] = &[
    (
        "mains",
        Signal::Danger,
        &[
            "Dry hands and dry feet",
            "does not prove dead wires",
            "panel is wet",
            "tester tried on a live point",
            "keep charge",
            "electrician",
        ],
    ),
    ("pump_starts", Signal::Danger, &["Tag it", "Lock it", "only with the cover on"]),
    (
        "stored_air",
        Signal::Danger,
        &[
            "regulator",
            "above the target",
            "Short bursts",
            "Eye protection",
            "does not guard the air side",
            "only with all air let out",
            "on the water side too",
            "shut the compressor off, leave it",
        ],
    ),
    ("stored_water", Signal::Warning, &["before the gauge reads zero", "drain valve"]),
    (
        "relief_valve",
        Signal::Warning,
        &["T&P valve of the water heater is not it", "scalds", "do not raise the pressure and add no air"],
    ),
    (
        "over_pressure",
        Signal::Warning,
        &[
            "limits of their own",
            "lowest limit of anything in the line",
            "Above 80 psi",
            "pressure-reducing valve",
        ],
    ),
    ("weight", Signal::Warning, &["never dig under it", "two people or a hoist"]),
    (
        "chlorine",
        Signal::Warning,
        &[
            "With acid or ammonia",
            "Gloves, eye protection, fresh air",
            "maker's own dose",
            "Dilute",
            "never into a septic tank, stream or pond",
            "emergency number",
        ],
    ),
    (
        "drinking_water",
        Signal::Warning,
        &[
            "rolling boil for 1 minute, 3 minutes above 6,500 ft",
            "does not help against nitrate, fuel or chemicals",
            "infants",
        ],
    ),
    (
        "well_opening",
        Signal::Danger,
        &["Lift only a cap that just covers", "Never unbolt a seal", "connectors", "only licensed people"],
    ),
    ("confined_space", Signal::Danger, &["Never enter alone", "Ventilate", "stay out"]),
    ("back_siphonage", Signal::Warning, &["Lift every hose end", "vacuum breaker"]),
    ("heat", Signal::Caution, &["\"pilot\" or \"off\"", "hot pump cool"]),
    ("freezing", Signal::Notice, &["No flame on ice", "no fuel heater in a closed room"]),
    ("cords", Signal::Warning, &["GFCI"]),
    ("metal_ground", Signal::Warning, &["electrical ground", "tingle"]),
    ("unattended", Signal::Notice, &["Stay while it runs, or turn the breaker off"]),
];

#[test]
fn every_message_says_what_it_must() {
    assert_eq!(
        SAID.iter().map(|row| row.0).collect::<Vec<_>>(),
        HAZARDS.iter().map(|it| it.id).collect::<Vec<_>>()
    );
    let mut missing = Vec::new();
    for (id, signal, phrases) in SAID {
        let message = hazard(id).unwrap().message(&|_| None, Units::Us);
        assert_eq!(message.signal, *signal, "{id}");
        let text = message.text.replace('\n', " ");
        missing
            .extend(phrases.iter().filter(|said| !text.contains(**said)).map(|said| format!("{id}: {said}")));
    }
    assert_eq!(missing, Vec::<String>::new());
}

/// 8.34 lb a US gallon, common practice, makes 367, 717 and 992; water is reckoned at 1,000 kg/m3 here.
#[test]
fn the_weight_of_a_full_tank_is_a_number() {
    let gallon = 3.785_411_784e-3;
    let weights = [(44.0, "367 lb"), (86.0, "717 lb"), (119.0, "993 lb")].map(|(gallons, weight)| {
        let known =
            |name: &str| (name == "plate_volume").then(|| Value::exact(Measure::Volume, gallons * gallon));
        (hazard("weight").unwrap().message(&known, Units::Us).text, weight)
    });
    for (message, weight) in weights {
        assert_eq!(
            message.lines().nth(3),
            Some(&*format!("Full of water it weighs about {weight} more than empty."))
        );
    }
}

/// The target and the plate limit stand in the message of stored air; what is not known is left out.
#[test]
fn the_limits_for_air_are_shown_as_target_and_plate() {
    let psi = 6_894.757;
    let known = |name: &str| match name {
        "target_precharge" => Some(Value::exact(Measure::Pressure, 33.0 * psi)),
        "plate_limit" => Some(Value::exact(Measure::Pressure, 100.0 * psi)),
        _ => None,
    };
    let of = |known: &dyn Fn(&str) -> Option<Value>| {
        let message = hazard("stored_air").unwrap().message(known, Units::Us).text;
        message.lines().skip(3).map(str::to_string).collect::<Vec<_>>()
    };
    assert_eq!(of(&known)[..2], ["The target is 33 psi.", "Never above the plate limit, 100 psi."]);
    assert_eq!(of(&|_| None).len(), 1);
}
