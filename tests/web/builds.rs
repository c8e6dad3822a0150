//! Beginning builds, what is open on them, and their log.

use axum::http::StatusCode;
use tackbook::domain::derived::findings::Findings;
use tackbook::domain::derived::open_items;
use tackbook::quantity::Units;

use crate::house::House;
use crate::measures::laid_out;

#[tokio::test]
async fn a_build_without_a_name_is_refused_and_keeps_what_was_typed() {
    let house = House::new().await;
    let office = house.browser("office").await;
    let answer =
        office.post("/builds/new", &[("name", " "), ("about", "Two <doors> & a hatch"), ("event_day", "soon")]).await;
    assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(answer.text.contains("does not read as a day"));
    assert!(answer.text.contains("Two &#60;doors&#62; &#38; a hatch"), "{}", answer.text);
}

#[tokio::test]
async fn a_logged_vehicle_has_its_hours_and_what_it_waits_for() {
    let house = House::new().await;
    let shop_floor = house.browser("fabricator").await;
    let begun = shop_floor.post("/builds/new", &[("name", "Slate Wagon"), ("about", "Exhaust hanger")]).await;
    assert_eq!(begun.to, "/builds/slate-wagon");
    let line = [
        ("day", "2026-05-04"),
        ("text", "Cut the old hanger off"),
        ("hours", "2:30"),
        ("cost", "48.20"),
        ("waiting_on", "new bushes"),
    ];
    let written = shop_floor.post("/builds/slate-wagon/log", &line).await;
    assert_eq!(written.status, StatusCode::SEE_OTHER, "{}", written.text);
    let log = shop_floor.get("/builds/slate-wagon/log").await.text;
    for words in ["Cut the old hanger off", "2.5", "48.20", "new bushes"] {
        assert!(log.contains(words), "{words}");
    }
    let open = shop_floor.get("/open").await.text;
    assert!(open.contains("Waiting on: new bushes") && open.contains("Slate Wagon") && open.contains("today"));
}

/// What is waited for stands until somebody says that it is over: neither a newer line nor one of an earlier day ends it.
#[tokio::test]
async fn what_is_waited_for_ends_when_it_is_ended_and_only_then() {
    let house = House::new().await;
    let (floor, office) = (house.browser("fabricator").await, house.browser("office").await);
    floor.post("/builds/new", &[("name", "Slate Wagon")]).await;
    let log = "/builds/slate-wagon/log";
    for (day, text, waiting_on) in [
        ("2026-05-02", "Cut the old hanger off", "new bushes"),
        ("2026-05-04", "Ordered plate", "plate, 3 mm <cut>"),
        ("2026-05-04", "Swept up", ""),
        ("2026-04-30", "Took the exhaust off", ""),
    ] {
        let line = [("day", day), ("text", text), ("waiting_on", waiting_on)];
        assert_eq!(floor.post(log, &line).await.status, StatusCode::SEE_OTHER);
    }
    let open = async || floor.get("/open").await.text;
    let both = open().await;
    let (bushes, plate) = (both.find("Waiting on: new bushes"), both.find("Waiting on: plate, 3 mm &#60;cut&#62;"));
    assert!(bushes.is_some() && bushes < plate, "the longest wait stands first: {both}");
    let build = house.store.builds().await.unwrap().remove(0).id;
    let notes = house.store.facts(build).await.unwrap().notes;
    let first = notes.iter().find(|note| note.waits_on() == Some("new bushes")).unwrap().id;
    let over = format!("{log}/{first}/over");
    // A word too long is refused and given back; the wait stands.
    let long = "x".repeat(201);
    let refused = floor.post(&over, &[("how", &long)]).await;
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(
        refused.text.contains(&format!("value=\"{long}\"")) && refused.text.contains("id=\"w-how\""),
        "{}",
        refused.text
    );
    assert_eq!(refused.text.matches("class=\"field faulty\"").count(), 1);
    // Who may not see the build ends nothing of it.
    assert_eq!(house.browser("scrutineer").await.post(&over, &[]).await.status, StatusCode::NOT_FOUND);
    assert!(open().await.contains("Waiting on: new bushes"));
    assert_eq!(floor.post(&over, &[("how", "came on Monday")]).await.status, StatusCode::SEE_OTHER);
    // Said a second time it stays as it was said first.
    assert_eq!(office.post(&over, &[("how", "never came")]).await.status, StatusCode::SEE_OTHER);
    let left = open().await;
    assert!(!left.contains("new bushes") && left.contains("Waiting on: plate"), "{left}");
    let sheet = office.get(log).await.text;
    for words in [
        "Waiting on: 1",
        "<b>Waited for:</b> new bushes; over, said fabricator on 2026-05-04: came on Monday",
        "Waited for no longer: new bushes. What became of it: came on Monday.",
    ] {
        assert!(sheet.contains(words), "{words}: {sheet}");
    }
    assert!(!sheet.contains("never came"), "{sheet}");
    // A line that waits for nothing, one that is not there, and what is no line at all.
    let swept = notes.iter().find(|note| note.text == "Swept up").unwrap().id;
    for line in [swept.to_string(), build.to_string(), "x".to_owned()] {
        assert_eq!(office.post(&format!("{log}/{line}/over"), &[]).await.status, StatusCode::NOT_FOUND, "{line}");
    }
}

#[tokio::test]
async fn a_log_line_with_bad_hours_is_refused_and_kept_as_typed() {
    let house = House::new().await;
    let office = house.browser("office").await;
    office.post("/builds/new", &[("name", "Slate Wagon")]).await;
    let answer =
        office.post("/builds/slate-wagon/log", &[("day", "2026-05-04"), ("text", "x"), ("hours", "some")]).await;
    assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(answer.text.contains(r#"value="some""#) && answer.text.contains("aria-invalid"));
}

/// One line asks the same of several parts, and each of them counts.
#[tokio::test]
async fn what_is_asked_of_several_parts_stands_in_one_line() {
    let house = House::new().await;
    laid_out(&house).await;
    let build = house.store.builds().await.unwrap().remove(0).id;
    let facts = house.store.facts(build).await.unwrap();
    let found = Findings::of(&facts, house.clock.today());
    let open = open_items::of(&facts, &found, Units::Inch, &|at| house.clock.day_of(at));
    let asked: Vec<_> = open.iter().filter(|item| item.what.starts_with("Measure the roundness at the bend")).collect();
    assert!(asked.len() > 2, "{asked:?}");
    let sheet = house.browser("office").await.get("/builds/pine-coupe?see=all").await.text;
    assert_eq!(sheet.matches("Measure the roundness at the bend").count(), 1);
    assert!(sheet.contains(&format!("Open here: {} things", open.len())), "{sheet}");
    let next = house.browser("office").await.get("/builds/pine-coupe").await.text;
    assert!(next.contains(&format!("Open: {} things", open.len())), "{next}");
    let line = sheet.split("<tr>").find(|line| line.contains("Measure the roundness at the bend")).unwrap();
    for item in asked {
        assert!(line.contains(&format!(">{}</span>", item.at.unwrap())), "{line}");
    }
}

/// Its name, words and event day can be changed, its address stays; two people at once are asked, and nothing is lost.
#[tokio::test]
async fn what_a_build_is_can_be_changed() {
    let house = House::new().await;
    let office = house.browser("office").await;
    office.post("/builds/new", &[("name", "Pine Coupe"), ("about", "Two doors")]).await;
    let sheet = office.get("/builds/pine-coupe/about").await.text;
    assert!(sheet.contains(r#"value="Pine Coupe""#) && sheet.contains("Two doors"), "{sheet}");
    let change = [("name", "Pine Coupe II"), ("about", "Two doors"), ("event_day", "2026-09-01"), ("version", "1")];
    let saved = office.post("/builds/pine-coupe/about", &change).await;
    assert_eq!(saved.to, "/builds/pine-coupe", "{}", saved.text);
    let build = house.store.builds().await.unwrap().remove(0);
    assert_eq!((build.name.as_str(), build.slug.as_str()), ("Pine Coupe II", "pine-coupe"));
    assert_eq!(build.event_day.unwrap().to_string(), "2026-09-01");
    assert!(office.get("/builds/pine-coupe").await.text.contains("First event 2026-09-01"));
    // The second one edited the first version.
    let late = [("name", "Pine Coupe"), ("about", "Three doors"), ("event_day", "2026-10-01"), ("version", "1")];
    let asked = office.post("/builds/pine-coupe/about", &late).await;
    assert_eq!(asked.status, StatusCode::CONFLICT);
    for words in ["Somebody else saved this", "2026-09-01", "2026-10-01", "Three doors"] {
        assert!(asked.text.contains(words), "{words}");
    }
    assert_eq!(house.store.builds().await.unwrap().remove(0).version, 2, "nothing of theirs was overwritten");
    let bad = [("name", " "), ("about", "<b>"), ("event_day", "soon"), ("version", "2")];
    let refused = office.post("/builds/pine-coupe/about", &bad).await;
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(refused.text.contains("does not read as a day") && refused.text.contains("&#60;b&#62;"));
    assert_eq!(
        house.browser("scrutineer").await.post("/builds/pine-coupe/about", &change).await.status,
        StatusCode::NOT_FOUND
    );
}
