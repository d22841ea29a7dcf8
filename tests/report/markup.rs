//! Reads HTML as a strict reader would, and holds it against what every report promises: elements
//! nest, figures have words, headings and tables are in order, nothing runs and nothing is fetched.

use std::collections::BTreeSet;

/// Elements that have no end (HTML Living Standard, 13.1.2, void elements).
const VOID: &[&str] = &["meta", "link", "img", "br", "hr", "input", "base", "col", "wbr"];

/// One element as it begins.
#[derive(Clone, Debug)]
pub struct Tag {
    pub name: String,
    pub attributes: Vec<(String, String)>,
    /// The elements it stands in, outermost first.
    pub inside: Vec<String>,
    /// All text in it, once it has ended.
    pub text: String,
    /// The first element in it.
    pub first: Option<String>,
}

impl Tag {
    pub fn attribute(&self, name: &str) -> Option<&str> {
        self.attributes.iter().find(|(n, _)| n == name).map(|(_, value)| value.as_str())
    }
}

/// Every element of a file, in the order they begin.
pub fn tags(html: &str) -> Result<Vec<Tag>, String> {
    let mut rest = html.strip_prefix("<!DOCTYPE html>").ok_or("no doctype")?;
    let (mut tags, mut open): (Vec<Tag>, Vec<usize>) = (Vec::new(), Vec::new());
    while let Some(at) = rest.find('<') {
        let text = &rest[..at];
        open.iter().for_each(|tag| tags[*tag].text.push_str(text));
        let end = rest[at..].find('>').ok_or("an element without its end")? + at;
        let inside = &rest[at + 1..end];
        if let Some(name) = inside.strip_prefix('/') {
            let opened = open.pop().ok_or(format!("</{name}> ends nothing"))?;
            if tags[opened].name != name {
                return Err(format!("</{name}> ends a <{}>", tags[opened].name));
            }
        } else {
            let path: Vec<String> = open.iter().map(|tag| tags[*tag].name.clone()).collect();
            let tag = begin(inside, path)?;
            if let Some(parent) = open.last() {
                tags[*parent].first.get_or_insert(tag.name.clone());
            }
            if !VOID.contains(&tag.name.as_str()) {
                open.push(tags.len());
            }
            tags.push(tag);
        }
        rest = &rest[end + 1..];
        // The style sheet is no markup.
        if tags.last().is_some_and(|tag| tag.name == "style")
            && rest.contains("</style>")
            && open.last() == Some(&(tags.len() - 1))
        {
            rest = &rest[rest.find("</style>").ok_or("an open style")?..];
        }
    }
    match open.is_empty() && rest.trim().is_empty() {
        true => Ok(tags),
        false => Err(format!("left open, or text at the end: {rest:?}")),
    }
}

fn begin(inside: &str, path: Vec<String>) -> Result<Tag, String> {
    let (name, mut rest) = inside.split_once(' ').unwrap_or((inside, ""));
    let plain = |c: char| c.is_ascii_alphanumeric() || c == '-' || c == ':';
    if name.is_empty() || !name.chars().all(plain) {
        return Err(format!("<{inside}> is no element"));
    }
    let mut attributes = Vec::new();
    while !rest.trim().is_empty() {
        let (word, after) = rest.trim_start().split_once("=\"").ok_or(format!("<{inside}>: no value"))?;
        let (value, after) = after.split_once('"').ok_or(format!("<{inside}>: an open quote"))?;
        if !word.chars().all(plain) || value.contains('<') {
            return Err(format!("<{inside}>: {word}={value}"));
        }
        attributes.push((word.to_string(), value.to_string()));
        rest = after;
    }
    Ok(Tag { name: name.into(), attributes, inside: path, text: String::new(), first: None })
}

/// Whether a file keeps every promise; says which it breaks.
pub fn holds(html: &str) -> Result<(), String> {
    let tags = tags(html)?;
    nothing_runs_or_is_fetched(html, &tags)?;
    figures_have_words(&tags)?;
    headings_are_in_order(&tags)?;
    tables_have_heads(&tags)?;
    let html_tag = tags.first().filter(|tag| tag.attribute("lang") == Some("en"));
    html_tag.ok_or("the language is not said")?;
    let title = tags.iter().find(|tag| tag.name == "title").ok_or("no title")?;
    if title.text.trim().is_empty() { Err("an empty title".into()) } else { Ok(()) }
}

fn nothing_runs_or_is_fetched(html: &str, tags: &[Tag]) -> Result<(), String> {
    let banned = ["script", "link", "iframe", "object", "embed", "img", "base", "form", "use", "image"];
    for tag in tags {
        if banned.contains(&tag.name.as_str()) {
            return Err(format!("<{}> has no place here", tag.name));
        }
        for (name, value) in &tag.attributes {
            let fetched =
                name != "xmlns" && (value.contains("//") && name != "content" && name != "data-label");
            let kept = name == "href" && value.starts_with("data:application/toml;base64,");
            let leads = ["href", "src", "style"].contains(&name.as_str()) || fetched;
            if name.starts_with("on") || (leads && !kept) {
                return Err(format!("<{} {name}={value}>", tag.name));
            }
        }
    }
    let style = &html[html.find("<style>").unwrap_or(0)..html.find("</style>").unwrap_or(0)];
    match ["@import", "url(", "http"].iter().find(|word| style.contains(**word)) {
        Some(word) => Err(format!("the style sheet has {word}")),
        None => Ok(()),
    }
}

fn figures_have_words(tags: &[Tag]) -> Result<(), String> {
    let mut ids = BTreeSet::new();
    for id in tags.iter().filter_map(|tag| tag.attribute("id")) {
        if !ids.insert(id) {
            return Err(format!("two have the id {id}"));
        }
    }
    for (at, svg) in tags.iter().enumerate().filter(|(_, tag)| tag.name == "svg") {
        let named: Vec<&str> = svg.attribute("aria-labelledby").unwrap_or("").split(' ').collect();
        let [title, desc] = [&tags[at + 1], &tags[at + 2]];
        let both = title.name == "title" && desc.name == "desc";
        let same = [title, desc].map(|tag| tag.attribute("id").unwrap_or("none")) == named[..];
        let told = !title.text.is_empty() && !desc.text.is_empty();
        if svg.attribute("role") != Some("img") || !both || !same || !told {
            return Err("a figure without its words".into());
        }
        let numbers =
            tags[at..].iter().take_while(|tag| tag.name == "svg" || tag.inside.contains(&"svg".to_string()));
        for (name, value) in numbers.flat_map(|tag| &tag.attributes) {
            if value.contains("NaN") || value.contains("inf") {
                return Err(format!("{name}={value}"));
            }
        }
    }
    Ok(())
}

fn headings_are_in_order(tags: &[Tag]) -> Result<(), String> {
    let level = |tag: &Tag| tag.name.strip_prefix('h').and_then(|level| level.parse::<u32>().ok());
    let levels: Vec<u32> = tags.iter().filter_map(level).collect();
    let first = levels.first() == Some(&1) && levels.iter().filter(|level| **level == 1).count() == 1;
    if first && levels.windows(2).all(|pair| pair[1] <= pair[0] + 1) {
        return Ok(());
    }
    Err(format!("headings {levels:?}"))
}

fn tables_have_heads(tags: &[Tag]) -> Result<(), String> {
    for tag in tags {
        let scope = tag.attribute("scope");
        let right = match tag.name.as_str() {
            "th" if tag.inside.contains(&"thead".to_string()) => scope == Some("col") && !tag.text.is_empty(),
            "th" => scope == Some("row"),
            "table" => matches!(tag.first.as_deref(), Some("thead" | "caption")),
            "dl" => tag.first.as_deref() == Some("div"),
            "ul" => tag.first.as_deref() == Some("li"),
            _ => true,
        };
        if !right {
            return Err(format!("<{}> in {:?}", tag.name, tag.inside));
        }
    }
    Ok(())
}

#[test]
fn what_is_broken_is_seen() {
    let page = |body: &str| {
        format!(
            "<!DOCTYPE html><html lang=\"en\"><head><title>T</title><style></style></head><body><h1>A</h1>{body}</body></html>\n"
        )
    };
    assert_eq!(holds(&page("<p>fine</p>")), Ok(()));
    for broken in [
        "<p><b></p></b>",
        "<p>",
        "<script>x</script>",
        "<p onclick=\"x\">a</p>",
        "<h3>deep</h3>",
        "<h1>again</h1>",
        "<svg role=\"img\"><g></g><g></g></svg>",
        "<table><tbody></tbody></table>",
        "<img src=\"http://x\">",
        "<a href=\"other.html\">b</a>",
        "<p id=\"a\"></p><p id=\"a\"></p>",
        "<p title=\"a>b\">c</p>",
    ] {
        assert!(holds(&page(broken)).is_err(), "{broken}");
    }
}
