//! What was found beside what was left: answers to the same thing, paired by their labels.

use super::RunView;
use crate::record::Phase;
use crate::report::Row;

/// Rows that tell of the same thing before and after, and those that have no other half.
pub(in crate::report) struct Pairs {
    /// What it is, as found, as left.
    pub both: Vec<Row>,
    /// What was found and not looked at again.
    pub found: Vec<Row>,
    /// What was only looked at in the end.
    pub left: Vec<Row>,
}

impl RunView<'_> {
    /// What was found paired with what was left: those of the same label, then those whose labels
    /// are the same up to the first comma (`cut-out, as found` and `cut-out`).
    pub(in crate::report) fn pairs(&self) -> Pairs {
        pair(self.telling_briefly(Phase::Found), self.telling_briefly(Phase::Left))
    }
}

fn pair(found: Vec<Row>, left: Vec<Row>) -> Pairs {
    let mut left: Vec<Option<Row>> = left.into_iter().map(Some).collect();
    let mut halves: Vec<Option<Row>> = found.iter().map(|_| None).collect();
    let sames: [fn(&Row, &Row) -> bool; 2] =
        [|a, b| a.cells[0] == b.cells[0], |a, b| head(&a.cells[0]) == head(&b.cells[0])];
    for same in sames {
        for (row, half) in found.iter().zip(&mut halves).filter(|(_, half)| half.is_none()) {
            let fits = |other: &&mut Option<Row>| other.as_ref().is_some_and(|other| same(row, other));
            *half = left.iter_mut().find(fits).and_then(Option::take);
        }
    }
    let mut pairs = Pairs { both: Vec::new(), found: Vec::new(), left: left.into_iter().flatten().collect() };
    for (row, half) in found.into_iter().zip(halves) {
        let [label, before] = [&row.cells[0], &row.cells[1]];
        match half {
            Some(half) => {
                let label = if *label == half.cells[0] { label.clone() } else { head(label) };
                pairs.both.push(Row::new([label, before.clone(), half.cells[1].clone()]));
            }
            None => pairs.found.push(row),
        }
    }
    pairs
}

/// A label up to its first comma, with the tank it is about.
fn head(label: &str) -> String {
    let (label, tank) = match label.rsplit_once(", tank ") {
        Some((label, tank)) => (label, Some(tank)),
        None => (label, None),
    };
    let head = label.split(", ").next().unwrap_or(label);
    tank.map_or_else(|| head.to_string(), |tank| format!("{head}, tank {tank}"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn labels_pair_up() {
        let rows = |labels: &[&str]| labels.iter().map(|label| Row::new([*label, "1"])).collect();
        let pairs = pair(
            rows(&[
                "air charge, three readings",
                "air charge",
                "cut-out, as found",
                "needle",
                "flow, tank 1",
            ]),
            rows(&["air charge", "cut-out", "flow, at the tap, tank 1", "flow, tank 2"]),
        );
        let labels = |rows: &[Row]| rows.iter().map(|row| row.cells[0].clone()).collect::<Vec<_>>();
        assert_eq!(labels(&pairs.both), ["air charge", "cut-out", "flow, tank 1"]);
        assert_eq!(labels(&pairs.found), ["air charge, three readings", "needle"]);
        assert_eq!(labels(&pairs.left), ["flow, tank 2"]);
    }
}
