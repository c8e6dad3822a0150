//! What comes in otherwise than it should: too much, not a form, signs that do not show, an address that is none of ours, a form
//! from somebody who is signed out; each is told of in words, and nothing typed is lost.

use std::collections::BTreeSet;
use std::time::{Duration, Instant};

use axum::body::Body;
use axum::http::{StatusCode, header};

use crate::filled::Shop;
use crate::house::{Answer, Browser, House, PASSWORD, encoded};

async fn sent(house: &House, browser: &Browser<'_>, (path, kind): (&str, &str), body: String) -> Answer {
    let request =
        browser.request("POST", path).header("sec-fetch-site", "same-origin").header(header::CONTENT_TYPE, kind);
    house.ask(request.body(Body::from(body)).unwrap()).await
}

const FORM: &str = "application/x-www-form-urlencoded";

#[tokio::test]
async fn signing_in_goes_on_to_sheets_of_ours_alone() {
    let house = House::new().await;
    for (then, to) in [
        ("/open?page=2", "/open?page=2"),
        ("/open\r\nSet-Cookie: a=b", "/"),
        ("/open\n", "/open"),
        ("/op\0en", "/"),
        ("/\t/elsewhere.example", "/"),
        ("//elsewhere.example", "/"),
        ("\\\\elsewhere.example", "/"),
        ("/\\elsewhere.example", "/"),
        ("https://elsewhere.example", "/"),
        ("javascript:alert(1)", "/"),
        ("/no-such-sheet", "/"),
    ] {
        let pairs = [("name", "office"), ("password", PASSWORD), ("then", then)];
        let said = house.stranger().post("/sign-in", &pairs).await;
        assert_eq!((said.status, said.to.as_str()), (StatusCode::SEE_OTHER, to), "{then:?}");
    }
    let asked = house.stranger().get("/open?page=2&see=all").await;
    assert_eq!(asked.to, "/sign-in?then=/open%3Fpage%3D2%26see%3Dall");
}

#[tokio::test]
async fn a_form_of_more_fields_than_any_has_is_refused_before_it_is_read() {
    let house = House::new().await;
    let office = house.browser("office").await;
    let many: Vec<String> = (0..65_000).map(|number| format!("f{number}=")).collect();
    let begun = Instant::now();
    let said = sent(&house, &office, ("/builds/new", FORM), many.join("&")).await;
    assert!(begun.elapsed() < Duration::from_millis(500), "{:?}", begun.elapsed());
    assert_eq!(said.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(said.text.contains("65000 fields were sent at once; 2000 fit"), "{}", said.text);
}

#[tokio::test]
async fn what_is_too_large_or_no_form_is_refused_in_words_of_ours() {
    let house = House::new().await;
    let office = house.browser("office").await;
    office.post("/builds/new", &[("name", "Pine")]).await;
    let large = format!("name={}", "x".repeat(600 << 10));
    let answers = [
        (413, "a form may hold", sent(&house, &office, ("/builds/new", FORM), large).await),
        (415, "not what a form sends", sent(&house, &office, ("/builds/new", "text/plain"), "name=x".to_owned()).await),
        (405, "cannot be asked for in this way", sent(&house, &office, ("/open", FORM), String::new()).await),
        (
            400,
            "is not written as it must be",
            sent(&house, &office, ("/builds/pine/cage/file", "multipart/form-data"), "x".to_owned()).await,
        ),
    ];
    for (status, words, said) in answers {
        assert_eq!(said.status.as_u16(), status, "{words}: {}", said.text);
        assert!(said.text.contains("<!doctype html>") && said.text.contains(words), "{status}: {}", said.text);
        assert!(said.text.contains("Number "), "{status}");
    }
}

#[tokio::test]
async fn a_form_of_somebody_signed_out_meanwhile_is_given_back_and_sent_again() {
    let house = House::new().await;
    let body = encoded(&[("name", "Pine & Co"), ("about", "two\nlines"), ("password", "not to be seen")]);
    let stranger = house.stranger();
    let request = stranger.request("POST", "/builds/new").header("sec-fetch-site", "same-origin");
    let request =
        request.header(header::REFERER, "http://127.0.0.1:7350/builds/new").header(header::CONTENT_TYPE, FORM);
    let said = house.ask(request.body(Body::from(body)).unwrap()).await;
    assert_eq!(said.status, StatusCode::FORBIDDEN);
    assert!(said.text.contains("Nothing was kept of what you sent"), "{}", said.text);
    assert!(said.text.contains("Pine &#38; Co") && said.text.contains("two\nlines"), "{}", said.text);
    assert!(said.text.contains(r#"<form method="post" action="/builds/new">"#));
    assert!(said.text.contains("/sign-in?then=%2Fbuilds%2Fnew"), "{}", said.text);
    assert!(!said.text.contains("not to be seen"));
    // signed in again, the same form does its work
    let office = house.browser("office").await;
    let again = office.post("/builds/new", &[("name", "Pine & Co"), ("about", "two\nlines")]).await;
    assert_eq!(again.to, "/builds/pine-co", "{}", again.text);
    // a script goes by the way to the sign-in, as ever
    let request = stranger.request("POST", "/builds/new").header("sec-fetch-site", "same-origin");
    let request = request.header("sec-fetch-mode", "cors").header(header::CONTENT_TYPE, FORM);
    let said = house.ask(request.body(Body::from("name=x")).unwrap()).await;
    assert_eq!(said.status, StatusCode::SEE_OTHER);
}

#[tokio::test]
async fn builds_are_named_new_and_in_any_script_and_each_has_its_sheet() {
    let house = House::new().await;
    let office = house.browser("office").await;
    for (name, to) in [
        ("New", "/builds/new-2"),
        ("東京ガレージ", "/builds/build"),
        ("Гараж", "/builds/build-2"),
        ("مرآب", "/builds/build-3"),
        ("Ørn Å", "/builds/rn-a"),
    ] {
        let begun = office.post("/builds/new", &[("name", name)]).await;
        assert_eq!(begun.to, to, "{name}: {}", begun.text);
        let sheet = office.get(to).await;
        assert!(sheet.status == StatusCode::OK && sheet.text.contains(name), "{name}");
    }
    assert!(office.get("/builds/new").await.text.contains("<form"));
    let twin = office.post("/builds/new", &[("name", "ГАРАЖ")]).await;
    assert_eq!(twin.status, StatusCode::UNPROCESSABLE_ENTITY, "{}", twin.to);
}

#[tokio::test]
async fn signs_that_hide_or_turn_what_is_read_are_refused_where_they_were_typed() {
    let house = House::new().await;
    let office = house.browser("office").await;
    for sign in ["\u{202e}", "\u{0}", "\u{1b}", "\u{2066}", "\u{200f}"] {
        let name = format!("Pine{sign}Coupe");
        let said = office.post("/builds/new", &[("name", &name), ("about", "kept as typed")]).await;
        assert_eq!(said.status, StatusCode::UNPROCESSABLE_ENTITY, "{sign:?}");
        let number = format!("U+{:04X}", sign.chars().next().map_or(0, u32::from));
        assert!(said.text.contains(&number) && said.text.contains("kept as typed"), "{sign:?}: {}", said.text);
    }
    office.post("/builds/new", &[("name", "Pine")]).await;
    for (path, field) in [("/builds/pine/questions", "text"), ("/builds/pine/log", "text"), ("/people", "name")] {
        let pairs =
            [(field, "left\u{202e}right"), ("day", "2026-05-04"), ("role", "fabricator"), ("password", PASSWORD)];
        let said = office.post(path, &pairs).await;
        let kept = said.to == "/people" && !office.get("/people").await.text.contains('\u{202e}');
        assert!(said.text.contains("U+202E") || kept, "{path}: {} {}", said.status, said.text);
    }
}

/// The addresses a page leads to.
fn links(page: &str) -> Vec<String> {
    let found = page.split("href=\"").skip(1).filter_map(|rest| rest.split('"').next());
    let ours = found.filter(|to| to.starts_with('/') && !to.starts_with("//"));
    let plain =
        |to: &str| to.replace("&#38;", "&").replace("&amp;", "&").split('#').next().unwrap_or_default().to_owned();
    ours.map(plain).collect()
}

#[tokio::test]
async fn every_link_that_a_scrutineer_sees_leads_somewhere() {
    let house = House::new().await;
    Shop::filled(&house).await;
    let scrutineer = house.browser("scrutineer").await;
    let (mut waiting, mut seen, mut dead) = (vec![("/".to_owned(), String::new())], BTreeSet::new(), Vec::new());
    while let Some((to, on)) = waiting.pop() {
        if !seen.insert(to.clone()) {
            continue;
        }
        let page = scrutineer.get(&to).await;
        if !page.status.is_success() && !page.status.is_redirection() {
            dead.push(format!("{to} on {on}: {}", page.status));
        }
        if page.header("content-type").starts_with("text/html") {
            waiting.extend(links(&page.text).into_iter().map(|next| (next, to.clone())));
        }
        if page.status.is_redirection() {
            waiting.push((page.to.split('#').next().unwrap_or_default().to_owned(), to));
        }
    }
    assert!(seen.len() > 10, "{seen:?}");
    assert!(dead.is_empty(), "{dead:#?}");
}
