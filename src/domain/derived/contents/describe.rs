//! What differs between two records, in the trade's words.

use std::collections::BTreeSet;

use super::Change;
use super::frozen::{Record, Thing};
use super::leaves::{Leaf, Leaves};
use super::sorts::Sort;
use crate::domain::cage::{BasicStructure, TapeMeasure, key_words};
use crate::domain::words::car_dates::CarDate;

/// So many values of a new thing are told.
const VALUES: usize = 6;

/// What of the record is not as it was.
pub(super) fn changes(was: &Record, is: &Record) -> Vec<Change> {
    let keys: BTreeSet<&String> = was.keys().chain(is.keys()).collect();
    keys.into_iter().flat_map(|key| of_thing(key, was.get(key), is.get(key))).collect()
}

fn of_thing(key: &str, was: Option<&Leaves>, is: Option<&Leaves>) -> Vec<Change> {
    let Some(thing) = Thing::of(key) else {
        // Frozen by another program: that it is not the same is all that can be said of it.
        let what = format!("{key} is not as it was");
        return if was == is { Vec::new() } else { vec![Change { at: super::CAR, what, adds: false }] };
    };
    let named = thing.named();
    let begins = if named.is_empty() { String::new() } else { format!("{named}: ") };
    let one = |what: String, adds| vec![Change { at: thing.at, what, adds }];
    let empty = Leaves::new();
    match (was, is) {
        // New photographs and marks are counted with their bytes.
        (None, Some(_)) | (Some(_), None) if matches!(thing.sort, Sort::Photo | Sort::Mark) => Vec::new(),
        (None, Some(is)) if !thing.sort.alone() => {
            let said = is.iter().filter(|(path, _)| !thing.sort.goes_without_saying(path));
            let values: Vec<String> = said.map(|(path, leaf)| thing.value(path, leaf)).take(VALUES).collect();
            // A bar that was cut already and is cut again is another piece.
            let again = thing.sort == Sort::Cut && !thing.which.trim().is_empty();
            one(format!("{} is new: {}", thing.word(), values.join(", ")), !again)
        }
        (Some(_), None) if !thing.sort.alone() => one(format!("{} is not there any more", thing.word()), false),
        (was, is) => {
            let (was, is) = (was.unwrap_or(&empty), is.unwrap_or(&empty));
            let paths: BTreeSet<&String> = was.keys().chain(is.keys()).collect();
            let differs = |path: &&String| was.get(*path).map(Leaf::is) != is.get(*path).map(Leaf::is);
            let description = paths.into_iter().filter(differs).map(|path| {
                let text = |leaves: &Leaves| {
                    leaves.get(path).map_or_else(|| "not set".to_owned(), |leaf| thing.value(path, leaf))
                };
                let words = thing.sort.words(path);
                let words = if words.is_empty() { String::new() } else { format!("{words}: ") };
                let what = format!("{begins}{words}was {}; now {}", text(was), text(is));
                Change { at: thing.at, what, adds: !was.contains_key(path) }
            });
            description.collect()
        }
    }
}

impl Thing {
    /// What stands before a change of one value of it; empty where its number or the value says enough.
    fn named(&self) -> String {
        let which = &self.which;
        match self.sort {
            Sort::Forecast => format!("foreseen before W{which}"),
            Sort::Wheels => "wheels".to_owned(),
            Sort::Listed => format!("line {which} of what goes in and comes out"),
            Sort::HandBar => "bar by hand".to_owned(),
            Sort::Body => format!("place {which} of the body"),
            Sort::Seat => format!("seat {which}"),
            Sort::Plate if !which.is_empty() => format!("plate, {}", which.replace('_', " ")),
            Sort::Dies => "die".to_owned(),
            Sort::OwnTube => "tube of its own".to_owned(),
            Sort::Lowering => "lowering".to_owned(),
            Sort::Photo => "a photograph".to_owned(),
            Sort::Mark => "a mark over a photograph".to_owned(),
            Sort::Way => "where it was before".to_owned(),
            Sort::Measured => which.clone(),
            Sort::Ruling => format!("ruling {which}"),
            Sort::Build
            | Sort::Car
            | Sort::WeighIn
            | Sort::Cage
            | Sort::Measures
            | Sort::Plate
            | Sort::Gusset
            | Sort::Stick
            | Sort::Cut
            | Sort::Kit => String::new(),
        }
    }

    /// What it is called when it is new or gone.
    fn word(&self) -> String {
        match (self.sort, self.named()) {
            (Sort::Cut, _) => "the stick it is cut from".to_owned(),
            (Sort::Plate, named) if named.is_empty() => "plate".to_owned(),
            (Sort::Gusset, _) => "gusset".to_owned(),
            (Sort::WeighIn, _) => "weigh-in".to_owned(),
            (Sort::Stick, _) => "stick".to_owned(),
            (Sort::Kit, _) => "item".to_owned(),
            (_, named) => named,
        }
    }

    /// A value as it is read: the trade's word where there is one.
    fn value(&self, path: &str, leaf: &Leaf) -> String {
        let text = leaf.describe();
        match (self.sort, path) {
            (Sort::Gusset, "kind") => match text {
                "saddle" => "bent-sheet saddle".to_owned(),
                "flat" => "flat plate".to_owned(),
                other => other.to_owned(),
            },
            (Sort::Cage, _) if self.which == "structure" => {
                text.parse().map_or_else(|_| text.to_owned(), |structure: BasicStructure| structure.word().to_owned())
            }
            _ if KEYS.contains(&last_of(path)) => key_words(text),
            (Sort::Cage, _) | (Sort::HandBar, "role") | (Sort::Body, "part") => text.replace('_', " "),
            _ => text.to_owned(),
        }
    }
}

impl Sort {
    /// Whether there is always one of it, so that its values are told and not that it is new.
    const fn alone(self) -> bool {
        matches!(
            self,
            Self::Build | Self::Car | Self::Wheels | Self::Cage | Self::Measures | Self::Dies | Self::Lowering
        )
    }

    /// Whether a value of a new thing is left out of the sentence: when and by whom it was entered, and where a gusset
    /// sits, which its number says.
    fn goes_without_saying(self, path: &str) -> bool {
        let gusset = self == Self::Gusset && (path.starts_with("between") || path == "joint");
        gusset || matches!(last_of(path), "at" | "by" | "recorded" | "toward" | "printed")
    }

    /// What a value is called; empty where its own text says it.
    fn words(self, path: &str) -> String {
        match (self, path) {
            (Self::Gusset, "kind") | (Self::Plate, "fixed") => String::new(),
            (Self::Cage, "") => "the cage".to_owned(),
            (Self::Measured, _) if path.starts_with("amount") => String::new(),
            (Self::Measured, "tool") => "read with".to_owned(),
            (Self::Cut, "from") => "cut from".to_owned(),
            (Self::Cut, "at") => "cut".to_owned(),
            (Self::Cut, "by") => "cut by".to_owned(),
            (Self::Car, key) => CarDate::ALL
                .into_iter()
                .find(|date| date.key() == key)
                .map_or_else(|| spoken(path), |date| date.asked().to_lowercase()),
            (Self::Measures, _) => {
                TapeMeasure::try_from(path.to_owned()).map_or_else(|_| spoken(path), TapeMeasure::word)
            }
            _ => spoken(path),
        }
    }
}

/// The fields that name a bar or a joint by its key.
const KEYS: [&str; 5] = ["on", "bar", "member", "joint", "corner_with"];

fn last_of(path: &str) -> &str {
    path.rsplit('/').next().unwrap_or(path)
}

/// A path as one says it.
fn spoken(path: &str) -> String {
    path.replace('/', ", ").replace('_', " ")
}

/// Whether any value differs.
pub(super) fn differ(was: &Leaves, is: &Leaves) -> bool {
    was.len() != is.len() || was.iter().any(|(path, leaf)| is.get(path).map(Leaf::is) != Some(leaf.is()))
}

/// The values that differ, by their names.
pub(super) fn leaf_by_leaf(was: &Leaves, is: &Leaves) -> String {
    let paths: BTreeSet<&String> = was.keys().chain(is.keys()).collect();
    let text = |leaves: &Leaves, path: &String| leaves.get(path).map_or("not set", Leaf::describe).to_owned();
    let differs = |path: &&String| was.get(*path).map(Leaf::is) != is.get(*path).map(Leaf::is);
    let description = paths.into_iter().filter(differs);
    let description =
        description.map(|path| format!("{}: was {}; now {}", spoken(path), text(was, path), text(is, path)));
    description.collect::<Vec<_>>().join(", ")
}
