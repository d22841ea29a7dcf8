//! The shipped states: what each means, and which shipped parts bring it about.

use std::cmp::Reverse;
use std::collections::BTreeMap;
use std::sync::LazyLock;

use super::shipped::{SHIPPED, Shipped, shipped};
use crate::document::Fields;

/// Each state with the parts whose heads say that they bring it about, always or as they are used.
static BRINGERS: LazyLock<BTreeMap<String, Vec<&'static str>>> = LazyLock::new(|| {
    let mut bringers: BTreeMap<String, Vec<&'static str>> = BTreeMap::new();
    for part in SHIPPED.iter().filter(|file| file.is_part()) {
        for state in part.read(|root| root.texts("brings")).unwrap_or_default() {
            let state = state.text.split(" if ").next().unwrap_or_default();
            bringers.entry(state.to_string()).or_default().push(part.name);
        }
    }
    bringers
});

/// The shipped parts that bring a state about, the one named most like it first.
pub fn bringers(state: &str) -> Vec<&'static str> {
    let mut parts = BRINGERS.get(state).cloned().unwrap_or_default();
    let named = state.replace('_', "-");
    let alike = |part: &str| {
        let name = part.trim_start_matches("parts/");
        name.chars().zip(named.chars()).take_while(|(a, b)| a == b).count()
    };
    parts.sort_by_key(|part| Reverse(alike(part)));
    parts
}

/// What each shipped state means.
static MEANINGS: LazyLock<BTreeMap<String, String>> = LazyLock::new(|| {
    let Some(file) = shipped("parts/states") else { return BTreeMap::new() };
    let state = |fields: &Fields<'_>| Some((fields.text("id")?.text, fields.text("means")?.text));
    file.read(|root| root.tables("state").iter().filter_map(state).collect()).unwrap_or_default()
});

/// A shipped part, by its head.
#[derive(Debug)]
pub struct ShippedPart {
    /// Its name, such as `parts/drain`.
    pub name: &'static str,
    /// What it is for.
    pub purpose: String,
    /// The states that it needs.
    pub needs: Vec<String>,
    /// The states that it brings about.
    pub brings: Vec<String>,
}

/// Every shipped part.
pub fn shipped_parts() -> Vec<ShippedPart> {
    let head = |file: &'static Shipped| {
        file.read(|root| {
            let texts = |key| root.texts(key).into_iter().map(|text| text.text).collect();
            let purpose = root.text("purpose").map(|text| text.text).unwrap_or_default();
            ShippedPart { name: file.name, purpose, needs: texts("needs"), brings: texts("brings") }
        })
    };
    SHIPPED.iter().filter(|file| file.is_part()).filter_map(head).collect()
}

/// The names of the shipped states.
pub fn shipped_states() -> Vec<&'static str> {
    MEANINGS.keys().map(String::as_str).collect()
}

/// What a shipped state means, as a sentence with its full stop; nothing for any other.
pub fn means(state: &str) -> String {
    MEANINGS.get(state).map_or(String::new(), |means| format!("{means}."))
}

#[cfg(test)]
mod tests {
    use super::bringers;

    #[test]
    fn the_part_named_like_a_state_comes_first() {
        assert_eq!(bringers("pump_off").first(), Some(&"parts/pump-off"));
        assert_eq!(bringers("drained").first(), Some(&"parts/drain"));
        assert!(bringers("weather").is_empty());
    }
}
