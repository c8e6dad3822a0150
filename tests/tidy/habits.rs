//! Habits that plain reading can hold: changes come from actions alone, folders stay small, arguments are not packed to pass
//! the lint, every dependency's licence is one that we may use.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;
use std::process::Command;

use crate::{files_under, floor_of, without_tests};

/// Most files of a folder.
const FILES: usize = 20;
/// Most entries of a folder of the domain, its door plate aside; two are larger still, and may only shrink.
const ENTRIES: usize = 12;
const LARGER: &[(&str, usize)] = &[("src/domain/cage/record", 13), ("src/domain/judge/verdicts", 15)];
/// Arguments that are several packed in one. Fewer each time; a new one is a struct with a name.
const PACKED: usize = 113;

#[test]
fn changes_come_from_actions_alone() {
    let mut faults = Vec::new();
    for file in files_under("src", ".rs") {
        let floor = floor_of(&file);
        let text = fs::read_to_string(&file).unwrap();
        if !matches!(floor.as_str(), "actions" | "store")
            && (text.contains(".store.change(") || text.contains("store\n        .change("))
        {
            faults.push(format!("{}: writes by itself; give it a verb in actions", file.display()));
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

#[test]
fn folders_are_small() {
    let mut folders: BTreeMap<String, usize> = BTreeMap::new();
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    for file in files_under("src", ".rs") {
        let folder = file.parent().unwrap().strip_prefix(root).unwrap().to_string_lossy().into_owned();
        *folders.entry(folder).or_default() += 1;
    }
    let mut faults: Vec<String> = folders
        .iter()
        .filter(|(_, files)| **files > FILES)
        .map(|(folder, files)| format!("{folder}: {files} files"))
        .collect();
    for folder in folders.keys().filter(|folder| folder.starts_with("src/domain")) {
        let entries = fs::read_dir(root.join(folder)).unwrap().count() - 1;
        let most = LARGER.iter().find(|larger| larger.0 == folder).map_or(ENTRIES, |larger| larger.1);
        if entries > most {
            faults.push(format!("{folder}: {entries} entries"));
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

/// How many arguments of a text's functions are tuples of several.
fn packed(text: &str) -> usize {
    let arguments = text.split("fn ").skip(1).filter_map(|rest| {
        let (head, _) = rest.split_once('{')?;
        head.split_once('(').map(|(_, arguments)| arguments.to_owned())
    });
    let one = |arguments: String| {
        arguments
            .match_indices("): (")
            .filter(|(at, _)| {
                arguments.get(..*at).is_some_and(|before| {
                    before.rfind('(').is_some_and(|open| {
                        before.get(open + 1..).is_some_and(|inside| {
                            inside.contains(',')
                                && inside
                                    .chars()
                                    .all(|letter| letter.is_alphanumeric() || matches!(letter, '_' | ',' | ' ' | '\n'))
                        })
                    })
                })
            })
            .count()
    };
    arguments.map(one).sum()
}

#[test]
fn no_more_arguments_are_packed_than_there_were() {
    assert_eq!(packed("fn put((a, b): (u32, u32), c: u32) {}\nfn plain(a: (u32, u32)) {}"), 1);
    let all = files_under("src", ".rs");
    let found: usize = all.iter().map(|file| packed(&without_tests(file, &fs::read_to_string(file).unwrap()))).sum();
    assert!(
        found <= PACKED,
        "{found} packed arguments, where there were {PACKED}: give the new one a struct with a name"
    );
    assert!(found == PACKED, "{found} are left: write that in place of {PACKED}");
}

/// Licences under which a library may be in the program (SPDX identifiers).
const LICENCES: &[&str] = &[
    "0BSD",
    "Apache-2.0",
    "BSD-2-Clause",
    "BSD-3-Clause",
    "BSL-1.0",
    "CC0-1.0",
    "CDLA-Permissive-2.0",
    "IJG",
    "ISC",
    "MIT",
    "MIT-0",
    "Unicode-3.0",
    "Unlicense",
    "Zlib",
];

/// Whether an SPDX expression can be kept with those: any side of an OR, both of an AND.
fn may_use(expression: &str) -> bool {
    let plain = expression.replace(['(', ')'], " ").replace('/', " OR ");
    let ands = plain.split(" AND ");
    ands.into_iter().all(|part| {
        part.split(" OR ").any(|one| {
            let one = one.trim().split(" WITH ").next().unwrap_or_default().trim();
            LICENCES.contains(&one)
        })
    })
}

#[test]
fn every_dependency_has_a_licence_that_we_may_use() {
    assert!(may_use("MIT OR GPL-3.0") && may_use("(MIT OR Apache-2.0) AND Unicode-3.0"));
    assert!(!may_use("GPL-3.0") && !may_use("MIT AND GPL-3.0") && !may_use(""));
    let said = Command::new(env!("CARGO"))
        .args(["metadata", "--locked", "--format-version", "1"])
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .output()
        .unwrap();
    assert!(said.status.success(), "{}", String::from_utf8_lossy(&said.stderr));
    let metadata: serde_json::Value = serde_json::from_slice(&said.stdout).unwrap();
    let packages = metadata["packages"].as_array().unwrap();
    assert!(packages.len() > 100);
    let faults: Vec<String> = packages
        .iter()
        .filter(|package| !may_use(package["license"].as_str().unwrap_or_default()))
        .map(|package| format!("{} {}: {}", package["name"], package["version"], package["license"]))
        .collect();
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}
