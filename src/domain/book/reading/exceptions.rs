//! Rules that stand in for others: each one named must be there, and none may stand in for itself by a way round.

use std::collections::{HashMap, HashSet};
use std::ops::Range;

use toml::de::{DeTable, DeValue};

use crate::domain::words::near_word::nearest;

use crate::domain::book::terms::mistake::Slips;

/// A rule that names others, and where it does.
struct Exempt<'a> {
    id: &'a str,
    at: String,
    names: Vec<(&'a str, Range<usize>)>,
}

/// Notes every name that no rule has, and every circle.
pub(in crate::domain::book) fn check<'a>(table: &'a DeTable<'a>, slips: &Slips) {
    let (mut ids, mut exempt) = (Vec::new(), Vec::new());
    for (kind, value) in table {
        let weighing = matches!(kind.get_ref().as_ref(), "weight" | "weight_class" | "hold" | "book");
        let mut look = |value: &'a DeValue<'a>, at: String| {
            let DeValue::Table(rule) = value else { return };
            let Some(id) = text(rule, "id") else { return };
            if !weighing {
                ids.push(id);
            }
            exempt.extend(names(rule).map(|names| Exempt { id, at: format!("{at}.exempt_with"), names }));
        };
        match value.get_ref() {
            DeValue::Array(list) => {
                let name = kind.get_ref();
                list.iter().enumerate().for_each(|(at, entry)| look(entry.get_ref(), format!("{name}.{at}")));
            }
            other => look(other, kind.get_ref().to_string()),
        }
    }
    let known: HashSet<&str> = ids.iter().copied().collect();
    let named = exempt.iter().flat_map(|exempt| exempt.names.iter().map(move |(name, span)| (name, span, &exempt.at)));
    for (name, span, at) in named {
        if !known.contains(name) {
            let wanted = nearest(name, ids.iter().copied()).map_or_else(
                || "Name a rule of this book by its id; the weighing and the hold stand in for nothing.".to_owned(),
                |near| format!("Did you mean “{near}”?"),
            );
            let shown: String = name.chars().take(60).collect();
            slips.add_at((span.clone(), at.clone()), format!("No rule here is called “{shown}”."), wanted);
        }
    }
    circles(&exempt, slips);
}

fn text<'a>(rule: &'a DeTable<'a>, name: &str) -> Option<&'a str> {
    let entry = rule.iter().find(|entry| entry.0.get_ref() == name)?;
    if let DeValue::String(text) = entry.1.get_ref() { Some(text.trim()) } else { None }
}

fn names<'a>(rule: &'a DeTable<'a>) -> Option<Vec<(&'a str, Range<usize>)>> {
    let entry = rule.iter().find(|entry| entry.0.get_ref() == "exempt_with")?;
    let DeValue::Array(list) = entry.1.get_ref() else { return None };
    let name = |value: &'a toml::Spanned<DeValue<'a>>| {
        if let DeValue::String(text) = value.get_ref() { Some((text.trim(), value.span())) } else { None }
    };
    Some(list.iter().filter_map(name).collect())
}

/// Takes away, again and again, the rules that wait for no other that is left; what stays goes round in a circle.
fn circles(exempt: &[Exempt<'_>], slips: &Slips) {
    let mut waiting: HashMap<&str, usize> = HashMap::new();
    let mut named_by: HashMap<&str, Vec<&str>> = HashMap::new();
    let inside: HashSet<&str> = exempt.iter().map(|exempt| exempt.id).collect();
    for one in exempt {
        let within = one.names.iter().filter(|(name, _)| inside.contains(name));
        for (name, _) in within {
            *waiting.entry(one.id).or_default() += 1;
            named_by.entry(name).or_default().push(one.id);
        }
    }
    let mut free: Vec<&str> = inside.iter().copied().filter(|id| !waiting.contains_key(id)).collect();
    while let Some(id) = free.pop() {
        for other in named_by.get(id).into_iter().flatten() {
            if let Some(left) = waiting.get_mut(other) {
                *left -= 1;
                if *left == 0 {
                    waiting.remove(other);
                    free.push(other);
                }
            }
        }
    }
    // What only leads into a circle is no part of it: take away, again and again, what nobody left names.
    let mut left: HashSet<&str> = waiting.into_keys().collect();
    loop {
        let names = exempt.iter().filter(|one| left.contains(one.id)).flat_map(|one| &one.names);
        let named: HashSet<&str> = names.map(|entry| entry.0).collect();
        let before = left.len();
        left.retain(|id| named.contains(id));
        if left.len() == before {
            break;
        }
    }
    for one in exempt.iter().filter(|one| left.contains(one.id)) {
        for (name, span) in one.names.iter().filter(|(name, _)| left.contains(name)) {
            let what = format!("“{}” and “{name}” stand in for each other, directly or by a way round.", one.id);
            slips.add_at(
                (span.clone(), one.at.clone()),
                what,
                "Take one of them out of an “exempt_with” of the circle.",
            );
        }
    }
}
