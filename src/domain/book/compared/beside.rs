//! Two editions of a book side by side: which rules came, which went, and what the others say otherwise.

use std::collections::{HashMap, HashSet};

use super::said::Sayings;
use crate::domain::book::rule_book::RuleBook;
use crate::domain::book::terms::rule::Rule;
use crate::domain::book::terms::rule_kinds::RuleKind;

/// One thing that is said otherwise; empty where one of the two says nothing.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Otherwise {
    /// What it is about.
    pub what: String,
    /// What the older edition says.
    pub was: String,
    /// What the newer one says.
    pub is: String,
}

/// How a rule of one edition stands to the other.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Difference {
    /// Only the newer edition has it; what it says.
    Added(Sayings),
    /// Only the older edition has it; what it said.
    Gone(Sayings),
    /// Both have it, and differ in this.
    Changed(Vec<Otherwise>),
}

/// A rule that is not the same in both.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RuleBeside {
    /// Its kind.
    pub kind: RuleKind,
    /// Its name in the book.
    pub id: String,
    /// Its clause, in the newer edition where it is there.
    pub clause: String,
    /// It in our own words, in the newer edition where it is there.
    pub words: String,
    /// How it stands.
    pub difference: Difference,
}

/// Two editions side by side.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Beside {
    /// What the book says of itself otherwise, but for its edition's name.
    pub head: Vec<Otherwise>,
    /// The rules that are not the same, kind by kind in the order of the text.
    pub rules: Vec<RuleBeside>,
    /// How many rules say the same in both.
    pub same: usize,
}

impl Beside {
    /// An older edition beside a newer one. A rule is the same one when it has the same name.
    pub fn of(older: &RuleBook, newer: &RuleBook) -> Self {
        let (was, is) = (older.sayings(), newer.sayings());
        let before: HashMap<&str, &(RuleKind, &Rule, Sayings)> =
            was.iter().map(|entry| (entry.1.id.as_str(), entry)).collect();
        let now: HashSet<&str> = is.iter().map(|entry| entry.1.id.as_str()).collect();
        let line = |kind, rule: &Rule, difference| RuleBeside {
            kind,
            id: rule.id.clone(),
            clause: rule.clause.clone(),
            words: rule.words.clone(),
            difference,
        };
        let mut rules = Vec::new();
        let mut same = 0;
        for (kind, rule, says) in &is {
            let Some((was_kind, _, said)) = before.get(rule.id.as_str()) else {
                rules.push(line(*kind, rule, Difference::Added(says.clone())));
                continue;
            };
            let mut differs = otherwise(said, says);
            if was_kind != kind {
                let (was, is) = (was_kind.word().to_owned(), kind.word().to_owned());
                differs.insert(0, Otherwise { what: "kind of rule".to_owned(), was, is });
            }
            if differs.is_empty() {
                same += 1;
            } else {
                rules.push(line(*kind, rule, Difference::Changed(differs)));
            }
        }
        let gone = was.iter().filter(|entry| !now.contains(entry.1.id.as_str()));
        rules.extend(gone.map(|(kind, rule, said)| line(*kind, rule, Difference::Gone(said.clone()))));
        rules.sort_by_key(|rule| rule.kind);
        Self { head: otherwise(&older.book.sayings(), &newer.book.sayings()), rules, same }
    }
}

fn otherwise(was: &Sayings, is: &Sayings) -> Vec<Otherwise> {
    let under = |sayings: &Sayings, what: &str| {
        sayings.iter().find(|saying| saying.0 == what).map(|saying| saying.1.clone()).unwrap_or_default()
    };
    let mut names: Vec<&String> = was.iter().map(|saying| &saying.0).collect();
    names.extend(is.iter().map(|saying| &saying.0).filter(|name| !was.iter().any(|saying| saying.0 == **name)));
    let line = |what: &String| Otherwise { was: under(was, what), is: under(is, what), what: what.clone() };
    names.into_iter().map(line).filter(|line| line.was != line.is).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::book::forms::asked::{Ask, Shape};
    use crate::domain::book::forms::editing::{Editing, Pairs};
    use crate::domain::book::{Place, read};

    const BOOKS: [&str; 2] =
        [include_str!("../../../demo/book.toml"), include_str!("../reading/cage-article-253.toml")];

    /// Other things that could stand in a field.
    fn others(shape: Shape, text: &str) -> Vec<String> {
        match shape {
            Shape::Line | Shape::Text => vec![format!("{text} x")],
            Shape::Lines => vec![format!("{text}\nx")],
            Shape::Number => text.parse::<f64>().map(|number| vec![format!("{}", number + 1.0)]).unwrap_or_default(),
            Shape::YesNo => vec!["true".to_owned(), "false".to_owned()],
            Shape::Day => vec!["2026-07-07".to_owned()],
            Shape::Word(words) => words().into_iter().map(str::to_owned).collect(),
            Shape::Words(words) => words().first().map(|word| (*word).to_owned()).into_iter().collect(),
            Shape::Group(_) | Shape::Rows(_) => Vec::new(),
        }
    }

    fn shape_of(kind: RuleKind, name: &str) -> Option<Shape> {
        let mut words = name.split('.').filter(|word| word.parse::<usize>().is_err());
        let first = words.next()?;
        let within = |asks: &[Ask], name: &str| asks.iter().find(|ask| ask.name == name).map(|ask| ask.shape);
        match (kind.asks().find(|ask| ask.name == first)?.shape, words.next()) {
            (Shape::Group(asks) | Shape::Rows(asks), Some(inner)) => within(asks, inner),
            (shape, _) => Some(shape),
        }
    }

    /// A book without its own words, which would be wrong of every other figure.
    fn wordless(toml: &str) -> String {
        let lines = toml.lines().map(|line| if line.starts_with("text_ours") { "text_ours = \"x\"" } else { line });
        lines.collect::<Vec<_>>().join("\n")
    }

    /// The newer book, where one field of a rule is another and the book still reads.
    fn rewritten(editing: &Editing, place: Place, name: &str, text: &str) -> Option<RuleBook> {
        let mut typed: Pairs = editing.typed(place)?;
        typed.retain(|pair| pair.0 != name);
        typed.push((name.to_owned(), text.to_owned()));
        read(&editing.clone().write(place, &typed)?).ok()
    }

    /// Each field of each kind of rule, set to something else: the book that is then another says so, of that rule alone.
    #[test]
    fn whatever_is_changed_is_told_of_its_rule_alone() {
        let mut tried: HashSet<(RuleKind, String)> = HashSet::new();
        for toml in BOOKS.map(wordless) {
            let (Some(editing), Ok(book)) = (Editing::of(&toml), read(&toml)) else {
                return assert!(read(&toml).is_ok());
            };
            for rule in editing.rules() {
                let kind = rule.place.kind;
                let typed = editing.typed(rule.place).unwrap_or_default();
                let names = typed.iter().map(|pair| pair.0.clone()).chain(kind.asks().map(|ask| ask.name.to_owned()));
                for name in names.filter(|name| name != "id" && name != "edition") {
                    let field = (kind, name.replace(|letter: char| letter.is_ascii_digit(), ""));
                    let Some(shape) = shape_of(kind, &name).filter(|_| !tried.contains(&field)) else { continue };
                    let text = typed.iter().find(|pair| pair.0 == name).map(|pair| pair.1.as_str()).unwrap_or_default();
                    let mut newer = others(shape, text)
                        .into_iter()
                        .filter_map(|other| rewritten(&editing, rule.place, &name, &other));
                    let Some(newer) = newer.find(|newer| *newer != book) else { continue };
                    tried.insert(field);
                    let beside = Beside::of(&book, &newer);
                    let ids: Vec<&str> = beside.rules.iter().map(|rule| rule.id.as_str()).collect();
                    let description = match kind {
                        RuleKind::Head => !beside.head.is_empty() && ids.is_empty(),
                        // Where an edge belongs is the weighing's to say, and each class's to keep to.
                        RuleKind::Weight => ids.contains(&rule.id.as_str()),
                        _ => ids == [rule.id.as_str()],
                    };
                    assert!(description, "{name} of {}: {ids:?}", rule.id);
                }
            }
        }
        assert!(tried.len() > 90, "{}", tried.len());
    }

    #[test]
    fn rules_that_came_and_went_are_told_with_what_they_say() {
        let [toml, _] = BOOKS;
        let newer = toml.replacen("id = \"bend-radius\"", "id = \"bend-radius-new\"", 1);
        let (Ok(older), Ok(newer)) = (read(toml), read(&newer)) else { return assert!(read(toml).is_ok()) };
        let beside = Beside::of(&older, &newer);
        let description: Vec<(&str, bool)> = beside.rules.iter().map(|rule| (rule.id.as_str(), matches!(&rule.difference, Difference::Added(says) if says.contains(&("limit".to_owned(), "at least 2.5 diameters".to_owned()))))).collect();
        assert_eq!(description, [("bend-radius-new", true), ("bend-radius", false)]);
        assert!(matches!(beside.rules.last().map(|rule| &rule.difference), Some(Difference::Gone(_))));
        assert_eq!(beside.same + 1, older.rules().count());
    }
}
