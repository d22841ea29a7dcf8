//! Answers that are words: how likely each is under each cause.
//!
//! Every figure is a judgement. An answer in words never decides alone: each table leaves room for a
//! person who looked at the wrong thing.

use super::cause::CauseId::{self, *};
use super::cause::Group;
use super::items::Item;

/// How likely each answer to one question is.
#[derive(Debug)]
pub(super) struct WordTable {
    /// What is asked.
    pub item: Item,
    /// The answers, each with the words that mean it.
    pub answers: &'static [&'static [&'static str]],
    /// The group whose causes it tells apart.
    pub group: Group,
    /// How likely each answer is under a cause that has no row.
    pub usual: &'static [f64],
    /// How likely under the others.
    pub rows: &'static [(CauseId, &'static [f64])],
}

/// The answers of which the tank and the switch each may be the reason, as noisy-or.
#[derive(Debug)]
pub(super) struct EitherTable {
    /// What is asked.
    pub item: Item,
    /// The answers: as usual, the sign, cannot tell.
    pub answers: &'static [&'static [&'static str]],
    /// How likely the sign is with nothing wrong.
    pub usual: f64,
    /// How likely a cause brings it about.
    pub rows: &'static [(CauseId, f64)],
    /// How likely it is that nobody can tell.
    pub silent: f64,
}

/// Words about one group.
pub(super) static TABLES: &[WordTable] = &[
    WordTable {
        item: Item::Pin,
        answers: &[&["air"], &["nothing"], &["water"]],
        group: Group::Tank,
        usual: &[0.964, 0.018, 0.018],
        rows: &[
            (Low, &[0.954, 0.033, 0.013]),
            (Waterlogged, &[0.251, 0.716, 0.033]),
            (Torn, &[0.152, 0.201, 0.647]),
            (Trapped, &[0.677, 0.072, 0.251]),
        ],
    },
    WordTable {
        item: Item::AddedAir,
        answers: &[&["stays"], &["leaves"], &["water"]],
        group: Group::Tank,
        usual: &[0.93, 0.06, 0.01],
        rows: &[(Torn, &[0.10, 0.60, 0.30]), (AirLeak, &[0.70, 0.29, 0.01]), (Trapped, &[0.70, 0.10, 0.20])],
    },
    WordTable {
        item: Item::Sound,
        answers: &[&["hollow"], &["dull"], &["unsure", "unknown"]],
        group: Group::Tank,
        usual: &[0.80, 0.08, 0.12],
        rows: &[
            (Torn, &[0.15, 0.65, 0.20]),
            (Trapped, &[0.25, 0.60, 0.15]),
            (Waterlogged, &[0.75, 0.12, 0.13]),
            (Shut, &[0.40, 0.40, 0.20]),
        ],
    },
    WordTable {
        item: Item::Climbs,
        answers: &[&["stays"], &["climbs"], &["falls"]],
        group: Group::Tank,
        usual: &[0.80, 0.06, 0.14],
        rows: &[(Blocked, &[0.12, 0.82, 0.06]), (Stuck, &[0.76, 0.10, 0.14])],
    },
    WordTable {
        item: Item::Soap,
        answers: &[&["none", "no"], &["valve", "shell", "yes"], &["port"]],
        group: Group::Tank,
        usual: &[0.96, 0.03, 0.01],
        rows: &[(AirLeak, &[0.19, 0.80, 0.01]), (Torn, &[0.57, 0.03, 0.40])],
    },
    WordTable {
        item: Item::Handle,
        answers: &[&["open"], &["shut"], &["none"]],
        group: Group::Tank,
        usual: &[0.49, 0.02, 0.49],
        rows: &[(Shut, &[0.05, 0.93, 0.02])],
    },
    WordTable {
        item: Item::OtherTanks,
        answers: &[&["no", "none"], &["yes"]],
        group: Group::Tank,
        usual: &[0.77, 0.23],
        rows: &[(Hidden, &[0.02, 0.98])],
    },
    WordTable {
        item: Item::Order,
        answers: &[&["right"], &["between"], &["unknown", "unsure"]],
        group: Group::Switch,
        usual: &[0.86, 0.04, 0.10],
        rows: &[(Apart, &[0.09, 0.81, 0.10])],
    },
    WordTable {
        item: Item::Alone,
        answers: &[&["use"], &["alone"], &["unknown", "unsure"]],
        group: Group::Leaks,
        usual: &[0.816, 0.034, 0.15],
        rows: &[
            (House, &[0.128, 0.722, 0.15]),
            (CheckValve, &[0.128, 0.722, 0.15]),
            (Weeping, &[0.128, 0.722, 0.15]),
        ],
    },
    WordTable {
        item: Item::Look,
        answers: &[&["drips"], &["trickles"], &["neither"]],
        group: Group::Leaks,
        usual: &[0.03, 0.01, 0.96],
        rows: &[(CheckValve, &[0.05, 0.60, 0.35]), (Weeping, &[0.80, 0.02, 0.18])],
    },
];

/// Words of which tank and switch each may be the reason.
pub(super) static EITHER: &[EitherTable] = &[
    EitherTable {
        item: Item::Needle,
        answers: &[&["evenly"], &["dropped"], &["unsure", "unknown"]],
        usual: 0.04,
        rows: &[
            (Low, 0.08),
            (High, 0.85),
            (Waterlogged, 0.6),
            (Torn, 0.5),
            (Stuck, 0.5),
            (Blocked, 0.6),
            (Shut, 0.95),
            (Hidden, 0.1),
            (Plate, 0.06),
            (Trapped, 0.2),
            (AirLeak, 0.1),
            (Apart, 0.5),
            (Nipple, 0.2),
            (Narrow, 0.15),
        ],
        silent: 0.05,
    },
    EitherTable {
        item: Item::SwitchSound,
        answers: &[&["once"], &["chatter"], &["unheard", "unsure", "unknown"]],
        usual: 0.02,
        rows: &[
            (Waterlogged, 0.3),
            (Torn, 0.25),
            (Blocked, 0.4),
            (Shut, 0.6),
            (High, 0.12),
            (Stuck, 0.2),
            (Nipple, 0.45),
            (Apart, 0.6),
            (Narrow, 0.1),
        ],
        silent: 0.15,
    },
];

impl WordTable {
    /// How likely an answer is under a cause.
    pub(super) fn likelihood(&self, cause: CauseId, answer: usize) -> f64 {
        let row = self.rows.iter().find(|(known, _)| *known == cause);
        row.map_or(self.usual, |(_, row)| row)[answer]
    }
}

impl EitherTable {
    /// How likely an answer is under a cause of the tank and one of the switch.
    pub(super) fn likelihood(&self, [tank, switch]: [CauseId; 2], answer: usize) -> f64 {
        let brings = |cause| self.rows.iter().find(|(known, _)| *known == cause).map_or(0.0, |(_, p)| *p);
        let usual = if switch.is_healthy() && brings(tank) > 0.0 { 0.0 } else { self.usual };
        let sign = 1.0 - (1.0 - usual) * (1.0 - brings(tank)) * (1.0 - brings(switch));
        match answer {
            0 => (1.0 - self.silent) * (1.0 - sign),
            1 => (1.0 - self.silent) * sign,
            _ => self.silent,
        }
    }
}

/// How many answers there are to what is asked in words; none where it is a number.
pub(super) fn answers_to(item: Item) -> Option<usize> {
    let of_one = TABLES.iter().find(|table| table.item == item).map(|table| table.answers.len());
    // That nobody can tell is no answer.
    of_one.or_else(|| EITHER.iter().find(|table| table.item == item).map(|table| table.answers.len() - 1))
}

/// The answer that a word means, where it is one about that item.
pub(super) fn answer(item: Item, word: &str) -> Option<usize> {
    let tables = TABLES.iter().map(|table| (table.item, table.answers));
    let either = EITHER.iter().map(|table| (table.item, table.answers));
    let (_, answers) = tables.chain(either).find(|(known, _)| *known == item)?;
    answers.iter().position(|words| words.contains(&word))
}

/// Whether a word is an answer about an item.
pub fn is_answer(item: Item, word: &str) -> bool {
    answer(item, word).is_some()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_row_is_of_its_group_and_whole() {
        for table in TABLES {
            let rows = table.rows.iter().map(|(_, row)| *row).chain([table.usual]);
            for row in rows {
                assert_eq!(row.len(), table.answers.len(), "{}", table.item);
                assert!((row.iter().sum::<f64>() - 1.0).abs() < 1e-9, "{}: {row:?}", table.item);
            }
            assert!(table.rows.iter().all(|(cause, _)| cause.cause().group == table.group), "{}", table.item);
        }
        for table in EITHER {
            let all = [TankRight, SwitchRight];
            let whole: f64 = (0..3).map(|answer| table.likelihood(all, answer)).sum();
            assert!((whole - 1.0).abs() < 1e-9, "{}: {whole}", table.item);
        }
    }

    #[test]
    fn words_mean_what_they_say_and_others_mean_nothing() {
        let table = [
            (Item::Pin, "water", Some(2)),
            (Item::Soap, "shell", Some(1)),
            (Item::Needle, "dropped", Some(1)),
            (Item::Look, "alone", None),
            (Item::Starts, "air", None),
        ];
        for (item, word, expected) in table {
            assert_eq!(answer(item, word), expected, "{item} {word}");
        }
    }
}
