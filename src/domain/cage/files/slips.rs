//! What does not read in a cage file, told by line, by name, and with the word that was likely meant.

use crate::domain::words::faults::Fault;
use crate::domain::words::near_word::nearest;

use crate::domain::cage::record::measures::{ORDER_OF_MEASURING, TapeMeasure};
use crate::domain::words::roles::MemberRole;
use crate::domain::words::wording::capital;

/// How JSON's own words for what was wanted read in a shop.
const PLAIN: [(&str, &str); 7] = [
    ("a sequence", "a list in square brackets"),
    ("a map", "fields in braces"),
    ("a borrowed string", "a text"),
    ("a string", "a text"),
    ("f64", "a number"),
    ("u32", "a whole number"),
    ("u8", "a small whole number"),
];

/// A file's slip as a fault at its line and column.
pub(in crate::domain) fn slip(error: &serde_json::Error) -> Fault {
    let at = format!("line {}, column {}", error.line(), error.column());
    let said = error.to_string();
    let said = said.rsplit_once(" at line ").map_or(said.as_str(), |(said, _)| said);
    Fault::new(at, describe(said))
}

fn describe(said: &str) -> String {
    let known: Vec<&str> = said.split('`').skip(1).step_by(2).collect();
    if let Some((typed, known)) = known.split_first() {
        if said.starts_with("missing field") {
            return format!("The field “{typed}” is missing.");
        }
        let what = if said.starts_with("unknown variant") { "cannot be chosen here" } else { "is no field here" };
        if said.starts_with("unknown ") {
            let shown: String = typed.chars().take(60).collect();
            return format!("“{shown}” {what}. {}", meant(typed, known));
        }
    }
    // A measurement, a role: their own words name what does not read, in our quotes.
    if let Some(typed) = said.split_once('“').and_then(|(_, rest)| rest.split_once('”')).map(|(typed, _)| typed) {
        let measures: Vec<String> = ORDER_OF_MEASURING.iter().copied().map(TapeMeasure::key).collect();
        let known = measures.iter().map(String::as_str).chain(MemberRole::ALL.map(MemberRole::word));
        let near = nearest(typed, known).map(|near| format!(" Did you mean “{near}”?"));
        return format!("{}.{}", capital(said.trim_end_matches('.')), near.unwrap_or_default());
    }
    let plain = PLAIN.iter().fold(said.to_owned(), |said, (from, to)| said.replace(from, to));
    format!("{}.", capital(&plain))
}

fn meant(typed: &str, known: &[&str]) -> String {
    match nearest(typed, known.iter().copied()) {
        Some(near) => format!("Did you mean “{near}”?"),
        None if known.is_empty() => "Nothing stands here.".to_owned(),
        None => format!("What reads here: {}.", known.join(", ")),
    }
}
