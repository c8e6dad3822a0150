//! What is not as it was put before the scrutineer.

use std::collections::BTreeSet;

use super::frozen::Thing;
use super::leaves::Leaves;
use super::{CAR, Change, Contents, FORMAT, describe};
use crate::domain::judge::verdicts::Word;
use crate::domain::words::ids::Balloon;

/// The words of a verdict that fails, as they are written.
const FAILS: [&str; 2] = ["short_by", "over_by"];

impl Contents {
    /// What is not as it was put before the scrutineer. The log, the questions and the photographs still to come go on;
    /// of a list in an older format, what it did not keep is said to be unknown.
    pub fn changes_since(&self, before: &Self) -> Vec<Change> {
        let unknown = before.unknown();
        let whole = unknown.is_none();
        let mut changes = if whole { describe::changes(&before.record, &self.record) } else { Vec::new() };
        changes.extend(unknown);
        if self.book != before.book {
            changes.push(Change::otherwise(CAR, "judged by another rule book or edition"));
        }
        changes.extend(self.words_since(before));
        let description: BTreeSet<Balloon> = changes.iter().map(|change| change.at).collect();
        // What follows is told where nothing that it follows from is told of the same part.
        let silent = |change: &Change| change.at == CAR || !description.contains(&change.at);
        changes.extend(self.parts_since(before).into_iter().filter(silent));
        changes.extend(self.photos_since(before));
        changes.extend(self.welded_since(before));
        if whole {
            let description: BTreeSet<Balloon> = changes.iter().map(|change| change.at).collect();
            changes.extend(self.rests_since(before).into_iter().filter(|change| !description.contains(&change.at)));
        }
        changes.sort_by_key(|change| change.at);
        changes
    }

    /// What a list in an older format cannot tell; none of one that kept the whole record.
    pub fn unknown(&self) -> Option<Change> {
        if self.tackbook_round == FORMAT {
            return None;
        }
        let what = format!(
            "round {} was issued before gussets' kinds, plates' fixings, seats, dates, rulings and whatever else is recorded \
             were kept with it: whether any of them changed since cannot be told",
            self.round
        );
        Some(Change::otherwise(CAR, what))
    }

    /// The parts as they follow from the record: bars, joints, the class.
    fn parts_since(&self, before: &Self) -> Vec<Change> {
        let mut changes = Vec::new();
        let names: BTreeSet<&String> = self.parts.keys().chain(before.parts.keys()).collect();
        for name in names {
            let (what, adds) = match (before.parts.get(name), self.parts.get(name)) {
                (Some(was), Some(is)) if was != is => (told_apart(was, is), was.iter().all(|line| is.contains(line))),
                (None, Some(_)) => ("is new".to_owned(), true),
                (Some(_), None) => ("is not there any more".to_owned(), false),
                _ => continue,
            };
            changes.push(Change { at: at(name), what, adds });
        }
        changes
    }

    /// What was welded while it was held, and was not told then.
    fn welded_since(&self, before: &Self) -> Vec<Change> {
        let told = |name: &str, line: &String| before.welded_held.get(name).is_some_and(|lines| lines.contains(line));
        let each = self.welded_held.iter().flat_map(|(name, lines)| lines.iter().map(move |line| (name, line)));
        each.filter(|(name, line)| !told(name, line)).map(|(name, line)| Change::otherwise(at(name), line)).collect()
    }

    /// The photographs that count, and what is drawn over them.
    fn photos_since(&self, before: &Self) -> Vec<Change> {
        let mut changes = Vec::new();
        let names: BTreeSet<&String> = self.photos.keys().chain(before.photos.keys()).collect();
        for name in names {
            let of = |contents: &Self| contents.photos.get(name).cloned().unwrap_or_default();
            let (was, is) = (of(before), of(self));
            let more = is.iter().filter(|photo| !was.contains(photo)).count();
            let fewer = was.iter().filter(|photo| !is.contains(photo)).count();
            if more > 0 {
                let what = format!("photographed again: {more} more");
                changes.push(Change { at: at(name), what, adds: true });
            }
            if fewer > 0 {
                changes.push(Change::otherwise(
                    at(name),
                    format!("photographs withdrawn or of the earlier piece: {fewer}"),
                ));
            }
        }
        let names: BTreeSet<&String> = self.drawn.keys().chain(before.drawn.keys()).collect();
        let differ = names.into_iter().filter(|name| self.drawn.get(*name) != before.drawn.get(*name));
        changes.extend(differ.map(|name| Change::otherwise(at(name), "other marks drawn over its photographs")));
        changes
    }

    /// The verdicts whose word is another, whose ruling is, or that are new or gone.
    fn words_since(&self, before: &Self) -> Vec<Change> {
        let keys: BTreeSet<&String> = self.verdicts.keys().chain(before.verdicts.keys()).collect();
        let turned = |key: &&String| {
            // An older list has the word with its figure alone.
            if before.judged.is_empty() {
                before.verdicts.get(*key) != self.verdicts.get(*key)
            } else {
                before.judged.get(*key).map(turns) != self.judged.get(*key).map(turns)
            }
        };
        keys.into_iter().filter(turned).map(|key| self.turned(before, key)).collect()
    }

    fn turned(&self, before: &Self, key: &str) -> Change {
        let of = |contents: &Self| contents.verdicts.get(key).cloned();
        let (was, is) = (of(before), of(self));
        let begins = |line: &Option<String>, words: &[Word]| {
            line.as_ref().is_some_and(|line| words.iter().any(|word| line.starts_with(word.word())))
        };
        let fails = [Word::ShortBy, Word::OverBy];
        let adds = !begins(&was, &[Word::Meets])
            && !begins(&is, &fails)
            && !is.as_ref().is_some_and(|line| line.starts_with("does not meet"));
        let (at, rule) = self.rule_of(before, key);
        let said = |line: Option<String>| line.unwrap_or_else(|| "no such rule".to_owned());
        Change { at, what: format!("{rule}: was {}; now {}", said(was), said(is)), adds }
    }

    /// Each verdict's part, its rule, and its word with its figure.
    pub fn describe(&self) -> impl Iterator<Item = (Balloon, String, &str)> {
        self.verdicts.iter().map(|(key, line)| {
            let (of, rule) = self.rule_of(self, key);
            (of, rule, line.as_str())
        })
    }

    /// What fails and is left to the scrutineer: part and rule.
    pub fn found_failing(&self) -> impl Iterator<Item = (Balloon, String)> {
        let fails = |leaves: &Leaves| leaves.get("found").is_some_and(|found| FAILS.contains(&found.is()));
        self.judged.iter().filter(move |(_, leaves)| fails(leaves)).map(|(key, _)| self.rule_of(self, key))
    }

    /// Whether it shows a part under this number, so that a reply can speak of it.
    pub fn shows(&self, part: Balloon) -> bool {
        let named = |name: &str| name.parse() == Ok(part);
        part == CAR
            || self.parts.keys().chain(self.photos.keys()).chain(self.missing.keys()).any(|name| named(name))
            || self.questions.keys().any(|name| named(name))
            || self.describe().any(|(of, _, _)| of == part)
            || self.record.keys().filter_map(|key| Thing::of(key)).any(|thing| thing.at == part && thing.sort.is_part())
    }

    /// The part and the rule of a verdict's key.
    fn rule_of(&self, before: &Self, key: &str) -> (Balloon, String) {
        let (rule, rest) = key.split_once(' ').unwrap_or((key, ""));
        let (of, measure) = rest.split_once(", ").unwrap_or((rest, ""));
        let judged = self.judged.get(key).or_else(|| before.judged.get(key));
        let clause = judged.and_then(|leaves| leaves.get("clause")).map(|clause| format!("{} ", clause.describe()));
        let measure = if measure.is_empty() { String::new() } else { format!(", {measure}") };
        (at(of), format!("clause {}{rule}{measure}", clause.unwrap_or_default()))
    }

    /// The verdicts that have the same word and rest on something else.
    fn rests_since(&self, before: &Self) -> Vec<Change> {
        let both = self.judged.iter().filter_map(|(key, is)| Some((key, before.judged.get(key)?, is)));
        let otherwise = both.filter(|(_, was, is)| turns(was) == turns(is) && describe::differ(was, is));
        otherwise
            .map(|(key, was, is)| {
                let (at, rule) = self.rule_of(before, key);
                Change::otherwise(at, format!("{rule}: {}", describe::leaf_by_leaf(was, is)))
            })
            .collect()
    }
}

/// What turns a verdict: its word, what was found before the scrutineer decides, a ruling.
fn turns(leaves: &Leaves) -> Vec<(&String, &str)> {
    let turning = |path: &str| path == "word" || path == "found" || path.starts_with("ruling/");
    leaves.iter().filter(|(path, _)| turning(path)).map(|(path, leaf)| (path, leaf.is())).collect()
}

fn at(name: &str) -> Balloon {
    name.parse().unwrap_or(CAR)
}

/// The lines that differ, old and new.
fn told_apart(was: &[String], is: &[String]) -> String {
    let gone: Vec<&str> = was.iter().filter(|line| !is.contains(line)).map(String::as_str).collect();
    let new: Vec<&str> = is.iter().filter(|line| !was.contains(line)).map(String::as_str).collect();
    match (gone.is_empty(), new.is_empty()) {
        (false, false) => format!("was {}; now {}", gone.join(", "), new.join(", ")),
        (true, _) => format!("now also {}", new.join(", ")),
        (_, true) => format!("no longer {}", gone.join(", ")),
    }
}
