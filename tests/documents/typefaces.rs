//! The type has every sign that the program itself can print: none of its words comes out as a box.

use std::path::Path;

use tackbook::drawing::Weight;
use tackbook::drawing::paper::faces::{FACES, has, set};

/// Every Rust file under a folder.
fn files(folder: &Path) -> Vec<std::path::PathBuf> {
    let entries = std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
    entries
        .flat_map(|at| if at.is_dir() { files(&at) } else { vec![at] })
        .filter(|at| at.extension().is_some_and(|end| end == "rs" || end == "toml"))
        // what may be typed, and what only a terminal shows, stands on no paper
        .filter(|at| !at.ends_with("quantity/tokens.rs") && !at.ends_with("cli/qr.rs"))
        .collect()
}

#[test]
fn every_sign_that_the_program_says_is_in_the_type() {
    let all = files(&Path::new(env!("CARGO_MANIFEST_DIR")).join("src"));
    let mut walked = 0;
    for file in all {
        let text = std::fs::read_to_string(&file).unwrap();
        let said = text.split("#[cfg(test)]").next().unwrap_or_default();
        for line in said.lines().filter(|line| !line.trim_start().starts_with("//")) {
            for letter in line.chars().filter(|letter| !letter.is_control()) {
                assert!(has(letter), "{}: {letter} in {line}", file.display());
                walked += 1;
            }
        }
    }
    assert!(walked > 500_000, "{walked} letters were walked over");
    assert!(!has('漢'), "the walk would tell");
}

#[test]
fn running_words_are_of_the_one_type() {
    let words = "Weighed 2,643 ± 13 lb; 3/8 in, 86.1°, 1 5/8 × .120, “held”, Łukasz Győző – 17.44 in², 2′ 3″, −4 …";
    for (weight, own) in [(Weight::Regular, 0..2), (Weight::Bold, 3..5)] {
        for glyph in set(words, weight) {
            assert!(own.contains(&glyph.face), "{} is of {}", glyph.letter, FACES[glyph.face].name);
        }
    }
}
