//! What the menu offers, by what a person sees or wants; which of it a text means; how it is laid out.

use crate::words::{all_begin, wrap};

/// What an item does.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum MenuAction {
    /// Goes on with the run of this place among those that wait.
    GoOn(usize),
    /// Begins this procedure.
    Begin(String),
    /// Lists the records.
    Records,
    /// Shows the plan of the installation as it stands.
    Plan,
    /// Performs a procedure at a simulated installation.
    Practice,
    /// Shows the installation.
    Installation,
    /// Leaves.
    Leave,
}

/// One line of the menu.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct MenuItem {
    /// What is shown.
    pub words: String,
    /// What else it is found by.
    pub also: String,
    /// Lines below the first.
    pub below: Vec<String>,
    pub action: MenuAction,
}

impl MenuItem {
    pub(super) fn new(words: &str, also: &str, action: MenuAction) -> MenuItem {
        MenuItem { words: words.to_string(), also: also.to_string(), below: Vec::new(), action }
    }
}

/// Items under a heading.
pub(super) struct MenuGroup {
    pub heading: &'static str,
    pub items: Vec<MenuItem>,
    pub shape: MenuShape,
}

/// How the items of a group stand.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum MenuShape {
    /// Each with its lines below it.
    Lines,
    /// In two columns where there is room.
    Columns,
    /// All in one line where there is room.
    OneLine,
}

/// Situations, each with the procedure that fits and the words it is found by beside its own.
pub(super) const SEEN: &[(&str, &str, &str)] = &[
    ("something is wrong: find out", "trouble", "never stops fades surges air relief valve black"),
    ("water is gritty, cloudy or rusty", "flush", "sediment dirty sand"),
    ("pump starts too often", "short-cycling", "bangs clicks waterlogged"),
    ("pump starts, but no water runs", "leak", "toilet check valve night"),
    ("water comes out at the air valve", "failed-tank", "bladder failed torn"),
    ("a jet pump lost its water", "prime", "fill foot"),
    ("a year since the last check", "yearly", "inspect"),
    ("flood, repair or bad water test", "disinfect", "smell chlorine bleach"),
];

/// Work that a person sets out to do.
pub(super) const GOALS: &[(&str, &str, &str)] = &[
    ("check and set the precharge", "precharge", "air charge"),
    ("let air into a plain tank", "plain-tank", "galvanized steel waterlogged"),
    ("connect a new tank", "new-tank", "replace not yet connected"),
    ("put in the first tank of all", "first-tank", "new well first installation permit"),
    ("try a used tank", "used-tank", "second hand not yet connected"),
    ("add a tank to those there", "add-tank", "further second"),
    ("record a finished installation", "commission", "hand over"),
    ("change cut-in and cut-out", "set-switch", "pressure more less"),
    ("shut down before the frost", "lay-up", "winter drain"),
    ("open again after the winter", "re-open", "spring"),
];

/// What a typed text means among the items.
#[derive(Debug, PartialEq, Eq)]
pub(super) enum MenuMeaning {
    /// The item of this place, by its number.
    Number(usize),
    /// The item of this place, by its words.
    Words(usize),
    /// Several.
    Several(Vec<usize>),
    /// None.
    Nothing,
}

/// Which item a text means: its number, its procedure's name or its own words, or words that begin words of one item only.
pub(super) fn meaning(typed: &str, items: &[&MenuItem]) -> MenuMeaning {
    let typed = typed.trim();
    if let Ok(number) = typed.parse::<usize>() {
        return match number.checked_sub(1).filter(|at| *at < items.len()) {
            Some(at) => MenuMeaning::Number(at),
            None => MenuMeaning::Nothing,
        };
    }
    let named =
        |item: &MenuItem| matches!(&item.action, MenuAction::Begin(name) if *name == typed.to_lowercase());
    let places = |fits: &dyn Fn(&MenuItem) -> bool| -> Vec<usize> {
        items.iter().enumerate().filter(|(_, item)| fits(item)).map(|(at, _)| at).collect()
    };
    let found = [places(&named), places(&|item| all_begin(typed, &format!("{} {}", item.words, item.also)))];
    match found.iter().find(|found| !found.is_empty()).map(Vec::as_slice) {
        None => MenuMeaning::Nothing,
        Some([one]) => MenuMeaning::Words(*one),
        Some(several) => MenuMeaning::Several(several.to_vec()),
    }
}

/// From this width on, two columns.
pub(super) const TWO_COLUMNS_FROM: usize = 76;
/// The width of the first of them.
const COLUMN: usize = 40;

/// The menu as lines.
pub(super) fn lay_out(groups: &[MenuGroup], width: usize) -> Vec<String> {
    let (mut lines, mut number) = (Vec::new(), 0);
    for group in groups.iter().filter(|group| !group.items.is_empty()) {
        if !group.heading.is_empty() {
            lines.extend(wrap(group.heading, width, 0));
        }
        let gap = if group.shape == MenuShape::OneLine { " " } else { "  " };
        let numbered: Vec<String> = group
            .items
            .iter()
            .map(|item| {
                number += 1;
                format!("{number:>3}{gap}{}", item.words)
            })
            .collect();
        let in_a_row = numbered.join(" ");
        match group.shape {
            MenuShape::OneLine if in_a_row.len() <= width => lines.push(in_a_row),
            MenuShape::Columns if width >= TWO_COLUMNS_FROM => {
                let half = numbered.len().div_ceil(2);
                lines.extend((0..half).map(|at| match numbered.get(at + half) {
                    Some(right) => format!("{:COLUMN$}{right}", numbered[at]),
                    None => numbered[at].clone(),
                }));
            }
            MenuShape::Lines | MenuShape::Columns | MenuShape::OneLine => {
                for (line, item) in numbered.into_iter().zip(&group.items) {
                    lines.push(line);
                    lines.extend(item.below.iter().flat_map(|below| wrap(below, width, 5)));
                }
            }
        }
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;
    use MenuMeaning::{Nothing, Number, Several, Words};

    /// Numbers, names, beginnings of words; what fits two is never begun.
    #[test]
    fn one_item_is_meant_or_none_is_begun() {
        let all: Vec<MenuItem> = SEEN
            .iter()
            .chain(GOALS)
            .map(|(words, name, also)| MenuItem::new(words, also, MenuAction::Begin(name.to_string())))
            .collect();
        let all: Vec<&MenuItem> = all.iter().collect();
        for (typed, expected) in [
            ("2", Number(1)),
            ("0", Nothing),
            ("99", Nothing),
            ("flush", Words(1)),
            ("Flush", Words(1)),
            ("pump", Several(vec![2, 3, 5])),
            ("grit", Words(1)),
            ("year", Words(6)),
            ("tank", Several(vec![9, 10, 11, 12, 13])),
            ("tank new", Several(vec![10, 11])),
            ("new connect", Words(10)),
            ("winter", Several(vec![16, 17])),
            ("after winter", Words(17)),
            ("art", Nothing),
            ("", Nothing),
        ] {
            assert_eq!(meaning(typed, &all), expected, "{typed}");
        }
    }
}
