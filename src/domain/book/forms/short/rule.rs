//! What every rule that a short form writes carries, and how its pairs are put together.

use crate::domain::book::forms::editing::{Editing, Pairs};
use crate::domain::book::terms::rule::Sure;
use crate::domain::words::faults::Fault;
use crate::domain::words::limits;

/// Where the rules of a short form are from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Source {
    /// The clause of the organiser's book, as cited.
    pub clause: String,
    /// How it is known, by its word.
    pub sure: String,
}

impl Source {
    /// What is wrong with it, at `clause` and `sure`.
    pub(super) fn faults(&self) -> Vec<Fault> {
        let mut faults = limits::title_faults("clause", &self.clause);
        if !Sure::WORDS.iter().any(|word| word.0 == self.sure) {
            faults.push(Fault::new("sure", "Choose how it is known."));
        }
        faults
    }

    /// The pairs of a new rule, without its own fields.
    pub(super) fn of_new(&self, id: String, words: String) -> Pairs {
        let common = [
            ("id", id),
            ("clause", self.clause.trim().to_owned()),
            ("text_ours", words),
            ("force", "must".to_owned()),
            ("evidence", "figure".to_owned()),
            ("sure", self.sure.clone()),
        ];
        common.into_iter().map(|(name, text)| (name.to_owned(), text)).collect()
    }
}

/// What stands under a name; empty where nothing does.
pub(super) fn under<'p>(pairs: &'p Pairs, name: &str) -> &'p str {
    pairs.iter().find(|pair| pair.0 == name).map_or("", |pair| pair.1.trim())
}

/// The same pairs with one field said otherwise.
pub(super) fn set(pairs: &mut Pairs, name: impl Into<String>, text: impl Into<String>) {
    let (name, text) = (name.into(), text.into());
    pairs.retain(|pair| pair.0 != name);
    pairs.push((name, text));
}

/// A name in the book that no rule has yet: `class`, `class-2`.
pub(super) fn free_id(editing: &Editing, plain: &str) -> String {
    let taken: Vec<String> = editing.rules().into_iter().map(|line| line.id).collect();
    let names = std::iter::once(plain.to_owned()).chain((2..=taken.len() + 1).map(|at| format!("{plain}-{at}")));
    // Of one name more than there are rules, one is free.
    names.into_iter().find(|name| !taken.contains(name)).unwrap_or_default()
}
