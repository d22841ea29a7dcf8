//! Where labels go so that none lies on another.

/// A label that wants to stand at a place and takes up some room around it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Wish {
    /// The middle it would like.
    pub at: f64,
    /// Half the room it takes.
    pub half: f64,
}

/// The middles the labels get, in their order: as near to their wishes as can be, none on
/// another, within `low` and `high` when the room suffices.
pub(super) fn apart(wishes: &[Wish], (low, high): (f64, f64)) -> Vec<f64> {
    let mut order: Vec<usize> = (0..wishes.len()).collect();
    order.sort_by(|a, b| wishes[*a].at.total_cmp(&wishes[*b].at));
    let mut middles: Vec<f64> = wishes.iter().map(|wish| wish.at).collect();
    // Down from the first, each at least below the one before it ...
    let mut edge = low;
    for at in order.iter().copied() {
        middles[at] = middles[at].max(edge + wishes[at].half);
        edge = middles[at] + wishes[at].half;
    }
    // ... then up from the last, where that has pushed them past the end.
    let mut edge = high.max(low + wishes.iter().map(|wish| 2.0 * wish.half).sum::<f64>());
    for at in order.iter().rev().copied() {
        middles[at] = middles[at].min(edge - wishes[at].half);
        edge = middles[at] - wishes[at].half;
    }
    middles
}

/// A row for each label, from 0, so that no two in one row lie on each other.
pub(super) fn rows(wishes: &[Wish]) -> Vec<usize> {
    let mut order: Vec<usize> = (0..wishes.len()).collect();
    order.sort_by(|a, b| wishes[*a].at.total_cmp(&wishes[*b].at));
    let mut ends: Vec<f64> = Vec::new();
    let mut rows = vec![0; wishes.len()];
    for at in order {
        let Wish { at: middle, half } = wishes[at];
        let row = ends.iter().position(|end| *end <= middle - half).unwrap_or(ends.len());
        if row == ends.len() {
            ends.push(0.0);
        }
        ends[row] = middle + half;
        rows[at] = row;
    }
    rows
}

/// A text in lines of at most about `longest` characters, broken at spaces.
pub(super) fn broken(text: &str, longest: usize) -> Vec<String> {
    crate::words::wrap(&crate::words::harmless(&text.replace(['\n', '\t'], " ")), longest, 0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn wishes() -> impl Strategy<Value = Vec<Wish>> {
        let wish = (0.0f64..300.0, 5.0f64..25.0).prop_map(|(at, half)| Wish { at, half });
        proptest::collection::vec(wish, 0..6)
    }

    proptest! {
        #[test]
        fn no_label_lies_on_another(wishes in wishes()) {
            let middles = apart(&wishes, (0.0, 300.0));
            for a in 0..wishes.len() {
                for b in 0..a {
                    let room = wishes[a].half + wishes[b].half;
                    prop_assert!((middles[a] - middles[b]).abs() >= room - 1e-6, "{middles:?}");
                }
                prop_assert!(middles[a] - wishes[a].half >= -1e-6 && middles[a] + wishes[a].half <= 300.0 + 1e-6);
            }
        }

        #[test]
        fn labels_in_one_row_do_not_meet(wishes in wishes()) {
            let rows = rows(&wishes);
            for a in 0..wishes.len() {
                for b in 0..a {
                    let apart = (wishes[a].at - wishes[b].at).abs() >= wishes[a].half + wishes[b].half - 1e-9;
                    prop_assert!(rows[a] != rows[b] || apart);
                }
            }
        }
    }

    #[test]
    fn labels_with_room_stay_where_they_wish() {
        let wish = |at| Wish { at, half: 7.0 };
        assert_eq!(apart(&[wish(100.0), wish(50.0)], (0.0, 200.0)), [100.0, 50.0]);
        assert_eq!(rows(&[wish(100.0), wish(50.0), wish(52.0)]), [0, 0, 1]);
    }
}
