//! Editions side by side, what another one changes for the builds in the shop, and moving a build with a reason.

use axum::http::StatusCode;
use tackbook::domain::derived::contents::Contents;
use tackbook::domain::derived::findings::Findings;
use tackbook::domain::judge::verdicts::{Verdict, Word};
use tackbook::domain::words::ids::BuildId;

use crate::cage::{save, typed};
use crate::house::{Browser, House};

const DEMO: &str = include_str!("../../src/demo/book.toml");

/// The demo's book a year later: flatter backstays, a lower class edge, one rule gone, one come, one more view of each joint.
fn next_year() -> String {
    let rule = |id: &str| {
        let at = DEMO.find(&format!("[[limit]]\nid = \"{id}\"")).unwrap();
        let end = DEMO[at + 2..].find("\n[[").map_or(DEMO.len(), |end| at + 2 + end + 1);
        &DEMO[at..end]
    };
    let upright = rule("hoop-upright");
    DEMO.replacen("edition = \"second issue\"", "edition = \"third issue\"", 1)
        .replacen("at least 34 degrees", "at least 80 degrees", 1)
        .replacen("least = 34\n", "least = 80\n", 1)
        .replace("1360", "1170")
        .replacen(upright, &upright.replacen("hoop-upright", "hoop-straight", 1), 1)
}

/// A weighed build with the example's cage, kept under the demo's book; the ids of both editions.
pub(crate) async fn shop(house: &House, office: &Browser<'_>) -> (BuildId, [String; 2]) {
    for toml in [DEMO, next_year().as_str()] {
        let added = office.post("/books", &[("toml", toml)]).await;
        assert_eq!(added.status, StatusCode::SEE_OTHER, "{}", added.text);
    }
    let books = house.store.books().await.unwrap();
    let [older, newer] = [books.first().unwrap(), books.last().unwrap()].map(|book| book.id.to_string());
    office.post("/builds/new", &[("name", "Pine Coupe"), ("book", &older)]).await;
    let mut pairs = vec![("total", "2600 lb"), ("resolution", "1 lb")];
    let all = ["tank at half", "crew out", "loose gear out", "stage wheels on"];
    pairs.extend(all.map(|key| ("condition", key)));
    let weighed = office.post("/builds/pine-coupe/weigh-in", &pairs).await;
    assert_eq!(weighed.status, StatusCode::SEE_OTHER, "{}", weighed.text);
    assert_eq!(save(office, &typed("0")).await.status, StatusCode::SEE_OTHER);
    let build = house.store.builds().await.unwrap().remove(0).id;
    (build, [older, newer])
}

#[tokio::test]
async fn two_editions_stand_side_by_side_with_what_changes_for_the_builds() {
    let house = House::new().await;
    let office = house.browser("office").await;
    let (build, [older, newer]) = shop(&house, &office).await;
    assert!(office.get("/books").await.text.contains("/books/beside"));
    let page = format!("/books/beside?old={older}&new={newer}");
    let sheet = house.browser("fabricator").await.get(&page).await;
    assert_eq!(sheet.status, StatusCode::OK);
    let text = sheet.text.replace("&#39;", "'");
    for words in [
        "+ 1 added",
        "− 1 gone",
        "≠ 3 changed",
        "≠ Changed: 4.4, backstay-angle",
        "at least 34 degrees",
        "<b>at least 80 degrees</b>",
        "+ Added: 4.3, hoop-straight",
        "− Gone: 4.3, hoop-upright",
        "over 1120 kg, up to and including 1360 kg",
        "<b>over 1120 kg, up to and including 1170 kg</b>",
        // The car weighs 2,600 lb, 1179.3 kg: middle under the older edition, heavy under the newer.
        "Class middle, over 1120 kg, up to and including 1360 kg; now heavy, over 1170 kg",
        "not asked of this car",
        "<b>heavy, over 1170 kg</b>",
        "<b>main bars 48.3 × 3.2 mm; other bars 42.4 × 2.6 mm</b>",
        "not in the book",
    ] {
        assert!(text.contains(words), "{words}: {text}");
    }
    // What the sheet says would break is what the newer edition says of these same facts.
    let facts = house.store.facts(build).await.unwrap();
    let book = house.store.book(newer.parse().unwrap()).await.unwrap().unwrap();
    let moved = tackbook::domain::recorded::facts::BuildFacts {
        book: facts.book.clone().map(|now| tackbook::domain::recorded::facts::BookText { toml: book.toml, ..now }),
        ..facts.clone()
    };
    let failing = |facts| {
        let found = Findings::of(facts, house.clock.today());
        let fails = |rule: &str| {
            found
                .worked
                .verdicts
                .iter()
                .filter(|one| one.rule_id == rule && one.state().fails())
                .map(|one| one.of)
                .collect()
        };
        let bars: Vec<_> = fails("backstay-angle");
        bars
    };
    let (before, after) = (failing(&facts), failing(&moved));
    assert!(before.is_empty() && !after.is_empty(), "{before:?} {after:?}");
    assert!(text.contains("<b>▲ does not meet</b>"), "{text}");
    let bars: Vec<String> = after.iter().flatten().map(ToString::to_string).collect();
    assert!(text.contains(&format!("at least 80 degrees: {}", bars.join(" "))), "{text}");
    assert!(!text.contains("Move it to the newer edition"), "only the office moves a build");
    assert!(office.get(&page).await.text.contains(&format!("/builds/pine-coupe/edition?to={newer}")));
}

#[tokio::test]
async fn any_two_are_laid_side_by_side_drafts_too() {
    let house = House::new().await;
    let office = house.browser("office").await;
    let (_, [older, newer]) = shop(&house, &office).await;
    // The other way round nothing is kept under it; an edition beside itself is no pair.
    let back = office.get(&format!("/books/beside?old={newer}&new={older}")).await.text;
    assert!(back.contains("No build is judged by the older one."), "{back}");
    let same = office.get(&format!("/books/beside?old={older}&new={older}")).await;
    assert!(same.text.contains("Choose two that differ."));
    assert_eq!(office.get("/books/beside?old=1").await.status, StatusCode::NOT_FOUND);
    let page = format!("/books/beside?old={older}&new={newer}");
    assert_eq!(house.browser("scrutineer").await.get(&page).await.status, StatusCode::NOT_FOUND);
    // A draft stands beside an edition as well, and no build is moved to it.
    let draft = office.post(&format!("/books/{older}/draft"), &[("edition", "fifth")]).await.to;
    let id = draft.rsplit('/').next().unwrap();
    let sheet = office.get(&format!("/books/beside?old={older}&new={id}")).await.text;
    assert!(
        sheet.contains("Every rule says the same.")
            && sheet.contains("no verdict, tube or photograph would be another")
    );
    assert!(!sheet.contains("Move it to the newer edition"));
}

#[tokio::test]
async fn a_build_is_moved_with_a_reason_after_its_mover_saw_what_changes() {
    let house = House::new().await;
    let office = house.browser("office").await;
    let (build, [older, newer]) = shop(&house, &office).await;
    let issued = office.post("/builds/pine-coupe/rounds", &[("key", "one")]).await;
    assert_eq!(issued.status, StatusCode::SEE_OTHER, "{}", issued.text);
    let page = "/builds/pine-coupe/edition";
    let asked = format!("{page}?to={newer}");
    assert!(office.get("/builds/pine-coupe").await.text.contains(page));
    let sheet = office.get(&asked).await.text;
    for words in ["heavy, over 1170 kg", "would no longer meet", "Round 1 waits for its reply under the edition"] {
        assert!(sheet.contains(words), "{words}: {sheet}");
    }
    let as_of = house.store.facts(build).await.unwrap().as_of.to_string();
    let unreasoned = office.post(page, &[("to", &newer), ("as_of", &as_of), ("reason", " ")]).await;
    assert_eq!(unreasoned.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(unreasoned.text.contains("This must not be empty.") && unreasoned.text.contains("heavy, over 1170 kg"));
    // Something was recorded while its mover looked: the move is not made, and what was typed stays.
    let reason = "The event is in 2027";
    let late = office.post(page, &[("to", &newer), ("as_of", "1"), ("reason", reason)]).await;
    assert_eq!(late.status, StatusCode::CONFLICT);
    assert!(late.text.contains("Something else was recorded") && late.text.contains(reason), "{}", late.text);
    let here = office.post(page, &[("to", &older), ("as_of", &as_of), ("reason", reason)]).await;
    assert_eq!(here.status, StatusCode::UNPROCESSABLE_ENTITY);
    let fabricator = house.browser("fabricator").await;
    let good = [("to", newer.as_str()), ("as_of", as_of.as_str()), ("reason", reason)];
    assert_eq!(fabricator.post(page, &good).await.status, StatusCode::NOT_FOUND);
    assert_eq!(fabricator.get(page).await.status, StatusCode::NOT_FOUND);
    let before = house.store.facts(build).await.unwrap();
    assert_eq!(before.book.as_ref().unwrap().id.to_string(), older, "not moved so far");
    let moved = office.post(page, &good).await;
    assert_eq!(moved.status, StatusCode::SEE_OTHER, "{}", moved.text);
    let facts = house.store.facts(build).await.unwrap();
    assert_eq!(facts.book.as_ref().unwrap().edition, "third issue");
    let found = Findings::of(&facts, house.clock.today());
    assert_eq!(found.worked.class.as_ref().unwrap().as_ref().unwrap().class, "heavy");
    let steep = |verdict: &Verdict| verdict.rule_id == "backstay-angle" && verdict.word == Word::ShortBy;
    assert!(found.worked.verdicts.iter().any(steep));
    // The round keeps its edition, and what changed since says so.
    let round = facts.rounds.first().unwrap();
    assert_eq!(round, before.rounds.first().unwrap());
    let contents: Contents = serde_json::from_str(&round.contents).unwrap();
    assert_eq!(contents.book.unwrap()[1], "second issue");
    assert!(found.changes.iter().any(|change| change.what.contains("another rule book or edition")));
    let rounds = office.get("/builds/pine-coupe/rounds").await.text;
    assert!(rounds.contains("Judged by Lanternfell Stage League Build Rules, second issue"), "{rounds}");
    let log = office.get("/builds/pine-coupe/log").await.text.replace("&#39;", "'");
    let said = "was moved from Lanternfell Stage League Build Rules, second issue to Lanternfell Stage League Build Rules, third \
                issue: The event is in 2027. Class middle, over 1120 kg, up to and including 1360 kg; now heavy, over 1170 kg;";
    assert!(log.contains(said), "{log}");
    let sheet = office.get(page).await.text;
    assert!(sheet.contains("Moved on 2026-05-04 by office from"), "{sheet}");
    // The same form sent again moves nothing: the build has moved on since.
    assert_eq!(office.post(page, &good).await.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert_eq!(house.store.book_moves(build).await.unwrap().len(), 1);
    // Editing what a build is does not move it.
    let now = house.store.build(build).await.unwrap().unwrap();
    let new = tackbook::domain::shop::builds::NewBuild {
        name: now.name,
        about: now.about,
        book: Some(older.parse().unwrap()),
        event_day: None,
    };
    let edited = tackbook::actions::shop::builds::edit(&house.office, build, now.version, new).await;
    assert!(matches!(edited, Err(tackbook::actions::ActionError::Refused(_))), "{edited:?}");
}
