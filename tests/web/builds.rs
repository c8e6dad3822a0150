//! Beginning builds, what is open on them, and their log.

use axum::http::StatusCode;

use crate::house::House;

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
