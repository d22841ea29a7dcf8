//! Numbers as people write them: `2.6`, `2,6`, `1 234`, `1/2`, `3 1/2`, `3-1/2`, `½`, `1:26`.
//!
//! One scanner for prompts, files, answers and the expression language. What can mean two things is
//! refused with both.

use super::unreadable::Unreadable;

/// What separates a number's digits by threes without a doubt: spaces that break no line.
const NARROW: [char; 3] = ['\u{a0}', '\u{2009}', '\u{202f}'];

/// The fractions that have a sign of their own.
const SIGNS: &[(char, f64)] = &[
    ('½', 1.0 / 2.0),
    ('⅓', 1.0 / 3.0),
    ('⅔', 2.0 / 3.0),
    ('¼', 1.0 / 4.0),
    ('¾', 3.0 / 4.0),
    ('⅕', 1.0 / 5.0),
    ('⅖', 2.0 / 5.0),
    ('⅗', 3.0 / 5.0),
    ('⅘', 4.0 / 5.0),
    ('⅙', 1.0 / 6.0),
    ('⅚', 5.0 / 6.0),
    ('⅛', 1.0 / 8.0),
    ('⅜', 3.0 / 8.0),
    ('⅝', 5.0 / 8.0),
    ('⅞', 7.0 / 8.0),
];

/// The parts that rulers, plates and measuring cups are divided into. `30/50` is two pressures.
const PARTS: [u32; 9] = [2, 3, 4, 5, 6, 8, 16, 32, 64];

/// Beyond this nothing is a reading.
const LARGEST_READING: f64 = 1e12;

/// Where a number stands: what a comma, a hyphen and a stroke may mean there.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum NumberPlace {
    /// By itself: a comma belongs to the number, a hyphen may join a fraction.
    Alone,
    /// In an expression, outside all brackets: a comma belongs to the number, strokes divide.
    Open,
    /// Within brackets: a comma separates values, strokes divide.
    Listed,
}

/// The number without a sign that a text begins with, and its length in bytes; `None` where there is none.
///
/// # Errors
/// What can mean two things, and what is too large.
pub(crate) fn number_at_start(text: &str, standing: NumberPlace) -> Result<Option<(f64, usize)>, Unreadable> {
    if let Some(found) = sign_at_start(text) {
        return Ok(Some(found));
    }
    let alone = standing == NumberPlace::Alone;
    if let Some(found) = fraction_at_start(text).filter(|_| alone) {
        return Ok(Some(found));
    }
    let length = digits_length(text, standing);
    let written = text[..length].trim_end_matches([',', '.']);
    if !written.contains(|c: char| c.is_ascii_digit()) {
        return Ok(None);
    }
    let Some(whole) = decimal(written)? else { return Ok(None) };
    if whole > LARGEST_READING {
        return Err(Unreadable::TooLarge(written.to_string()));
    }
    // After the trailing point or comma nothing more belongs to it.
    if written.len() < length || !written.bytes().all(|byte| byte.is_ascii_digit()) {
        return Ok(Some((whole, length)));
    }
    let more = mixed_fraction(&text[length..], alone);
    Ok(Some(more.map_or((whole, length), |(part, more)| (whole + part, length + more))))
}

/// A fraction below one as written on a plate: `1/2`, `15/16`; its length in bytes.
pub(crate) fn fraction_at_start(text: &str) -> Option<(f64, usize)> {
    let digits = |text: &str| text.find(|c: char| !c.is_ascii_digit()).unwrap_or(text.len());
    let (above, rest) = text.split_at(digits(text));
    let rest = rest.strip_prefix(['/', '⁄'])?;
    let digits = digits(rest);
    let (over, under) = (above.parse::<u32>().ok()?, rest[..digits].parse::<u32>().ok()?);
    let plain = over > 0 && over < under && PARTS.contains(&under);
    let followed = rest[digits..].starts_with(['/', '.', ',', ':']);
    (plain && !followed).then(|| (f64::from(over) / f64::from(under), text.len() - rest.len() + digits))
}

/// Minutes and seconds as a watch shows them, `1:05`, or hours too, `1:05:30`: in seconds, and the length.
pub(crate) fn clock_at_start(text: &str) -> Option<(f64, usize)> {
    let length = text.find(|c: char| !(c.is_ascii_digit() || c == ':')).unwrap_or(text.len());
    let parts: Vec<&str> = text[..length].split(':').collect();
    let two = |part: &&str| part.len() == 2 && part.as_bytes()[0] < b'6';
    let (first, others) = parts.split_first()?;
    if first.is_empty() || first.len() > 3 || !matches!(others.len(), 1 | 2) || !others.iter().all(two) {
        return None;
    }
    let seconds = parts.iter().try_fold(0.0, |sum, part| Some(sum * 60.0 + part.parse::<f64>().ok()?))?;
    Some((seconds, length))
}

/// What a whole number's fraction is: behind a space, a hyphen where that is no minus, or as a sign.
fn mixed_fraction(rest: &str, hyphen: bool) -> Option<(f64, usize)> {
    let spaces = rest.len() - rest.trim_start().len();
    let joined = usize::from(hyphen && rest.starts_with('-'));
    let gap = spaces.max(joined);
    let found = sign_at_start(&rest[gap..]).or_else(|| fraction_at_start(&rest[gap..]).filter(|_| gap > 0));
    found.map(|(part, length)| (part, gap + length))
}

fn sign_at_start(text: &str) -> Option<(f64, usize)> {
    let first = text.chars().next()?;
    SIGNS.iter().find(|(sign, _)| *sign == first).map(|(_, value)| (*value, first.len_utf8()))
}

/// How far digits reach, with points, perhaps commas, and narrow spaces between threes.
fn digits_length(text: &str, standing: NumberPlace) -> usize {
    let belongs = |at: usize, c: char| match c {
        '0'..='9' | '.' => true,
        ',' => standing != NumberPlace::Listed,
        c if NARROW.contains(&c) => {
            let after = &text[at + c.len_utf8()..];
            let digits = after.find(|c: char| !c.is_ascii_digit()).unwrap_or(after.len());
            at > 0 && digits == 3 && text[..at].ends_with(|c: char| c.is_ascii_digit())
        }
        _ => false,
    };
    text.char_indices().find(|(at, c)| !belongs(*at, *c)).map_or(text.len(), |(at, _)| at)
}

/// Digits with their marks as a number. Two marks of one sort part thousands, so do marks before
/// another sort; one comma before three digits can be either.
fn decimal(written: &str) -> Result<Option<f64>, Unreadable> {
    let written: String = written.chars().filter(|c| !NARROW.contains(c)).collect();
    let (points, commas) = (written.matches('.').count(), written.matches(',').count());
    let threes = |text: &str, mark: char| {
        let mut groups = text.split(mark);
        let first = groups.next().is_some_and(|first| (1..=3).contains(&first.len()));
        first && groups.all(|group| group.len() == 3)
    };
    let plain = match (points, commas) {
        (0 | 1, 0) => written,
        (0, 1) => {
            let (whole, part) = written.split_once(',').unwrap_or_default();
            if part.len() == 3 && (1..=3).contains(&whole.len()) && whole != "0" {
                return Err(Unreadable::Comma(format!("{whole}.{part}"), format!("{whole}{part}")));
            }
            format!("{whole}.{part}")
        }
        (0, _) if threes(&written, ',') => written.replace(',', ""),
        (1, _) if written.rfind(',') < written.find('.') => match written.split_once('.') {
            Some((whole, part)) if threes(whole, ',') => format!("{}.{part}", whole.replace(',', "")),
            _ => return Ok(None),
        },
        (_, 1) => match written.split_once(',') {
            Some((whole, part)) if threes(whole, '.') && !part.contains('.') => {
                format!("{}.{part}", whole.replace('.', ""))
            }
            _ => return Ok(None),
        },
        _ => return Ok(None),
    };
    Ok(plain.parse().ok())
}
