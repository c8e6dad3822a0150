//! Each of the ten promises has one test whose name says so, in whichever of the test programs can try it.

use std::path::PathBuf;

#[test]
fn each_of_the_ten_promises_has_one_test() {
    let mut folders = vec![PathBuf::from(concat!(env!("CARGO_MANIFEST_DIR"), "/tests"))];
    let mut named: Vec<u32> = Vec::new();
    while let Some(folder) = folders.pop() {
        for file in std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()) {
            if file.is_dir() {
                folders.push(file);
            } else if file.extension().is_some_and(|ending| ending == "rs") {
                let text = std::fs::read_to_string(&file).unwrap();
                let names =
                    text.lines().filter_map(|line| line.trim_start_matches("async ").strip_prefix("fn promise_"));
                named.extend(names.map(|name| name.split('_').next().unwrap().parse::<u32>().unwrap()));
            }
        }
    }
    named.sort_unstable();
    assert_eq!(named, (1..=10).collect::<Vec<_>>());
}
