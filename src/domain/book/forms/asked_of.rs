//! The mistakes of a book's text that are about one rule, each at the field of its form, in the form's words.

use super::asked::{Ask, Shape};
use super::editing::Pairs;
use crate::domain::book::terms::mistake::Mistake;
use crate::domain::book::terms::rule_kinds::{Place, RuleKind};
use crate::domain::words::faults::Fault;

/// The mistakes that are about the rule at a place, as faults of the form that holds what was typed.
pub fn faults_of(mistakes: &[Mistake], place: Place, typed: &Pairs) -> Vec<Fault> {
    let of_it = mistakes.iter().filter_map(|mistake| Some((mistake, place.field_of(&mistake.at)?)));
    let fault = |(mistake, field): (&Mistake, &str)| {
        let ask = ask_of(place.kind, field);
        let field = as_typed(place.kind, field, typed);
        let left_out = !typed.iter().any(|(name, text)| *name == field && !text.trim().is_empty());
        let wanted = match ask.filter(|_| left_out) {
            Some(ask) => fill_in(ask.shape).to_owned(),
            None => in_form_words(place.kind, &mistake.wanted),
        };
        Fault::new(field, format!("{} {wanted}", in_form_words(place.kind, &mistake.what)).trim().to_owned())
    };
    of_it.map(fault).collect()
}

const fn fill_in(shape: Shape) -> &'static str {
    match shape {
        Shape::Number => "Fill in a number.",
        Shape::YesNo => "Say yes or no.",
        Shape::Day => "Fill in a day: 2026-01-31.",
        Shape::Word(_) | Shape::Words(_) => "Choose one.",
        Shape::Line | Shape::Text | Shape::Lines | Shape::Group(_) | Shape::Rows(_) => "Fill it in.",
    }
}

/// The field of a form that a field of the text is: `tube.0.wall` is the `wall` of a tube.
fn ask_of(kind: RuleKind, field: &str) -> Option<&'static Ask> {
    let mut words = field.split('.').filter(|word| word.parse::<usize>().is_err());
    let first = words.next()?;
    let ask = kind.asks().find(|ask| ask.name == first)?;
    match (ask.shape, words.next()) {
        (Shape::Group(asks) | Shape::Rows(asks), Some(inner)) => asks.iter().find(|ask| ask.name == inner),
        _ => Some(ask),
    }
}

/// The name under which a field was typed: rows that were left empty are in the form, and not in the text.
fn as_typed(kind: RuleKind, field: &str, typed: &Pairs) -> String {
    let moved = || {
        let (name, rest) = field.split_once('.')?;
        let (at, inner) = rest.split_once('.').unwrap_or((rest, ""));
        let at: usize = at.parse().ok()?;
        let rows = kind.asks().any(|ask| ask.name == name && matches!(ask.shape, Shape::Rows(_)));
        let row_of = |entry: &(String, String)| -> Option<usize> {
            let row = entry.0.strip_prefix(name)?.strip_prefix('.')?.split('.').next()?.parse().ok()?;
            (!entry.1.trim().is_empty()).then_some(row)
        };
        let mut filled: Vec<usize> = typed.iter().filter_map(row_of).collect();
        filled.sort_unstable();
        filled.dedup();
        let at = filled.get(at).filter(|_| rows)?;
        Some(if inner.is_empty() { format!("{name}.{at}") } else { format!("{name}.{at}.{inner}") })
    };
    moved().unwrap_or_else(|| field.to_owned())
}

/// A sentence with the names of fields as the form calls them.
fn in_form_words(kind: RuleKind, sentence: &str) -> String {
    let mut found = sentence.to_owned();
    for ask in kind.asks() {
        let inner: &[Ask] = if let Shape::Group(asks) | Shape::Rows(asks) = ask.shape { asks } else { &[] };
        for ask in std::iter::once(ask).chain(inner) {
            found = found.replace(&format!("“{}”", ask.name), &format!("“{}”", ask.label));
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::book::forms::editing::Editing;
    use crate::domain::book::read;

    const DEMO: &str = include_str!("../../../demo/book.toml");

    /// The faults of a rule after fields of it were typed anew.
    fn faults(place: Place, typed: &[(&str, &str)]) -> Vec<(String, String)> {
        let Some(editing) = Editing::of(DEMO) else { return Vec::new() };
        let mut pairs = editing.typed(place).unwrap_or_default();
        for (name, text) in typed {
            pairs.retain(|pair| pair.0 != *name);
            pairs.push(((*name).to_owned(), (*text).to_owned()));
        }
        let mistakes = read(&editing.write(place, &pairs).unwrap_or_default()).err().unwrap_or_default();
        faults_of(&mistakes, place, &pairs).into_iter().map(|fault| (fault.at, fault.why)).collect()
    }

    #[test]
    fn a_mistake_is_told_at_the_field_where_it_was_typed() {
        let limit = Place { kind: RuleKind::Limit, at: 0 };
        let found = faults(limit, &[("clause", ""), ("least", "about three"), ("claus", "4")]);
        let wanted = [
            ("clause", "“Clause” is missing from a limit. Fill it in."),
            ("least", "“At least” is a text. Write a number from 0 to 1000000, with a point before the decimals."),
        ];
        assert_eq!(found, wanted.map(|(at, why)| (at.to_owned(), why.to_owned())));
        let class = Place { kind: RuleKind::WeightClass, at: 1 };
        let empty = ["use", "outside", "wall", "unit", "made"].map(|name| (format!("tube.0.{name}"), ""));
        let mut typed: Vec<(&str, &str)> = empty.iter().map(|(name, text)| (name.as_str(), *text)).collect();
        typed.push(("tube.1.wall", "thick"));
        let found = faults(class, &typed);
        assert_eq!(found.iter().map(|found| found.0.as_str()).collect::<Vec<_>>(), ["tube.1.wall"], "{found:?}");
    }
}
