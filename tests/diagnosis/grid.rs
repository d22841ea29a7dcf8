//! Each reading and each word by itself, beside those of a sound system, and beside those of a torn
//! bladder: how likely every cause is, down to the unlikeliest.

use std::fmt::Write as _;

use tankhand::physics::diagnosis::{
    AirCourse, CAUSES, CauseId, Claims, EarlierPrecharge, Evidence, GaugeErrors, HoldLoss, Item, Speaks,
    Stretch, WellSite, course, diagnose, speaks,
};

use crate::golden;

/// What stands in a row, with how it changes the evidence.
type Row = (String, Box<dyn Fn(&mut Evidence)>);

fn row(name: String, change: impl Fn(&mut Evidence) + 'static) -> Row {
    (name, Box::new(change))
}

/// A reading at several values.
fn values(name: &str, values: &[f64], set: fn(&mut Evidence, f64)) -> Vec<Row> {
    let one = |value: &f64| {
        let value = *value;
        row(format!("{name} {value}"), move |evidence| set(evidence, value))
    };
    values.iter().map(one).collect()
}

/// A kind of readings at several values, each of so many figures.
fn tuples<const N: usize>(name: &str, values: &[[f64; N]], set: fn(&mut Evidence, [f64; N])) -> Vec<Row> {
    let one = |value: &[f64; N]| {
        let value = *value;
        row(format!("{name} {value:?}"), move |evidence| set(evidence, value))
    };
    values.iter().map(one).collect()
}

fn readings() -> Vec<Row> {
    [
        values("one start", &[28.5, 40.0, 53.0], |it, at| it.starts = vec![at]),
        tuples("starts", &[[36.0, 40.0, 45.0], [47.0; 3], [31.0, 31.0, 31.5]], |it, at| {
            it.starts = at.to_vec();
        }),
        values("cut-in elsewhere", &[33.0, 41.0], |it, at| {
            it.starts.clear();
            it.cut_in_elsewhere = Some(at);
        }),
        values("cut-out", &[44.0, 49.0, 53.5, 57.0, 60.0, 63.0, 70.0], |it, at| it.cut_out = Some(at)),
        values("never stops", &[40.0, 46.0, 55.0, 59.7, 63.0, 75.0, 95.0], |it, at| {
            it.cut_out = None;
            it.never_stops = Some(at);
        }),
        values("zero", &[0.0, 0.3, 1.0, 5.0, 8.0], |it, at| it.zero = Some(at)),
        values("second gauge", &[-8.0, -2.0, 0.0, 1.0, 6.0], |it, at| it.second_gauge = Some(at)),
        values("precharge", &[0.0, 0.3, 2.0, 10.0, 24.0, 31.0, 34.0, 38.0, 41.0, 48.0, 70.0], |it, at| {
            it.precharge = vec![at];
        }),
        tuples("precharges", &[[33.0, 34.0, 35.0]], |it, at| it.precharge = at.to_vec()),
        values("drawdown", &[0.1, 1.0, 3.0, 6.0, 8.0, 9.5, 10.5, 13.0], |it, at| it.drawdown = Some(at)),
        values("run time", &[0.5, 3.0, 20.0, 40.0, 70.0, 110.0, 200.0, 500.0], |it, at| {
            it.run_time = Some(at);
        }),
        tuples("weight", &[[60.0, 90.0], [95.0, 90.0], [120.0, 90.0], [210.0, 90.0]], |it, at| {
            it.weight = Some(at);
        }),
        tuples("earlier", &[[30.0, 1.0], [38.5, 0.01], [40.0, 1.0], [50.0, 1.0], [50.0, 5.0]], |it, at| {
            it.earlier = Some(EarlierPrecharge { precharge: at[0], years: at[1], same_gauge: true });
        }),
        tuples("earlier by another gauge", &[[44.0, 2.0]], |it, at| {
            it.earlier = Some(EarlierPrecharge { precharge: at[0], years: at[1], same_gauge: false });
        }),
        tuples(
            "hold shut",
            &[[-3.0, 15.0], [0.3, 15.0], [1.0, 15.0], [1.5, 15.0], [5.0, 30.0], [30.0, 5.0]],
            |it, at| {
                it.hold_shut = Some(HoldLoss { loss: at[0], minutes: at[1] });
            },
        ),
        tuples("hold open", &[[-3.0, 15.0], [0.3, 15.0], [2.0, 15.0], [5.0, 30.0]], |it, at| {
            it.hold_open = Some(HoldLoss { loss: at[0], minutes: at[1] });
        }),
    ]
    .into_iter()
    .flatten()
    .collect()
}

const WORDS: [(Item, &[&str]); 12] = [
    (Item::Pin, &["air", "nothing", "water"]),
    (Item::AddedAir, &["stays", "leaves", "water"]),
    (Item::Sound, &["hollow", "dull", "unsure"]),
    (Item::Soap, &["none", "valve", "port"]),
    (Item::Handle, &["open", "shut", "none"]),
    (Item::OtherTanks, &["no", "yes"]),
    (Item::Order, &["right", "between", "unknown"]),
    (Item::Alone, &["use", "alone", "unknown"]),
    (Item::Look, &["drips", "trickles", "neither"]),
    (Item::Needle, &["evenly", "dropped", "unsure"]),
    (Item::Climbs, &["stays", "climbs", "falls"]),
    (Item::SwitchSound, &["once", "chatter", "unheard"]),
];

fn words() -> Vec<Row> {
    let one = |item: Item, word: &'static str| {
        row(format!("{item}: {word}"), move |evidence| assert!(evidence.word(item, word)))
    };
    WORDS.iter().flat_map(|(item, words)| words.iter().map(|word| one(*item, word))).collect()
}

/// The place and the gauges.
fn circumstances() -> Vec<Row> {
    [
        vec![row("volume not known".to_string(), |it| it.site.volume = None)],
        values("volume", &[20.0, 119.0], |it, at| it.site.volume = Some(at)),
        values("label", &[30.0, 46.0], |it, at| {
            (it.site.label_cut_in, it.site.label_cut_out) = (at, at + 20.0);
        }),
        values("label cut-out", &[56.0], |it, at| it.site.label_cut_out = at),
        values("atmosphere", &[11.0], |it, at| it.site.atmosphere = at),
        values("head", &[4.0], |it, at| it.site.head = at),
        values("gap", &[0.0, 10.0], |it, at| it.site.gap = at),
        values("error of the line gauge", &[0.001, 3.0], |it, at| it.errors.line = at),
        values("mark of the line gauge", &[2.0], |it, at| it.errors.line_mark = at),
        values("error of the tire gauge", &[0.0, 2.5], |it, at| it.errors.air = at),
        values("mark of the tire gauge", &[2.0], |it, at| it.errors.air_mark = at),
        values("error of the bucket", &[0.0, 0.1], |it, at| it.errors.bucket = at),
    ]
    .into_iter()
    .flatten()
    .collect()
}

fn nothing_read() -> Evidence {
    let (label_cut_in, label_cut_out) = (40.0, 60.0);
    let site =
        WellSite { volume: Some(44.0), label_cut_in, label_cut_out, atmosphere: 14.7, head: 0.0, gap: 2.0 };
    Evidence::of(site, GaugeErrors { line: 0.6, line_mark: 0.5, air: 0.6, air_mark: 0.5, bucket: 0.02 })
}

fn sound() -> Evidence {
    let mut it = nothing_read();
    (it.starts, it.cut_out, it.zero) = (vec![40.0, 40.5, 40.0], Some(60.0), Some(0.0));
    (it.precharge, it.drawdown, it.run_time) = (vec![37.5], Some(10.2), Some(95.0));
    it
}

fn torn() -> Evidence {
    let mut it = nothing_read();
    (it.starts, it.cut_out, it.weight) = (vec![40.0, 40.0], Some(60.5), Some([150.0, 90.0]));
    (it.precharge, it.drawdown, it.run_time) = (vec![4.0], Some(4.0), Some(40.0));
    it.word(Item::Pin, "water");
    it
}

/// The logarithms of all probabilities, to the base of ten; three decimals are the same on every machine.
fn said(evidence: &Evidence) -> String {
    let it = diagnose(evidence, &Claims::by(&evidence.items()));
    let all = it.probabilities.iter().chain([&it.none, &it.good]);
    let all: Vec<String> = all.map(|p| format!("{:.3}", p.max(1e-30).log10() + 0.0)).collect();
    let next = it
        .tests
        .iter()
        .take(2)
        .map(|next| format!("{:?} {} min {:.3}", next.test.item, next.minutes, next.bits_a_minute));
    let next: Vec<String> = next.collect();
    format!("{} {:?} {:?} next {}", all.join(" "), it.working, it.odd, next.join(", "))
}

fn holds(golden: &str, base: &Evidence, rows: impl IntoIterator<Item = Row>) {
    let causes: Vec<String> = CAUSES.iter().map(|cause| format!("{:?}", cause.id)).collect();
    let mut text = format!("# {} none good, working answer, odd\n", causes.join(" "));
    for (name, change) in rows {
        let mut evidence = base.clone();
        change(&mut evidence);
        writeln!(text, "{name} | {}", said(&evidence)).unwrap();
    }
    golden::holds(&format!("tests/diagnosis/grid/{golden}.txt"), &text);
}

#[test]
fn every_reading_by_itself_tells_what_it_did() {
    holds("by-itself", &nothing_read(), readings().into_iter().chain(words()));
}

#[test]
fn every_reading_at_a_sound_system_tells_what_it_did() {
    holds("sound", &sound(), readings().into_iter().chain(words()).chain(circumstances()));
}

/// Two or three tanks of 44 gal taken as one, with all their water and with less: one may be torn, shut off or stuck.
#[test]
fn the_water_of_tanks_taken_as_one_tells_what_it_did() {
    let mut both = sound();
    (both.tanks, both.site.volume, both.run_time) = (2, Some(88.0), None);
    let rows = values("drawdown", &[24.0, 20.4, 17.0, 14.0, 12.5, 11.3, 10.6, 9.0, 5.0], |it, at| {
        it.drawdown = Some(at);
    });
    let handles = values("a handle seen shut, drawdown", &[20.4, 11.3], |it, at| {
        it.drawdown = Some(at);
        it.word(Item::Handle, "shut");
    });
    let dull = values("a dull sound, drawdown", &[20.4, 12.5], |it, at| {
        it.drawdown = Some(at);
        it.word(Item::Sound, "dull");
    });
    let three = values("three tanks, drawdown", &[30.6, 22.0, 16.0], |it, at| {
        (it.tanks, it.site.volume, it.drawdown) = (3, Some(132.0), Some(at));
    });
    holds("tanks-as-one", &both, rows.into_iter().chain(handles).chain(dull).chain(three));
}

/// What is seen on the well side counts from more than 1 psi on that was lost with the house shut; a drip always.
#[test]
fn a_look_at_the_well_side_tells_what_it_did() {
    let looks = ["drips", "trickles", "neither"].into_iter().flat_map(|word| {
        [0.9, 1.0, 1.1, 1.9, 2.1].map(|loss| {
            row(format!("{loss} psi lost with the house shut, {word}"), move |it| {
                it.hold_shut = Some(HoldLoss { loss, minutes: 15.0 });
                assert!(it.word(Item::Look, word));
            })
        })
    });
    holds("look", &sound(), looks);
}

#[test]
fn every_reading_at_a_torn_bladder_tells_what_it_did() {
    holds("torn", &torn(), readings().into_iter().chain(words()).chain(circumstances()));
}

/// What each piece of evidence does to the odds of each cause.
#[test]
fn what_speaks_for_a_cause_is_told_as_it_was() {
    let mut text = String::new();
    let all: Vec<CauseId> = CAUSES.iter().map(|cause| cause.id).collect();
    for evidence in [sound(), torn()] {
        for (cause, told) in all.iter().zip(speaks(&evidence, &all)) {
            let one = |it: &Speaks| format!(" {:?} {:.3} {}", it.item, it.ln_odds, it.strength());
            writeln!(text, "{cause:?}:{}", told.iter().map(one).collect::<String>()).unwrap();
        }
    }
    golden::holds("tests/diagnosis/grid/speaks.txt", &text);
}

/// The course of the precharge, in a letter: steady, losing, losing faster, rising, unclear.
fn letter(stretches: &[[f64; 3]]) -> char {
    let stretches: Vec<Stretch> =
        stretches.iter().map(|[lost, u, days]| Stretch { lost: *lost, u: *u, days: *days }).collect();
    match course(&stretches) {
        Some(AirCourse::Steady) => 's',
        Some(AirCourse::Losing) => 'L',
        Some(AirCourse::LosingFaster) => 'F',
        Some(AirCourse::Rising) => 'R',
        Some(AirCourse::Unclear) => '?',
        None => '-',
    }
}

/// From 4 psi won to 14 psi lost, each half a psi, after visits a time apart that lost so much each.
#[test]
fn the_course_of_the_precharge_changes_where_it_did() {
    let mut text = String::new();
    let befores: [&[f64]; 6] = [&[], &[0.0], &[1.0, 3.0], &[3.0, 3.0], &[5.0, 4.0], &[0.0, 1.0, 5.0]];
    for before in befores {
        for [u, days, newest_days] in
            [[1.0, 365.0, 365.0], [1.0, 365.0, 200.0], [0.4, 150.0, 900.0], [2.0, 730.0, 365.0]]
        {
            let line: String = (-8..28)
                .map(|half| {
                    let last = [0.5 * f64::from(half), 0.7 * u, newest_days];
                    let all: Vec<[f64; 3]> =
                        before.iter().map(|lost| [*lost, u, days]).chain([last]).collect();
                    letter(&all)
                })
                .collect();
            writeln!(text, "{before:?} ±{u} in {days} and {newest_days} days: {line}").unwrap();
        }
    }
    golden::holds("tests/diagnosis/grid/course.txt", &text);
}
