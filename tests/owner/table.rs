//! The confusion table: truth against last word, over many owners; and how far it falls where installations
//! are otherwise than the diagnosis takes them to be.

use std::collections::BTreeMap;
use std::fmt::Write as _;

use tankhand::owner::{Defect, Household};
use tankhand::record::Grade;

use crate::confusion::{Law, PLAIN, Word, claims, played, wrongs};
use crate::golden::in_project;
use crate::named::{Named, best_test};
use crate::played::{everyday, names};

/// Everyday mistakes.
const EVERYDAY: Law = Law { mistakes: everyday, otherwise: |_| {} };
/// Laws that are otherwise than the diagnosis takes them to be.
const WRONG_LAWS: [(&str, Law); 4] = [
    ("gauges 1.7 times as far off", Law { otherwise: |home| worse_gauges(home, 1.7), ..PLAIN }),
    ("gauges 2.5 times as far off", Law { otherwise: |home| worse_gauges(home, 2.5), ..PLAIN }),
    ("pumps 1.6 times slower", Law { otherwise: |home| home.site.pump.free_flow /= 1.6, ..PLAIN }),
    (
        "a place 1,500 m up that nobody told",
        Law { otherwise: |home| home.site.elevation += 1_500.0, ..PLAIN },
    ),
];

fn worse_gauges(home: &mut Household, times: f64) {
    let all = &mut home.instruments;
    for gauge in [&mut all.line, &mut all.second, &mut all.air] {
        gauge.bias *= times;
    }
    all.bucket.gain = 1.0 + times * (all.bucket.gain - 1.0);
}

/// Faults that a procedure claims to test for, and sound installations.
fn is_played(procedure: &str, faults: &str) -> bool {
    faults == "none" || claims(procedure, faults)
}

fn share(part: usize, whole: usize) -> String {
    format!("{:.1} %", 100.0 * share_of(part, whole))
}

/// One line on a set of runs.
fn summed(who: &str, words: &[Word]) -> String {
    let count = |which: &dyn Fn(&Word) -> bool| words.iter().filter(|word| which(word)).count();
    let sound = count(&|word| word.case.1 == "none");
    let good = count(&|word| word.case.1 == "none" && matches!(word.grade, Ok(Some(Grade::Good))));
    let faults = words.len() - sound;
    let judged = count(&|word| word.case.1 == "none" && word.diagnosed.is_some());
    let accepted = count(&|word| word.case.1 == "none" && word.accepted);
    let (truth, named) = truly_named(words.iter());
    let all = words.iter().filter_map(|word| word.diagnosed.as_ref());
    let (sure, wrong) = all.fold((0, 0), |(sure, wrong), it| (sure + it.sure, wrong + it.wrong.len()));
    format!(
        "# {who}: {} runs; good words on a claimed fault {} of {faults} ({}); causes called sure that were not {wrong} of \
         {sure} ({}); the cause among those named {} of {} diagnosed; sound ones called good {} of {sound}, accepted {accepted} of {judged} diagnosed; hurt {}; no end \
         {}; contradictions {}\n",
        words.len(),
        count(&Word::is_dangerous),
        share(count(&Word::is_dangerous), faults),
        share(wrong, sure),
        share(truth, named),
        named,
        share(good, sound),
        count(&|word| !word.dangers.is_empty()),
        count(&|word| word.grade.is_err()),
        count(&|word| !word.contradictions.is_empty()),
    )
}

/// In how many runs the cause was among those named, and how many were diagnosed.
fn truly_named<'w>(words: impl Iterator<Item = &'w Word>) -> (usize, usize) {
    let told: Vec<bool> = words.filter_map(|word| word.diagnosed.as_ref()?.truth).collect();
    (told.iter().filter(|truth| **truth).count(), told.len())
}

/// Which causes were called sure that were not so, at which faults.
fn wrongly_sure(words: &[Word]) -> String {
    let all = words.iter().filter_map(|word| Some((word, word.diagnosed.as_ref()?)));
    let pairs =
        all.flat_map(|(word, named)| named.wrong.iter().map(|wrong| format!("{wrong} at {}", word.case.1)));
    format!("#   sure and not so: {}\n", counted(pairs))
}

/// Every good word on a claimed fault, with the test that would have told.
fn dangerous(words: &[Word]) -> String {
    let all = wrongs();
    let told = |word: &Word| {
        let faults: &Vec<&'static Defect> = all.iter().find(|faults| names(faults) == word.case.1)?;
        Some(format!(
            "#   {} at {}, owner {}: {}\n",
            word.case.0,
            word.case.1,
            word.case.2,
            best_test(faults)
        ))
    };
    words.iter().filter(|word| word.is_dangerous()).filter_map(told).collect()
}

/// Below that share of owners a fault counts as not told from what was named in its place.
const DISTINCT: f64 = 0.95;

/// Faults that a procedure does not tell from others by what it reads, what was named in their place, and the test
/// that tells most of them.
fn indistinct(words: &[Word]) -> String {
    let mut rows: BTreeMap<(&str, &str), Vec<&Named>> = BTreeMap::new();
    for word in words {
        let named = word.diagnosed.as_ref().filter(|named| named.truth.is_some());
        rows.entry((&word.case.1, &word.case.0)).or_default().extend(named);
    }
    let mut text = String::new();
    for ((fault, procedure), all) in &rows {
        let missed: Vec<&&Named> = all.iter().filter(|named| named.truth == Some(false)).collect();
        if share_of(missed.len(), all.len()) <= 1.0 - DISTINCT {
            continue;
        }
        let causes = missed.iter().flat_map(|named| named.causes.iter().map(ToString::to_string));
        let tells = wrongs().iter().find(|faults| names(faults) == *fault).map(|faults| best_test(faults));
        writeln!(
            text,
            "#   {fault} in {procedure}: not named in {} of {}; in its place {}; tells: {}",
            missed.len(),
            all.len(),
            counted(causes),
            tells.unwrap_or_default()
        )
        .unwrap();
    }
    text
}

fn share_of(part: usize, whole: usize) -> f64 {
    part as f64 / whole.max(1) as f64
}

/// How many owners of each procedure and fault were told what: a table a procedure, a line a fault.
fn table(who: &str, words: &[Word]) -> String {
    let mut rows: BTreeMap<(&str, &str), Vec<&Word>> = BTreeMap::new();
    for word in words {
        rows.entry((&word.case.0, &word.case.1)).or_default().push(word);
    }
    let (mut text, mut last) = (String::new(), "");
    for ((procedure, fault), of) in rows {
        if procedure != last {
            writeln!(text, "\n[{who}.{procedure}]").unwrap();
            last = procedure;
        }
        let told = counted(of.iter().map(|word| word.grade_word().to_string()));
        let found = counted(of.iter().flat_map(|word| word.found.clone()));
        let dangerous = of.iter().filter(|word| word.is_dangerous()).count();
        let (named, diagnosed) = truly_named(of.iter().copied());
        let accepted = of.iter().filter(|word| word.accepted).count();
        writeln!(
            text,
            "'{fault}' = {{ dangerous = {dangerous}, accepted = {accepted}, named = {named}, diagnosed = {diagnosed}, told = {told}, found = {found} }}"
        )
        .unwrap();
    }
    text
}

/// How often each name comes, as an inline table.
fn counted(names: impl Iterator<Item = String>) -> String {
    let mut counts: BTreeMap<String, usize> = BTreeMap::new();
    names.for_each(|name| *counts.entry(name).or_default() += 1);
    let pairs: Vec<String> = counts.iter().map(|(name, n)| format!("'{name}' = {n}")).collect();
    format!("{{ {} }}", pairs.join(", "))
}

#[test]
#[ignore = "writes tests/owner/confusion.toml: TANKHAND_OWNERS (200) owners of every fault that a procedure claims"]
fn confusion_table() {
    let owners = std::env::var("TANKHAND_OWNERS").map_or(200, |owners| owners.parse().unwrap());
    let mut head = format!(
        "# What {owners} simulated owners without mistakes, and {} with everyday ones, were told at each fault that a procedure\n\
         # claims to test for, and at pairs of faults. Made by\n\
         #     cargo test --locked --test owner confusion_table -- --ignored\n\
         # `told` counts the grades of last words, `found` the names of what weighed worst. A good word is dangerous where\n\
         # the fault was left. `named` are those of the `diagnosed` in which every claimed fault was among the causes named, at\n\
         # most three of them not sure. Named is what a diagnosis calls sure or likeliest, or what a stop says that ended the run;\n\
         # a precharge is right or off by the cut-in as it is, not as its label says: it is above the watched cut-in where that\n\
         # has drifted down, and so named. `accepted` are those whose newest diagnosis was good, or said to accept the tank for\n\
         # now.\n\n",
        owners / 2
    );
    let mut tables = String::new();
    for (who, law, owners) in
        [("without_mistakes", PLAIN, owners), ("with_everyday_mistakes", EVERYDAY, owners / 2)]
    {
        let words = played(&wrongs(), 100..100 + owners, law, is_played);
        head += &summed(who, &words);
        head += &dangerous(&words);
        head += &wrongly_sure(&words);
        head += "#   Not told from others by what is read there:\n";
        head += &indistinct(&words);
        tables += &table(who, &words);
    }
    head += "#\n# Where installations are otherwise than the diagnosis takes them to be:\n";
    for (who, law) in WRONG_LAWS {
        head += &summed(who, &played(&wrongs(), 100..100 + (owners / 20).max(5), law, is_played));
    }
    std::fs::write(in_project("tests/owner/confusion.toml"), head + &tables).unwrap();
}
