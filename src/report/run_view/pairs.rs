//! What was found and what was left: which answers observe the same thing at the same tank.

use super::RunView;
use super::telling::PhaseRow;
use crate::record::Phase;
use crate::report::Row;

/// Rows that have no other half, and whether others have.
pub(in crate::report) struct Unpaired {
    /// Whether something was found and looked at again.
    pub beside_pairs: bool,
    /// What was found and not looked at again.
    pub found: Vec<Row>,
    /// What was only looked at in the end.
    pub left: Vec<Row>,
}

impl RunView<'_> {
    /// What was found or left without the other, by what it is of and the tank it is about. Of several
    /// answers about one thing that was worked out stands for it, else the last.
    pub(in crate::report) fn unpaired(&self) -> Unpaired {
        unpaired(self.phase_rows(Phase::Found), self.phase_rows(Phase::Left))
    }
}

fn unpaired(found: Vec<PhaseRow>, left: Vec<PhaseRow>) -> Unpaired {
    let stands = |(at, one): (usize, &PhaseRow)| {
        let half = standing(&left, one).filter(|_| standing(&found, one) == Some(at))?;
        Some((at, half))
    };
    let halves: Vec<(usize, usize)> = found.iter().enumerate().filter_map(stands).collect();
    let rest = |rows: Vec<PhaseRow>, paired: fn(&(usize, usize)) -> usize| {
        let single = |(at, shown): (usize, PhaseRow)| {
            (!halves.iter().any(|pair| paired(pair) == at)).then_some(shown.row)
        };
        rows.into_iter().enumerate().filter_map(single).collect()
    };
    let beside_pairs = !halves.is_empty();
    Unpaired { beside_pairs, found: rest(found, |(at, _)| *at), left: rest(left, |(_, half)| *half) }
}

/// Which of several answers stands for what `one` is of.
fn standing(rows: &[PhaseRow], one: &PhaseRow) -> Option<usize> {
    let observable = one.observable.filter(|observable| observable.lasting)?;
    let same = |other: &PhaseRow| other.observable == Some(observable) && other.tank == one.tank;
    let last = |computed: bool| rows.iter().rposition(|other| other.computed == computed && same(other));
    last(true).or_else(|| last(false))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::procedure::observable;

    fn phase_row(name: &str, tank: Option<&str>, computed: bool, value: &str) -> PhaseRow {
        let row = Row::new([format!("{name} of mine"), value.to_string()]);
        PhaseRow { observable: observable(name), computed, tank: tank.map(ToString::to_string), row }
    }

    #[test]
    fn what_observes_the_same_thing_of_the_same_tank_pairs_up() {
        let found = vec![
            phase_row("precharge", None, true, "27"),
            phase_row("precharge", None, false, "27, 28"),
            phase_row("cut_in", None, false, "38"),
            phase_row("cut_in", None, false, "37"),
            phase_row("drawdown", Some("a"), false, "5"),
            phase_row("drawdown", Some("b"), false, "6"),
            phase_row("length", None, false, "1"),
            phase_row("my own", None, false, "1"),
        ];
        let left = vec![
            phase_row("precharge", None, false, "38, 38"),
            phase_row("precharge", None, true, "38"),
            phase_row("cut_in", None, false, "39"),
            phase_row("drawdown", Some("b"), false, "7"),
            phase_row("length", None, false, "2"),
            phase_row("my own", None, false, "2"),
        ];
        let alone = unpaired(found, left);
        let lines = |rows: &[Row]| rows.iter().map(|row| row.cells.join(": ")).collect::<Vec<_>>();
        assert!(alone.beside_pairs);
        assert_eq!(
            lines(&alone.found),
            [
                "precharge of mine: 27, 28",
                "cut_in of mine: 38",
                "drawdown of mine: 5",
                "length of mine: 1",
                "my own of mine: 1"
            ]
        );
        assert_eq!(
            lines(&alone.left),
            ["precharge of mine: 38, 38", "length of mine: 2", "my own of mine: 2"]
        );
    }
}
