//! From where a change may come, what every answer says; who may what stands in `roles`.

use axum::body::Body;
use axum::http::{StatusCode, header};
use jiff::SignedDuration;
use tackbook::clock::Clock;

use crate::folder::Folder;
use crate::house::House;

#[tokio::test]
async fn a_change_from_another_site_or_another_name_is_not_done() {
    let house = House::new().await;
    let office = house.browser("office").await;
    let form = Body::from("name=Planted");
    let kind = "application/x-www-form-urlencoded";
    let cross =
        office.request("POST", "/builds/new").header("sec-fetch-site", "cross-site").header(header::CONTENT_TYPE, kind);
    assert_eq!(house.ask(cross.body(form).unwrap()).await.status, StatusCode::FORBIDDEN);
    let bare = office.request("POST", "/builds/new").header(header::CONTENT_TYPE, kind);
    assert_eq!(house.ask(bare.body(Body::from("name=Planted")).unwrap()).await.status, StatusCode::FORBIDDEN);
    let elsewhere = axum::http::Request::builder().uri("/words").header(header::HOST, "elsewhere.example");
    assert_eq!(house.ask(elsewhere.body(Body::empty()).unwrap()).await.status, StatusCode::FORBIDDEN);
    assert!(house.store.builds().await.unwrap().is_empty());
}

#[tokio::test]
async fn a_browser_that_has_a_file_already_is_told_so() {
    let house = House::new().await;
    let stranger = house.stranger();
    let tag = stranger.get("/static/tackbook.css").await.header("etag");
    let plain = tag.trim_start_matches("W/");
    // RFC 9110, 13.1.2: a list, each strong or weak; what makes an answer smaller on its way makes its tag weak
    for (known, expected) in [
        (tag.clone(), StatusCode::NOT_MODIFIED),
        (plain.to_owned(), StatusCode::NOT_MODIFIED),
        (format!("W/{plain}"), StatusCode::NOT_MODIFIED),
        (format!("\"of-yesterday\", W/{plain}"), StatusCode::NOT_MODIFIED),
        ("\"of-yesterday\"".to_owned(), StatusCode::OK),
    ] {
        let asked = stranger.request("GET", "/static/tackbook.css").header("if-none-match", &known);
        assert_eq!(house.ask(asked.body(Body::empty()).unwrap()).await.status, expected, "{known}");
    }
}

#[tokio::test]
async fn health_says_only_whether_it_writes() {
    let house = House::new().await;
    let answer = house.stranger().get("/health").await;
    assert_eq!((answer.status, answer.text.as_str()), (StatusCode::OK, "ok\n"));
}

#[tokio::test]
async fn the_office_is_told_of_the_last_backup_and_of_one_that_is_old() {
    let (house, to) = (House::new().await, Folder::new());
    let office = house.browser("office").await;
    assert!(office.get("/shop/health").await.text.contains("None was made yet"));
    let day = SignedDuration::from_hours(24);
    for (days, old) in [(3, false), (4, true)] {
        let clock = Clock::held_at(house.clock.now() - day * days);
        tackbook::actions::shop::backup::take(&house.folder.0, &to.0, &clock, &|_, _| {}).await.unwrap();
        let text = office.get("/shop/health").await.text;
        assert!(text.contains(&format!("made on {}", clock.minute_of(clock.now()))), "{text}");
        assert_eq!(text.contains("more than three days ago"), old, "{days}");
        for (who, told) in [("office", old), ("fabricator", false)] {
            let open = house.browser(who).await.get("/open").await.text;
            assert_eq!(open.contains("more than three days old"), told, "{who} {days}");
        }
    }
}

#[tokio::test]
async fn what_is_not_there_is_said_in_words() {
    let house = House::new().await;
    let answer = house.browser("office").await.get("/builds/none").await;
    assert_eq!(answer.status, StatusCode::NOT_FOUND);
    assert!(answer.text.contains("nothing at this address"));
}
