//! A number is the same wherever it stands: on the finding sheet, in the twenty lines, in the appendix, on the tag.

use std::collections::BTreeMap;

use tankhand::app::ReportTo;

use crate::accounts::{card, performed, written};

/// Everything that is shown of a record, with where it stands.
fn shown(demo: &str) -> [(&'static str, String); 3] {
    let (_folder, record) = performed(demo);
    let report = |to| written(tankhand::app::report, &record, &to);
    [
        ("report", report(ReportTo::Text)),
        ("brief", report(ReportTo::Brief)),
        ("tag", written(card, &record, &ReportTo::Text)),
    ]
}

/// The rows of the numbers as found and left, by what they are of.
fn rows(text: &str) -> BTreeMap<String, Vec<String>> {
    let mut lines = text.lines().skip_while(|line| !line.contains("  Found  "));
    let head = lines.next().unwrap();
    let edges = ["Found", "Left", "Limit or target"].map(|word| head.find(word).unwrap());
    let cell = |line: &str, from: usize, to: usize| {
        line.chars().skip(from).take(to - from).collect::<String>().trim().to_string()
    };
    let row = |line: &str| {
        let ends = [edges[1], edges[2], usize::MAX];
        let cells = edges.iter().zip(ends).map(|(from, to)| cell(line, *from, to)).collect();
        (cell(line, 0, edges[0]), cells)
    };
    let is_row = |line: &&str| !line.is_empty() && !line.starts_with(' ') && !line.starts_with("Not tested");
    lines.skip_while(|line| line.starts_with('-')).take_while(is_row).map(row).collect()
}

/// The first number after each place where a phrase stands.
fn numbers_after(text: &str, phrase: &str) -> Vec<f64> {
    let first = |rest: &str| {
        let line = rest.lines().next()?;
        line.split([' ', ',']).find_map(|word| word.parse::<f64>().ok())
    };
    text.split(phrase).skip(1).filter_map(first).collect()
}

/// The number of a cell such as `32.5 ± 0.6`.
fn number(cell: &str) -> f64 {
    cell.split(' ').next().unwrap().parse().unwrap()
}

#[test]
fn a_number_is_the_same_everywhere() {
    // What each is of on the finding sheet, as found (0) or left (1), and the phrases that tell it elsewhere.
    let tells: &[(&str, usize, &[&str])] = &[
        ("Precharge", 1, &["\nprecharge   ", "precharge as left ", "a precharge of "]),
        ("Drawdown", 1, &["\ndrawdown, run time", "Tank works.", "\npass     drawdown as expected"]),
        ("Cut-in", 1, &["\ncut-in, cut-out"]),
    ];
    let mut compared = BTreeMap::new();
    for demo in ["gritty-tank", "mountain-hut", "larch-street"] {
        let shown = shown(demo);
        let [sheet, brief] = [&shown[0].1, &shown[1].1].map(|text| rows(text));
        for (what, cells) in &brief {
            assert_eq!(Some(cells), sheet.get(what), "{demo}: {what}");
        }
        for (what, column, phrases) in tells {
            let (_, cells) = sheet.iter().find(|(row, _)| row.starts_with(what)).unwrap();
            let right = number(&cells[*column]);
            for (place, text) in &shown {
                for phrase in *phrases {
                    for found in numbers_after(text, phrase) {
                        assert!(
                            (found - right).abs() < 1e-9,
                            "{demo}, {place}, {phrase:?}: {found}, not {right}"
                        );
                        *compared.entry(*phrase).or_insert(0) += 1;
                    }
                }
            }
        }
    }
    // A phrase that stands nowhere compares nothing.
    for phrase in tells.iter().flat_map(|(_, _, phrases)| *phrases) {
        assert!(compared.contains_key(phrase), "{phrase:?} stands nowhere");
    }
}

/// A number has as many decimals as its limits, wherever it stands.
#[test]
fn digits_are_those_of_the_limits() {
    let decimals = |text: &str| text.split_once('.').map_or(0, |(_, after)| after.len());
    for demo in ["gritty-tank", "mountain-hut", "two-tanks-spring"] {
        for (place, text) in shown(demo) {
            let bare = |word| str::trim_matches(word, ['(', ')', ',', '.', ';']);
            let words: Vec<&str> = text.split_whitespace().map(bare).collect();
            let with_limits =
                words.windows(3).filter(|three| three[1] == "±" && three[0].parse::<f64>().is_ok());
            for three in with_limits {
                assert_eq!(decimals(three[0]), decimals(three[2]), "{demo}, {place}: {three:?}");
            }
        }
    }
}
