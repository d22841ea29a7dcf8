//! A record without what tells whose it is: for a report that others may see.

use crate::record::{Contents, Entry, EntryKind};

/// What stands in place of what was left out.
const WITHHELD: &str = "(withheld)";

/// The same record without place, names, marks and what people wrote. The seals are of the whole record, so
/// nothing vouches for this one.
pub(super) fn without_identity(contents: &Contents) -> Contents {
    let mut shown = contents.clone();
    let header = &mut shown.header;
    let id = std::mem::replace(&mut header.id, WITHHELD.to_string());
    let mut names: Vec<String> =
        header.site.take().into_iter().chain(header.tank.take()).chain([id]).collect();
    // A text of the owner's may have been named by where it lay.
    header.texts.iter_mut().for_each(|text| text.name = text.name.rsplit(['/', '\\']).take(1).collect());
    names.extend(shown.entries.iter().filter(|entry| is_name(entry)).filter_map(|entry| entry.given.clone()));
    for (at, tank) in header.tanks.iter_mut().enumerate() {
        let number = (at + 1).to_string();
        shown.entries.iter_mut().filter(|entry| entry.tank.as_ref() == Some(tank)).for_each(|entry| {
            entry.tank = Some(number.clone());
        });
        names.push(std::mem::replace(tank, number));
    }
    // Longer names first, so that no part of one is left.
    names.retain(|name| name.chars().count() > 2);
    names.sort_by_key(|name| std::cmp::Reverse(name.len()));
    shown.entries.iter_mut().for_each(|entry| withhold(entry, &names));
    shown.header.without.iter_mut().for_each(|reason| *reason = without(reason, &names));
    if let Some(end) = &mut shown.summary {
        end.words = without(&end.words, &names);
    }
    shown
}

/// Whether an answer is a name, a mark, or what somebody wrote.
fn is_name(entry: &Entry) -> bool {
    entry.kind == EntryKind::Text || matches!(entry.observes.as_deref(), Some("marking" | "remark" | "date"))
}

fn withhold(entry: &mut Entry, names: &[String]) {
    if is_name(entry) {
        entry.given = entry.given.take().map(|_| WITHHELD.to_string());
    }
    if entry.kind == EntryKind::Note || entry.kind == EntryKind::Skipped && entry.asked.is_some() {
        entry.reason = entry.reason.take().map(|_| WITHHELD.to_string());
    }
    for text in [&mut entry.said, &mut entry.next, &mut entry.asked, &mut entry.advice] {
        *text = text.take().map(|text| without(&text, names));
    }
}

fn without(text: &str, names: &[String]) -> String {
    names.iter().fold(text.to_string(), |text, name| without_name(&text, name))
}

/// A text without a name, where it stands by itself: a tank `old` is no part of "holds".
fn without_name(text: &str, name: &str) -> String {
    let (mut kept, mut rest) = (String::new(), text);
    while let Some((before, after)) = rest.split_once(name) {
        let letter = |c: Option<char>| c.is_some_and(char::is_alphanumeric);
        let inside = letter(before.chars().next_back()) || letter(after.chars().next());
        kept.push_str(before);
        kept.push_str(if inside { name } else { WITHHELD });
        rest = after;
    }
    kept + rest
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::clock::Moment;

    #[test]
    fn names_are_left_out_wherever_they_stand() {
        let at = Moment::parse("2031-04-05T09:01:00-05:00").unwrap();
        let mut entry = Entry {
            given: Some("the owner".to_string()),
            said: Some("Go to the old blue tank, old.".to_string()),
            next: Some("It holds: older than old.".to_string()),
            ..Entry::new(EntryKind::Text, "who", at)
        };
        withhold(&mut entry, &["the old blue tank", "old"].map(str::to_string));
        assert_eq!(entry.given.as_deref(), Some(WITHHELD));
        assert_eq!(entry.said.as_deref(), Some("Go to (withheld), (withheld)."));
        assert_eq!(entry.next.as_deref(), Some("It holds: older than (withheld)."));
    }
}
