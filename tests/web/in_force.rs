//! An edition that is not in force on the event day: told among the open things, on the verdicts' sheet, on the packet's cover and
//! by the `judge` call, which says no.
#![expect(clippy::disallowed_methods, reason = "a test's own files are no evidence")]

use std::process::Command;

use axum::http::StatusCode;
use tackbook::domain::book::in_force::{OutOfForce, Side, describe};
use tackbook::domain::book::read;

use crate::folder::Folder;
use crate::house::House;
use crate::paper;

/// The demo's book, in force between two days; without either where it is empty.
fn book(edition: &str, from: &str, to: &str) -> String {
    let mut lines = Vec::new();
    for line in include_str!("../../src/demo/book.toml").lines() {
        let head = line.starts_with("valid_from =") || line.starts_with("valid_to =") || line.starts_with("edition =");
        if line.starts_with("edition =") {
            lines.push(format!("edition = \"{edition}\""));
            lines.extend((!from.is_empty()).then(|| format!("valid_from = {from}")));
            lines.extend((!to.is_empty()).then(|| format!("valid_to = {to}")));
        } else if !head {
            lines.push(line.to_owned());
        }
    }
    lines.join("\n") + "\n"
}

#[test]
fn each_edge_is_inside_and_the_day_beyond_is_not() {
    let side = |(from, to): (&str, &str), event: &str, today: &str| {
        let day = |text: &str| text.parse().ok();
        let out = OutOfForce::of(&read(&book("e", from, to)).unwrap().book, day(event), day(today).unwrap());
        out.map(|out| (out.side, out.event, out.describe()))
    };
    let year = ("2026-01-01", "2026-12-31");
    let day = |text: &str| text.parse().unwrap();
    for (valid, event, today, wanted) in [
        (year, "2026-01-01", "2025-06-01", None),
        (year, "2026-12-31", "2027-06-01", None),
        (year, "2025-12-31", "2026-06-01", Some((Side::NotYet(day("2026-01-01")), true))),
        (year, "2027-01-01", "2026-06-01", Some((Side::NoMore(day("2026-12-31")), true))),
        // No event day: today counts, and it is said.
        (year, "", "2026-12-31", None),
        (year, "", "2027-01-01", Some((Side::NoMore(day("2026-12-31")), false))),
        (year, "", "2025-12-31", Some((Side::NotYet(day("2026-01-01")), false))),
        // One edge alone, or none: nothing is claimed of the other side.
        (("2026-01-01", ""), "2031-01-01", "2026-06-01", None),
        (("", "2026-12-31"), "1999-01-01", "2026-06-01", None),
        (("", ""), "2031-01-01", "2026-06-01", None),
    ] {
        let got = side(valid, event, today);
        assert_eq!(got.as_ref().map(|(side, event, _)| (*side, *event)), wanted, "{valid:?} {event} {today}");
        let said = got.map(|got| got.2).unwrap_or_default();
        assert_eq!(
            said.contains("which counts as no event day is set"),
            wanted.is_some() && event.is_empty(),
            "{said}"
        );
    }
    assert!(describe(&read(&book("e", "", "")).unwrap().book).contains("does not say"));
}

#[tokio::test]
async fn an_edition_out_of_force_is_told_everywhere_until_the_build_is_moved() {
    let house = House::new().await;
    let office = house.browser("office").await;
    for (edition, from, to) in [("first", "2025-01-01", "2025-12-31"), ("second", "2026-01-01", "")] {
        let added = office.post("/books", &[("toml", &book(edition, from, to))]).await;
        assert_eq!(added.status, StatusCode::SEE_OTHER, "{}", added.text);
    }
    let books = house.store.books().await.unwrap();
    let [first, second] = [books.first().unwrap(), books.last().unwrap()].map(|book| book.id.to_string());
    let begun = [("name", "Pine Coupe"), ("book", first.as_str()), ("event_day", "2026-09-12")];
    office.post("/builds/new", &begun).await;
    let told = "is not in force on the event day, 2026-09-12: its last day was 2025-12-31.";
    let shown = async || {
        let open = office.get("/builds/pine-coupe?see=all").await.text;
        let verdicts = office.get("/builds/pine-coupe/verdicts").await.text;
        let floor = house.browser("fabricator").await.get("/builds/pine-coupe/verdicts").await.text;
        let words = paper::words(&office.get("/builds/pine-coupe/packet.pdf").await.bytes);
        let plain = |page: &str| page.split_whitespace().collect::<Vec<_>>().join(" ");
        let pages: Vec<String> = words.split('\u{c}').map(plain).collect();
        (open, verdicts, floor, pages)
    };
    let (open, verdicts, floor, pages) = shown().await;
    assert!(open.contains(told) && open.contains("Move the build to the edition that is"), "{open}");
    assert!(verdicts.contains(told) && verdicts.contains("href=\"/builds/pine-coupe/edition\""), "{verdicts}");
    assert!(verdicts.contains("first: in force from 2025-01-01 to 2025-12-31"), "{verdicts}");
    assert!(floor.contains(told) && !floor.contains("/builds/pine-coupe/edition"), "{floor}");
    assert!(pages[0].contains(told), "the cover: {}", pages[0]);
    assert!(pages.iter().skip(1).any(|page| page.contains("What every rule says") && page.contains(told)));
    // The call says no, and that is all it says no for: no rule is broken yet.
    let folder = Folder::new();
    let (file, toml) = (folder.0.join("build.json"), folder.0.join("book.toml"));
    let judged = async |edition: (&str, &str, &str), more: &[&str]| {
        std::fs::write(&file, office.get("/builds/pine-coupe/build.json").await.text).unwrap();
        std::fs::write(&toml, book(edition.0, edition.1, edition.2)).unwrap();
        let mut call = Command::new(env!("CARGO_BIN_EXE_tackbook"));
        let said =
            call.args(["judge", "--day", "2026-05-04", "--book"]).arg(&toml).arg("--build").arg(&file).args(more);
        let said = said.output().unwrap();
        let words = |bytes: &[u8]| String::from_utf8_lossy(bytes).into_owned();
        (said.status.code(), words(&said.stdout), words(&said.stderr))
    };
    let (code, out, _) = judged(("first", "2025-01-01", "2025-12-31"), &[]).await;
    assert!(code == Some(1) && out.starts_with("The edition “") && out.contains(told), "{code:?} {out}");
    let (code, out, beside) = judged(("first", "2025-01-01", "2025-12-31"), &["--json"]).await;
    assert!(code == Some(1) && out.starts_with('[') && beside.contains(told), "{code:?} {beside}");
    let (code, out, _) = judged(("second", "2026-01-01", ""), &[]).await;
    assert!(code == Some(0) && !out.contains("in force"), "{code:?} {out}");
    // Moved to the edition of that day, nothing is said of it any more.
    let as_of = house.store.facts(house.store.builds().await.unwrap().remove(0).id).await.unwrap().as_of.to_string();
    let moved = [("to", second.as_str()), ("as_of", &as_of), ("reason", "the event is next year's")];
    let moved = office.post("/builds/pine-coupe/edition", &moved).await;
    assert_eq!(moved.status, StatusCode::SEE_OTHER, "{}", moved.text);
    let (open, verdicts, floor, pages) = shown().await;
    for text in [open, verdicts, floor, pages.concat()] {
        assert!(!text.contains("not in force"), "{text}");
    }
}
