//! The order of rooms: inside the domain each names only those above it, no two files name each other even by a detour, and
//! a room of the web names no other room.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};

use crate::{files_under, without_tests};

/// Rooms of the web that still take something from another. A line goes when its room needs it no more; none is added: what
/// two rooms show stands in `web/` itself.
const STILL: &[(&str, &str)] = &[];

/// The modules of a door plate, in its order.
fn modules(text: &str) -> Vec<String> {
    let named = text.lines().filter_map(|line| line.trim().strip_suffix(';')?.split_once("mod "));
    let plain = |name: &str| name.chars().all(|letter| letter.is_alphanumeric() || letter == '_');
    named.map(|(_, name)| name.to_owned()).filter(|name| plain(name)).collect()
}

fn src() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("src")
}

/// The room of a file under a floor: its first folder, or itself.
fn room_of(file: &Path, floor: &str) -> String {
    let inside = file.strip_prefix(src().join(floor)).unwrap();
    let first = inside.components().next().unwrap().as_os_str().to_string_lossy();
    first.trim_end_matches(".rs").to_owned()
}

/// What follows a path's beginning, as far as the next word goes: `words` of `crate::domain::words::ids`.
fn named<'t>(text: &'t str, from: &str) -> impl Iterator<Item = &'t str> {
    text.split(from).skip(1).map(|rest| {
        let end = rest.find(|letter: char| !(letter.is_alphanumeric() || letter == '_')).unwrap_or(rest.len());
        rest.get(..end).unwrap_or_default()
    })
}

#[test]
fn a_room_of_the_domain_names_only_those_above_it() {
    let order = modules(&fs::read_to_string(src().join("domain/mod.rs")).unwrap());
    assert!(order.len() > 5, "{order:?}");
    let mut faults = Vec::new();
    for file in files_under("src/domain", ".rs").into_iter().filter(|file| !file.ends_with("domain/mod.rs")) {
        let room = room_of(&file, "domain");
        let place = order.iter().position(|other| *other == room).unwrap();
        let text = without_tests(&file, &fs::read_to_string(&file).unwrap());
        for other in named(&text, "crate::domain::") {
            if order.iter().position(|one| one == other).is_none_or(|other| other > place) {
                faults
                    .push(format!("{}: {room} names {other}, which stands below it in domain/mod.rs", file.display()));
            }
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

#[test]
fn a_room_of_the_web_names_no_other() {
    let rooms: Vec<String> = fs::read_dir(src().join("web"))
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.is_dir() && !path.ends_with("shown"))
        .map(|path| path.file_name().unwrap().to_string_lossy().into_owned())
        .collect();
    let mut found: BTreeSet<(String, String)> = BTreeSet::new();
    for file in files_under("src/web", ".rs") {
        let room = room_of(&file, "web");
        if !rooms.contains(&room) {
            continue;
        }
        let text = fs::read_to_string(&file).unwrap();
        let beside = file.parent() == Some(&src().join("web").join(&room)) && file.ends_with("mod.rs");
        let mut others: Vec<&str> = named(&text, "crate::web::").collect();
        if beside {
            others.extend(named(&text, "use super::"));
            let listed = text.split("use super::{").skip(1).filter_map(|rest| rest.split('}').next());
            others.extend(listed.flat_map(|list| list.split([',', ' ', '\n'])));
        }
        let others = others.into_iter().filter(|other| *other != room && rooms.iter().any(|one| one == other));
        found.extend(others.map(|other| (room.clone(), other.to_owned())));
    }
    let still: BTreeSet<(String, String)> = STILL.iter().map(|(one, two)| ((*one).into(), (*two).into())).collect();
    let new: Vec<_> = found.difference(&still).collect();
    assert!(new.is_empty(), "what two rooms show stands in web/ itself: {new:?}");
    let gone: Vec<_> = still.difference(&found).collect();
    assert!(gone.is_empty(), "take these out of STILL: {gone:?}");
}

/// Where a path from a file leads: the file it names an item of, through the door plates.
struct House {
    files: BTreeMap<Vec<String>, PathBuf>,
}

impl House {
    fn of(floor: &str) -> Self {
        let of = |file: PathBuf| {
            let inside = file.strip_prefix(src()).unwrap().with_extension("");
            let mut path: Vec<String> =
                inside.components().map(|part| part.as_os_str().to_string_lossy().into_owned()).collect();
            if path.last().is_some_and(|last| last == "mod") {
                path.pop();
            }
            (path, file)
        };
        Self { files: files_under(&format!("src/{floor}"), ".rs").into_iter().map(of).collect() }
    }

    /// The longest beginning of a path that is a file.
    fn file(&self, path: &[String]) -> Option<Vec<String>> {
        (1..=path.len())
            .rev()
            .find_map(|length| self.files.get_key_value(path.get(..length)?))
            .map(|found| found.0.clone())
    }

    /// The files that a file names by `crate::` and `super::`.
    fn names(&self, from: &[String], text: &str) -> BTreeSet<Vec<String>> {
        let mut all = BTreeSet::new();
        for (start, base) in
            [("crate::", Vec::new()), ("super::", from.get(..from.len() - 1).unwrap_or_default().to_vec())]
        {
            for rest in text.split(start).skip(1) {
                let end = rest
                    .find(|letter: char| !(letter.is_alphanumeric() || matches!(letter, '_' | ':')))
                    .unwrap_or(rest.len());
                let steps = rest.get(..end).unwrap_or_default().split("::").filter(|step| !step.is_empty());
                let path: Vec<String> = base.iter().cloned().chain(steps.map(str::to_owned)).collect();
                all.extend(self.file(&path));
            }
        }
        // a room's door plate and what is in the room are one
        all.retain(|other| !other.starts_with(from) && !from.starts_with(other));
        all
    }
}

/// Files that name each other, even by a detour: from each of them the way back is found.
fn circles(names: &BTreeMap<Vec<String>, BTreeSet<Vec<String>>>) -> Vec<String> {
    let reached = |from: &Vec<String>| {
        let (mut seen, mut left) = (BTreeSet::new(), vec![from.clone()]);
        while let Some(file) = left.pop() {
            for next in names.get(&file).into_iter().flatten() {
                if seen.insert(next.clone()) {
                    left.push(next.clone());
                }
            }
        }
        seen
    };
    names.keys().filter(|file| reached(file).contains(*file)).map(|file| file.join("/")).collect()
}

#[test]
fn no_two_files_of_the_domain_name_each_other_even_by_a_detour() {
    let house = House::of("domain");
    let names = house.files.iter().map(|(path, file)| {
        let text = without_tests(file, &fs::read_to_string(file).unwrap());
        (path.clone(), house.names(path, &text))
    });
    let names: BTreeMap<_, _> = names.collect();
    assert!(names.values().map(BTreeSet::len).sum::<usize>() > 500, "the paths are read");
    assert_eq!(circles(&names), Vec::<String>::new());
}

#[test]
fn a_planted_circle_is_found() {
    let file = |name: &str| vec!["domain".to_owned(), name.to_owned()];
    let to = |names: &[&str]| names.iter().map(|name| file(name)).collect::<BTreeSet<_>>();
    let names: BTreeMap<_, _> =
        [(file("one"), to(&["two"])), (file("two"), to(&["three"])), (file("three"), to(&["two"]))].into();
    assert_eq!(circles(&names), ["domain/three", "domain/two"]);
}
