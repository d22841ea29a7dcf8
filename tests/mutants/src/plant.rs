//! Writes a source file anew with all its faults in it, each behind a switch.

use std::ops::Range;

use crate::sites::{Form, Site};

/// A file with switches, and where each fault came to stand in it.
pub struct Planted {
    /// The new text.
    pub text: String,
    /// By fault: its own bytes, and those of its site, in the new text.
    pub places: Vec<(usize, Range<usize>, Range<usize>)>,
}

/// A site with the numbers of those of its mutants that are still in.
struct Kept<'a> {
    site: &'a Site,
    /// Number of the fault, its text, and which of its site it is.
    mutants: Vec<(usize, &'a str, usize)>,
}

/// Puts switches into `text`; the first mutant of `sites` has the number `first`, and `dropped` says
/// which are left out.
pub fn plant(text: &str, sites: &[Site], first: usize, dropped: &[bool]) -> Planted {
    let mut number = first;
    let mut kept = Vec::new();
    for site in sites {
        let numbered = site.mutants.iter().enumerate().map(|(at, mutant)| {
            number += 1;
            (number - 1, mutant.text.as_str(), at)
        });
        let mutants: Vec<_> = numbered.filter(|(number, ..)| !dropped[*number]).collect();
        if !mutants.is_empty() {
            kept.push(Kept { site, mutants });
        }
    }
    // Outer sites before those they hold.
    kept.sort_by_key(|kept| (kept.site.range.start, std::cmp::Reverse(kept.site.range.end)));
    let mut planted = Planted { text: String::new(), places: Vec::new() };
    planted.write(text, 0..text.len(), &kept);
    planted
}

impl Planted {
    /// Copies a range of the old text, with the switches of the sites that begin in it.
    fn write(&mut self, text: &str, range: Range<usize>, sites: &[Kept]) {
        let mut from = range.start;
        let mut rest = sites;
        while let Some((kept, after)) = rest.split_first() {
            let site = kept.site.range.clone();
            let held = after.iter().take_while(|other| other.site.range.start < site.end).count();
            self.text.push_str(&text[from..site.start]);
            self.switch(text, kept, &after[..held]);
            from = site.end;
            rest = &after[held..];
        }
        self.text.push_str(&text[from..range.end]);
    }

    fn switch(&mut self, text: &str, kept: &Kept, held: &[Kept]) {
        let begun = self.text.len();
        let mut own = Vec::new();
        match kept.site.form {
            Form::Expression => {
                self.text.push('(');
                for (number, alternative, _) in &kept.mutants {
                    own.push((*number, self.branch(*number, alternative)));
                    self.text.push_str(" else ");
                }
                self.text.push_str("{ ");
                self.write(text, kept.site.range.clone(), held);
                self.text.push_str(" })");
            }
            Form::Body => {
                for (number, value, _) in &kept.mutants {
                    own.push((*number, self.branch(*number, &format!("return {value};"))));
                }
            }
            Form::Guard => {
                let (mut before, mut after) = (String::new(), String::new());
                for (number, _, at) in &kept.mutants {
                    let [open, sign] = if *at == 0 { ["", "||"] } else { ["!", "&&"] };
                    before = format!("({open}crate::mutant::is({number}) {sign} {before}");
                    after.push(')');
                }
                self.text.push_str(&before);
                self.write(text, kept.site.range.clone(), held);
                self.text.push_str(&after);
            }
            Form::Arm => {
                let number = kept.mutants[0].0;
                self.text.push_str(&format!(" if !crate::mutant::is({number})"));
            }
        }
        let whole = begun..self.text.len();
        if own.is_empty() {
            own = kept.mutants.iter().map(|(number, ..)| (*number, whole.clone())).collect();
        }
        self.places.extend(own.into_iter().map(|(number, bytes)| (number, bytes, whole.clone())));
    }

    /// `if` the fault is in force, this.
    fn branch(&mut self, number: usize, text: &str) -> Range<usize> {
        self.text.push_str(&format!("if crate::mutant::is({number}) {{ "));
        let start = self.text.len();
        self.text.push_str(text);
        let end = self.text.len();
        self.text.push_str(" }");
        start..end
    }
}
