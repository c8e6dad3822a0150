//! The `judge` call: a build's own file gives the very verdicts of the screen; what does not read is told by line and name.
#![expect(clippy::disallowed_methods, reason = "a test's own files are no evidence")]

use std::path::Path;
use std::process::{Command, Output};
use std::sync::Arc;

use serde_json::Value;
use tackbook::clock::Clock;
use tackbook::demo::{SIGN_INS, Wanted, begin};
use tackbook::domain::derived::build_file::BuildFile;
use tackbook::domain::derived::findings::Findings;
use tackbook::store::Store;

use crate::folder::Folder;
use crate::house::House;
use crate::main_job::weigh;
use crate::measures::laid_out;

const BOOK: &str = "src/demo/book.toml";

fn judge(book: &str, build: &Path, more: &[&str]) -> Output {
    let mut call = Command::new(env!("CARGO_BIN_EXE_tackbook"));
    call.args(["judge", "--book", book, "--build"]).arg(build).args(more).output().unwrap()
}

/// The demo's first build, with photographs, kit, sticks and figures: out as a file, judged by the call, the same verdicts.
#[tokio::test]
async fn a_builds_file_is_judged_as_on_the_screen() {
    let folder = Folder::new();
    let store = Store::open(&folder.0).await.unwrap();
    let clock = Clock::of_machine();
    let program = env!("CARGO_BIN_EXE_tackbook").into();
    let look = tackbook::actions::recorded::looking::in_child(store.clone(), program);
    let begun = begin(&store, &look, &clock, Wanted { builds: 1, photos: 5 }, Arc::new(|_, _, _| ())).await.unwrap();
    begun.make().await.unwrap();
    assert!(!SIGN_INS.is_empty());
    let build = store.build_by_slug("teasel-coupe").await.unwrap().unwrap().id;
    let facts = store.facts(build).await.unwrap();
    let screen = Findings::of(&facts, clock.today());
    let file = folder.0.join("build.json");
    std::fs::write(&file, BuildFile::of(&facts, screen.worked.standing(&facts)).text()).unwrap();
    let day = clock.today().to_string();
    let said = judge(BOOK, &file, &["--json", "--day", &day]);
    let got: Value = serde_json::from_slice(&said.stdout).unwrap();
    let want: Value = serde_json::from_str(&serde_json::to_string(&screen.worked.verdicts).unwrap()).unwrap();
    assert!(want.as_array().unwrap().len() > 100);
    assert_eq!(got, want, "{}", String::from_utf8_lossy(&said.stderr));
    let broken = screen
        .worked
        .verdicts
        .iter()
        .any(|verdict| verdict.force == tackbook::domain::book::Force::Must && verdict.word.fails());
    assert_eq!(said.status.code(), Some(i32::from(broken || screen.worked.out_of_force.is_some())));
    // Out and in again is the same file.
    let text = std::fs::read_to_string(&file).unwrap();
    let again = BuildFile::read(&text).unwrap();
    let again = again.facts("");
    assert_eq!(BuildFile::of(&again, Findings::of(&again, clock.today()).worked.standing(&again)).text(), text);
    store.close().await;
}

#[tokio::test]
async fn the_sheet_gives_the_file_and_a_broken_rule_says_no() {
    let house = House::new().await;
    laid_out(&house).await;
    let office = house.browser("office").await;
    weigh(&office, "740", "").await;
    let dates = [("registered", "1998"), ("homologated", "1996-03")];
    office.post("/builds/pine-coupe/car", &dates).await;
    let gap = |text: &'static str| [("helmet-to-the-nearest-bar-M1", text)];
    office.post("/builds/pine-coupe/measures", &gap("4 in")).await;
    let folder = Folder::new();
    let file = folder.0.join("build.json");
    let put = async || {
        let answer = office.get("/builds/pine-coupe/build.json").await;
        assert!(answer.text.starts_with("{\n  \"tackbook_build\": 1,"), "{}", answer.text);
        std::fs::write(&file, &answer.text).unwrap();
        answer.text
    };
    put().await;
    let told = judge(BOOK, &file, &["--day", "2026-05-04"]);
    let out = String::from_utf8_lossy(&told.stdout).into_owned();
    assert!(out.contains("4.10 helmet-gap M1 helmet to the nearest bar: meets. 4 in against at least 65 mm."), "{out}");
    assert!(out.contains("The tool approves nothing"));
    let before = told.status.code();
    office.post("/builds/pine-coupe/measures", &gap("1 in")).await;
    let text = put().await;
    let no = judge(BOOK, &file, &["--metric"]);
    assert_eq!(no.status.code(), Some(1), "{before:?}");
    assert!(String::from_utf8_lossy(&no.stdout).contains("helmet-gap M1 helmet to the nearest bar: short by 39.6 mm."));

    let line = text.lines().position(|line| line.contains("\"event_day\"")).unwrap() + 1;
    for (from, to, said) in [
        ("\"event_day\"", "\"event_dya\"", format!("line {line}, column")),
        ("\"event_day\"", "\"event_dya\"", "Did you mean “event_day”?".to_owned()),
        ("\"tackbook_build\": 1", "\"tackbook_build\": 9", "reads build files of version 1, not 9".to_owned()),
        ("\"conditions\"", "\"condition\"", "Did you mean “conditions”?".to_owned()),
        ("{\n", "{{\n", "line 1".to_owned()),
    ] {
        std::fs::write(&file, text.replacen(from, to, 1)).unwrap();
        let wrong = judge(BOOK, &file, &[]);
        let err = String::from_utf8_lossy(&wrong.stderr).into_owned();
        assert_eq!(wrong.status.code(), Some(2), "{to}: {err}");
        assert!(err.contains(&said), "{to}: {err}");
    }
    std::fs::write(&file, text).unwrap();
    let bad = folder.0.join("book.toml");
    std::fs::write(&bad, "[book]\nnam = \"x\"\n").unwrap();
    let wrong = judge(bad.to_str().unwrap(), &file, &[]);
    assert_eq!(wrong.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&wrong.stderr).contains("Did you mean “name”?"));
    // What is no text is told with its line, by the check of a book as by the judging.
    std::fs::write(&bad, b"[book]\nname = \"\xff\"\n").unwrap();
    let mut check = Command::new(env!("CARGO_BIN_EXE_tackbook"));
    let checked = check.args(["book", "check"]).arg(&bad).output().unwrap();
    for said in [judge(bad.to_str().unwrap(), &file, &[]), checked] {
        assert_eq!(said.status.code(), Some(2));
        assert!(String::from_utf8_lossy(&said.stderr).contains("book.toml:2: From here on this is no text."));
    }
    std::fs::write(&bad, "x".repeat((512 << 10) + 1)).unwrap();
    assert!(String::from_utf8_lossy(&judge(bad.to_str().unwrap(), &file, &[]).stderr).contains("no more are read"));
    assert_eq!(judge("no-such-book.toml", &file, &[]).status.code(), Some(2));
}
