//! Who may see what, from where a change may come, what every answer says.

use axum::body::Body;
use axum::http::{StatusCode, header};
use jiff::SignedDuration;
use tackbook::clock::Clock;

use crate::folder::Folder;
use crate::house::House;

/// Every sheet, and whether (office, fabricator, scrutineer) see it. Not allowed and not there look the same.
const SHEETS: &[(&str, [bool; 3])] = &[
    ("/", [true, true, true]),
    ("/open", [true, true, false]),
    ("/books", [true, true, false]),
    ("/books/beside", [true, true, false]),
    ("/dies", [true, true, false]),
    ("/two-tubes?one=1.5+x+.095+in", [true, true, false]),
    ("/people", [true, false, false]),
    ("/shop/health", [true, false, false]),
    ("/shop/looking", [true, false, false]),
    ("/words", [true, true, true]),
    ("/phone", [true, true, false]),
    ("/builds/new", [true, true, false]),
    ("/builds/pine-coupe", [true, true, false]),
    ("/builds/pine-coupe/weigh-in", [true, true, false]),
    ("/builds/pine-coupe/cage", [true, true, false]),
    ("/builds/pine-coupe/cage.json", [true, true, false]),
    ("/builds/pine-coupe/cage/last", [true, true, false]),
    ("/stock", [true, true, false]),
    ("/builds/pine-coupe/tube", [true, true, false]),
    ("/builds/pine-coupe/tube.csv", [true, true, false]),
    ("/builds/pine-coupe/bars", [true, true, false]),
    ("/builds/pine-coupe/own-tubes", [true, true, false]),
    ("/builds/pine-coupe/body", [true, true, false]),
    ("/builds/pine-coupe/seats", [true, true, false]),
    ("/builds/pine-coupe/gussets", [true, true, false]),
    ("/builds/pine-coupe/sheets", [true, true, false]),
    ("/builds/pine-coupe/cuts", [true, true, false]),
    ("/builds/pine-coupe/cuts.csv", [true, true, false]),
    ("/builds/pine-coupe/lowering", [true, true, false]),
    ("/builds/pine-coupe/lowering.pdf", [true, true, false]),
    ("/builds/pine-coupe/seams", [true, true, false]),
    ("/builds/pine-coupe/numbers.json", [true, true, false]),
    ("/builds/pine-coupe/members/M1/sheets.pdf", [true, true, false]),
    ("/builds/pine-coupe/sheets/P1.dxf", [true, true, false]),
    ("/builds/pine-coupe/stickers", [true, true, false]),
    ("/builds/pine-coupe/stickers.pdf", [true, true, false]),
    ("/builds/pine-coupe/stickers/J7.pdf", [true, true, false]),
    ("/builds/pine-coupe/log", [true, true, false]),
    ("/builds/pine-coupe/heat-input", [true, true, false]),
    ("/builds/pine-coupe/heat-input?volts=18&amperes=120&laid=300+mm&process=wire", [true, true, false]),
    ("/builds/pine-coupe/rulings", [true, true, false]),
    ("/builds/pine-coupe/build.json", [true, true, false]),
    ("/builds/pine-coupe/car", [true, true, false]),
    ("/builds/pine-coupe/verdicts", [true, true, false]),
    ("/builds/pine-coupe/verdicts.json", [true, true, false]),
    ("/builds/pine-coupe/rounds", [true, true, false]),
    ("/builds/pine-coupe/kit", [true, true, false]),
    ("/builds/pine-coupe/kit.csv", [true, true, false]),
    ("/builds/pine-coupe/measures", [true, true, false]),
    ("/builds/pine-coupe/measures.csv", [true, true, false]),
    ("/builds/pine-coupe/questions.csv", [true, true, false]),
    ("/builds/pine-coupe/questions?about=J7", [true, true, false]),
    ("/builds/pine-coupe/photos", [true, true, false]),
    ("/builds/pine-coupe/photos/days", [true, true, false]),
    ("/builds/pine-coupe/photos/unplaced", [true, true, false]),
    ("/builds/pine-coupe/walk", [true, true, false]),
    ("/builds/pine-coupe/walk.json", [true, true, false]),
    ("/builds/pine-coupe/walk-drawings.json", [true, true, false]),
    ("/builds/pine-coupe/joints/J7", [true, true, false]),
    ("/builds/pine-coupe/members/M1", [true, true, false]),
    ("/builds/pine-coupe/gussets/G1", [true, true, false]),
    ("/builds/pine-coupe/plates/P1", [true, true, false]),
];

#[tokio::test]
async fn each_role_sees_its_sheets_and_nothing_else() {
    let house = House::new().await;
    house.browser("office").await.post("/builds/new", &[("name", "Pine Coupe")]).await;
    let build = house.store.builds().await.unwrap().remove(0).id;
    let cage = serde_json::to_string(&tackbook::domain::cage::example::example_record()).unwrap();
    tackbook::actions::cage::save(&house.office, build, 0, cage).await.unwrap();
    for (place, role) in ["office", "fabricator", "scrutineer"].into_iter().enumerate() {
        let browser = house.browser(role).await;
        for (path, sees) in SHEETS {
            let answer = browser.get(path).await;
            let expected = if sees.get(place) == Some(&true) { StatusCode::OK } else { StatusCode::NOT_FOUND };
            assert_eq!(answer.status, expected, "{role} at {path}");
            assert!(answer.policy.starts_with("default-src 'none'"), "{path}");
        }
        assert!(!browser.get("/").await.text.contains("Pine Coupe") || role != "scrutineer");
    }
    for (path, _) in SHEETS {
        assert_eq!(house.stranger().get(path).await.status, StatusCode::SEE_OTHER, "a stranger at {path}");
    }
}

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
    // RFC 9110, 13.1.2: a list, each strong or weak; what makes an answer smaller on its way makes its tag weak
    for (known, expected) in [
        (tag.clone(), StatusCode::NOT_MODIFIED),
        (format!("W/{tag}"), StatusCode::NOT_MODIFIED),
        (format!("\"of-yesterday\", W/{tag}"), StatusCode::NOT_MODIFIED),
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
        tackbook::actions::backup::take(&house.folder.0, &to.0, &clock, &|_, _| {}).await.unwrap();
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
