//! The house rules that plain reading can hold: floors, sizes, first lines, forbidden words.
#![expect(clippy::unwrap_used, reason = "a test may stop")]

mod habits;
mod rooms;

use std::fs;
use std::path::{Path, PathBuf};

/// Floors bottom to top, and the floors each may name.
const FLOORS: &[(&str, &[&str])] = &[
    ("quantity", &[]),
    ("geometry", &["quantity"]),
    ("domain", &["quantity", "geometry"]),
    ("drawing", &["quantity", "geometry", "domain"]),
    ("documents", &["quantity", "geometry", "domain", "drawing"]),
    ("imaging", &["quantity", "geometry", "domain", "drawing"]),
    ("clock", &[]),
    ("store", &["quantity", "geometry", "domain", "clock"]),
    ("actions", &["quantity", "geometry", "domain", "drawing", "documents", "imaging", "clock", "store"]),
    ("web", &["quantity", "geometry", "domain", "drawing", "documents", "imaging", "clock", "store", "actions"]),
    (
        "cli",
        &[
            "quantity",
            "geometry",
            "domain",
            "drawing",
            "documents",
            "imaging",
            "clock",
            "store",
            "actions",
            "startup",
            "demo",
        ],
    ),
    ("demo", &["quantity", "geometry", "domain", "drawing", "documents", "imaging", "clock", "store", "actions"]),
];

/// Crates that only some floors may name.
const CRATES: &[(&str, &[&str])] = &[
    ("sqlx", &["store"]),
    ("printpdf", &["documents"]),
    ("ssh_key", &["actions"]),
    ("age", &["actions"]),
    ("lopdf", &["documents"]),
    ("ttf_parser", &["drawing"]),
    ("image", &["imaging"]),
    ("tiny_skia", &["imaging"]),
    ("ab_glyph", &["imaging"]),
    ("jpeg_decoder", &["imaging"]),
    ("jpeg_encoder", &["imaging"]),
    ("fast_image_resize", &["imaging"]),
    ("exif", &["imaging"]),
    ("axum", &["web", "startup"]),
    ("hyper", &["startup"]),
    ("zxcvbn", &["domain"]),
    ("unicode_security", &["domain"]),
    ("askama", &["web", "documents"]),
    ("clap", &["cli"]),
];

/// Texts that stand nowhere in `src/`, and what to do instead.
const NEVER: &[(&str, &str)] = &[
    ("super::super", "name it from crate::"),
    ("#[allow", "use #[expect(…, reason = \"…\")]"),
    ("TODO", "do it, or leave it out"),
    ("FIXME", "mend it"),
    ("dbg!(", "take it out"),
];

fn files_under(folder: &str, ending: &str) -> Vec<PathBuf> {
    let mut found = Vec::new();
    let mut folders = vec![Path::new(env!("CARGO_MANIFEST_DIR")).join(folder)];
    while let Some(folder) = folders.pop() {
        let Ok(entries) = fs::read_dir(&folder) else { continue };
        for entry in entries.map(|entry| entry.unwrap().path()) {
            if entry.is_dir() {
                folders.push(entry);
            } else if entry.to_string_lossy().ends_with(ending) {
                found.push(entry);
            }
        }
    }
    found.sort();
    found
}

/// A source text without its tests: they may look wherever they want.
fn without_tests(file: &Path, text: &str) -> String {
    if file.ends_with("tests.rs") {
        return String::new();
    }
    let code = text.split("#[cfg(test)]\nmod tests {").next().unwrap_or_default();
    let plain = code.lines().filter(|line| !line.trim_start().starts_with("//"));
    plain.collect::<Vec<_>>().join("\n")
}

fn floor_of(file: &Path) -> String {
    let inside = file.strip_prefix(Path::new(env!("CARGO_MANIFEST_DIR")).join("src")).unwrap();
    let first = inside.components().next().unwrap().as_os_str().to_string_lossy().into_owned();
    first.trim_end_matches(".rs").to_owned()
}

/// The floors that a source text names as `crate::x`, braced lists over several lines among them.
fn named_floors(text: &str) -> Vec<String> {
    let mut named = Vec::new();
    for rest in text.split("crate::").skip(1) {
        if let Some(list) = rest.strip_prefix('{') {
            let mut depth = 1;
            let mut word = String::new();
            for letter in list.chars() {
                match letter {
                    '{' => depth += 1,
                    '}' => depth -= 1,
                    _ => {}
                }
                if depth == 1 && (letter.is_alphanumeric() || letter == '_') {
                    word.push(letter);
                } else if depth == 1 && letter != ' ' && letter != '\n' {
                    named.push(std::mem::take(&mut word));
                    if letter == ':' {
                        // what follows belongs to the floor just named
                        depth = 1;
                    }
                }
                if depth == 0 {
                    named.push(word);
                    break;
                }
            }
        } else {
            named.push(rest.chars().take_while(|letter| letter.is_alphanumeric() || *letter == '_').collect());
        }
    }
    named.retain(|name| FLOORS.iter().any(|floor| floor.0 == name));
    named
}

fn faults_of(floor: &str, text: &str) -> Vec<String> {
    let mut faults = Vec::new();
    let Some((_, may)) = FLOORS.iter().find(|entry| entry.0 == floor) else {
        return faults;
    };
    for named in named_floors(text) {
        if named != floor && !may.contains(&named.as_str()) {
            faults.push(format!("{floor} names {named}, which stands above or beside it"));
        }
    }
    for (name, floors) in CRATES {
        let used = text.contains(&format!("use {name}::")) || text.contains(&format!(" {name}::"));
        if used && !floors.contains(&floor) {
            faults.push(format!("{floor} names the crate {name}, which only {floors:?} may"));
        }
    }
    if matches!(floor, "quantity" | "geometry" | "domain" | "drawing" | "documents") && text.contains("async fn") {
        faults.push(format!("{floor} is pure and has no async"));
    }
    faults
}

#[test]
fn floors_name_only_the_floors_below() {
    let mut faults = Vec::new();
    for file in files_under("src", ".rs") {
        let text = fs::read_to_string(&file).unwrap();
        faults
            .extend(faults_of(&floor_of(&file), &text).into_iter().map(|fault| format!("{}: {fault}", file.display())));
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

#[test]
fn planted_faults_are_found() {
    for (floor, text) in [
        ("domain", "use crate::store::Store;"),
        ("store", "use crate::{\n    domain::ids::BuildId,\n    actions::Context,\n};"),
        ("web", "use sqlx::query;"),
        ("geometry", "pub async fn wait() {}"),
        ("quantity", "use crate::domain::tube::TubeSize;"),
    ] {
        assert!(!faults_of(floor, text).is_empty(), "{floor}: {text}");
    }
}

#[test]
fn files_are_short_and_say_their_subject_first() {
    let mut faults = Vec::new();
    for folder in ["src", "tests"] {
        for file in files_under(folder, ".rs") {
            let text = fs::read_to_string(&file).unwrap();
            if text.lines().count() > 400 {
                faults.push(format!("{}: {} lines; find its second subject", file.display(), text.lines().count()));
            }
            if !text.starts_with("//! ") {
                faults.push(format!("{}: begin with //! and the file's one subject", file.display()));
            }
            if folder == "src" {
                for (never, instead) in NEVER {
                    if text.contains(never) {
                        faults.push(format!("{}: {never}: {instead}", file.display()));
                    }
                }
            }
        }
    }
    for file in files_under("templates", ".html") {
        let text = fs::read_to_string(&file).unwrap();
        for never in ["|safe", "style=", "onclick="] {
            if text.contains(never) {
                faults.push(format!("{}: {never} is forbidden", file.display()));
            }
        }
        if text.lines().count() > 150 {
            faults.push(format!("{}: over 150 lines", file.display()));
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

/// What `cargo fmt` would change is shown.
#[test]
fn the_source_is_formatted() {
    let said = std::process::Command::new(env!("CARGO"))
        .args(["fmt", "--check"])
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .output()
        .unwrap();
    let words = String::from_utf8_lossy(&said.stdout);
    let missing = String::from_utf8_lossy(&said.stderr);
    assert!(said.status.success(), "Run: cargo fmt (rustup component add rustfmt brings it)\n{words}{missing}");
}
