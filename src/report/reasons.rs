//! What speaks for a cause that was named, and what against it, in words.

use crate::engine::Reasons;
use crate::words::{list, non_empty};

/// So many pieces of evidence are told for a cause, and as many against it.
const MOST_REASONS: usize = 4;

/// What speaks for a cause and against it, a line each.
pub(crate) fn reason_lines(reasons: &Reasons) -> Vec<String> {
    let mut lines = vec![format!("Why {}:", reasons.name)];
    for (lead, speaks_so) in [("For it", true), ("Against it", false)] {
        let reason = reasons.speaks.iter().filter(|it| (it.ln_odds > 0.0) == speaks_so).take(MOST_REASONS);
        let reason = list(reason.map(|it| format!("{} ({})", it.item, it.strength())), "and");
        lines.extend(non_empty(reason).map(|reason| format!("{lead}: {reason}.")));
    }
    if lines.len() == 1 {
        lines.push("No one reading decides it; it is no rarer than before.".to_string());
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::physics::diagnosis::{Item, Speaks};

    #[test]
    fn what_speaks_stands_in_words_the_strongest_first() {
        let speaks = |item, ln_odds| Speaks { item, ln_odds };
        let speaks = vec![speaks(Item::Pin, 4.0), speaks(Item::Sound, -1.5), speaks(Item::Soap, 0.5)];
        assert_eq!(
            reason_lines(&Reasons { name: "bladder torn", speaks }),
            [
                "Why bladder torn:",
                "For it: the pin test (strongly) and the soapy water (a little).",
                "Against it: the knock on the tank (clearly).",
            ]
        );
        let none = reason_lines(&Reasons { name: "bladder torn", speaks: Vec::new() });
        assert_eq!(none[1], "No one reading decides it; it is no rarer than before.");
    }
}
