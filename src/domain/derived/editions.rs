//! What changes for a build when it is judged by another edition of its book.

use std::collections::HashSet;

use super::findings::Findings;
use super::worked::turned::{Pair, paired};
use crate::domain::book::RuleBook;
use crate::domain::book::kinds::TubeRow;
use crate::domain::judge::shots::Shot;
use crate::domain::judge::verdicts::Verdict;
use crate::domain::recorded::facts::{BookText, BuildFacts};
use crate::domain::words::ids::Balloon;
use crate::domain::words::wording::capital;

/// A verdict that would be another.
#[derive(Debug, Clone, PartialEq)]
pub struct VerdictChange {
    /// What the older edition says; none when it does not ask.
    pub was: Option<Verdict>,
    /// What the newer one says; none when it does not ask.
    pub is: Option<Verdict>,
    /// Whether the rule stands in the older edition, and in the newer one, asked of this car or not.
    pub in_book: (bool, bool),
}

impl VerdictChange {
    /// The verdict that names the rule: the newer one where it is there.
    pub fn either(&self) -> Option<&Verdict> {
        self.is.as_ref().or(self.was.as_ref())
    }

    /// Whether it would break a rule that it did not break before.
    pub fn breaks(&self) -> bool {
        let fails = |verdict: &Option<Verdict>| verdict.as_ref().is_some_and(|verdict| verdict.state().fails());
        fails(&self.is) && !fails(&self.was)
    }
}

/// What changes for a build.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct EditionChange {
    /// The weight class in words, before and after; none when it stays.
    pub class: Option<(String, String)>,
    /// The tubes the class allows, before and after; none when they stay.
    pub tubes: Option<(String, String)>,
    /// The verdicts whose word would be another, rule by rule.
    pub verdicts: Vec<VerdictChange>,
    /// How many verdicts keep their word by another limit.
    pub other_limits: usize,
    /// Photographs that would be asked for, and are not now.
    pub shots_new: Vec<Shot>,
    /// Photographs that would be asked for no longer.
    pub shots_gone: Vec<Shot>,
    /// Whether the newer edition's text does not read: nothing would be judged.
    pub unread: bool,
}

/// The same facts under another book.
pub fn under(facts: &BuildFacts, book: BookText) -> BuildFacts {
    let mut facts = facts.clone();
    facts.build.book = Some(book.id);
    facts.book = Some(book);
    facts
}

impl EditionChange {
    /// From what follows under the one and under the other.
    pub fn of(before: &Findings, after: &Findings) -> Self {
        let pair = |was: String, is: String| (was != is).then_some((was, is));
        let (verdicts, other_limits) = verdicts(before, after);
        let not_in = |shots: &Findings, others: &Findings| -> Vec<Shot> {
            let names: HashSet<String> = others.worked.shots.iter().map(Shot::name).collect();
            shots.worked.shots.iter().filter(|shot| !names.contains(&shot.name())).cloned().collect()
        };
        Self {
            class: pair(class(before), class(after)),
            tubes: pair(tubes(before), tubes(after)),
            verdicts,
            other_limits,
            shots_new: not_in(after, before),
            shots_gone: not_in(before, after),
            unread: !after.worked.unread_book.is_empty(),
        }
    }

    /// Whether nothing that people see would be another.
    pub fn is_nothing(&self) -> bool {
        *self == Self::default()
    }

    /// How many rules would be broken that are not broken now.
    pub fn breaks(&self) -> usize {
        self.verdicts.iter().filter(|change| change.breaks()).count()
    }

    /// In a sentence, for the log: how much of what would be another.
    pub fn in_short(&self) -> String {
        let count = |many: usize, one: &str, more: &str| match many {
            0 => None,
            1 => Some(format!("1 {one}")),
            many => Some(format!("{many} {more}")),
        };
        let description = [
            self.unread.then(|| "the book's text does not read".to_owned()),
            self.class.as_ref().map(|(was, is)| format!("class {was}; now {is}")),
            self.tubes.as_ref().map(|_| "other tubes".to_owned()),
            count(self.verdicts.len(), "verdict is another", "verdicts are others"),
            count(self.shots_new.len(), "photograph more", "photographs more"),
            count(self.shots_gone.len(), "photograph less", "photographs less"),
        ];
        let description: Vec<String> = description.into_iter().flatten().collect();
        if description.is_empty() {
            "No verdict, tube or photograph is another".to_owned()
        } else {
            capital(&description.join("; "))
        }
    }
}

fn class(found: &Findings) -> String {
    match &found.worked.class {
        Some(Ok(answer)) => format!("{}, {}", answer.class, answer.edges),
        Some(Err(why)) => format!("none: {why}"),
        None => "none: not weighed".to_owned(),
    }
}

fn tubes(found: &Findings) -> String {
    match &found.worked.class {
        Some(Ok(answer)) => {
            let (hoop, other) = (TubeRow::sizes(&answer.tubes.hoop), TubeRow::sizes(&answer.tubes.other));
            format!("main bars {hoop}; other bars {other}")
        }
        _ => "not known without a class".to_owned(),
    }
}

/// The verdicts whose word is another, in the newer book's order, then those that are gone; and how many only have another
/// limit.
fn verdicts(before: &Findings, after: &Findings) -> (Vec<VerdictChange>, usize) {
    let ids = |found: &'_ Findings| -> HashSet<String> {
        found.worked.rules.iter().flat_map(RuleBook::rules).map(|rule| rule.id.clone()).collect()
    };
    let (older, newer) = (ids(before), ids(after));
    let change = |(was, is): Pair<'_>| {
        let id = is.or(was).map_or("", |verdict| verdict.rule_id.as_str());
        VerdictChange { was: was.cloned(), is: is.cloned(), in_book: (older.contains(id), newer.contains(id)) }
    };
    let name = |of: Balloon| of.to_string();
    let (pairs, other_limits) = paired(&before.worked.verdicts, &after.worked.verdicts, [&name, &name]);
    (pairs.into_iter().map(change).collect(), other_limits)
}
