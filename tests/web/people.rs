//! Signing in and out, the one-time link, adding people.

use std::net::SocketAddr;
use std::sync::Arc;

use axum::body::Body;
use axum::extract::ConnectInfo;
use axum::http::{StatusCode, header};
use jiff::SignedDuration;
use tackbook::actions::shop::pairing::GOOD_FOR;
use tackbook::clock::Clock;
use tackbook::domain::shop::people::Role;
use tackbook::web::{App, Reached, router};

use crate::house::{Answer, House, PASSWORD, encoded};

#[tokio::test]
async fn a_wrong_password_is_said_beside_its_field_and_keeps_the_name() {
    let house = House::new().await;
    let answer = house.stranger().post("/sign-in", &[("name", "office"), ("password", "something else")]).await;
    assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(answer.text.contains("do not belong together"));
    assert!(answer.text.contains(r#"value="office""#));
    assert!(!answer.text.contains("something else"));
}

#[tokio::test]
async fn signing_in_goes_on_to_where_one_wanted_and_signing_out_ends_it() {
    let house = House::new().await;
    let asked = house.stranger().get("/open").await;
    assert_eq!((asked.status, asked.to.as_str()), (StatusCode::SEE_OTHER, "/sign-in?then=/open"));
    let pairs = [("name", "office"), ("password", PASSWORD), ("then", "/open")];
    assert_eq!(house.stranger().post("/sign-in", &pairs).await.to, "/open");
    let browser = house.browser("office").await;
    assert_eq!(browser.get("/").await.status, StatusCode::OK);
    browser.post("/sign-out", &[]).await;
    assert_eq!(browser.get("/").await.status, StatusCode::SEE_OTHER);
}

#[tokio::test]
async fn the_one_time_link_is_spent_once_somebody_can_sign_in() {
    let house = House::new().await;
    let answer = house.stranger().post("/set-up/abc", &[("name", "intruder"), ("password", PASSWORD)]).await;
    assert_eq!(answer.status, StatusCode::GONE);
}

#[tokio::test]
async fn the_office_adds_people_and_is_told_of_a_short_password() {
    let house = House::new().await;
    let office = house.browser("office").await;
    let short = office.post("/people", &[("name", "Second"), ("role", "fabricator"), ("password", "short")]).await;
    assert_eq!(short.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(short.text.contains("at least 12 characters"));
    assert!(short.text.contains(r#"value="Second""#));
    let good = office.post("/people", &[("name", "Second"), ("role", "fabricator"), ("password", PASSWORD)]).await;
    assert_eq!(good.status, StatusCode::SEE_OTHER);
    assert!(office.get("/people").await.text.contains("Second"));
}

/// A person's own sheet, by their name.
async fn sheet_of(house: &House, name: &str) -> String {
    let people = house.store.people().await.unwrap();
    format!("/people/{}", people.iter().find(|person| person.name == name).unwrap().id)
}

/// The long code and the letters of a sheet that shows one.
fn codes(page: &str) -> (String, String) {
    let token = page.split("/pair/").nth(1).unwrap().split('"').next().unwrap().to_owned();
    let letters = page.split("<p class=\"big\">").nth(1).unwrap().split('<').next().unwrap().to_owned();
    (token, letters)
}

/// The same shop, reached at an address, some while later or earlier.
fn after(house: House, some: SignedDuration) -> House {
    let clock = Clock::held_at(house.clock.now() + some);
    let reached = Reached { address: "http://192.168.1.5:7350".to_owned(), ..Reached::default() };
    let app = App { clock: clock.clone(), reached: Arc::new(reached), ..house.app.clone() };
    House { clock, router: router(app.clone()), app, ..house }
}

#[tokio::test]
async fn a_phone_is_signed_in_once_by_the_code_that_the_office_shows() {
    let house = after(House::new().await, SignedDuration::ZERO);
    let (office, phone) = (house.browser("office").await, house.stranger());
    let sheet = sheet_of(&house, "fabricator").await;
    let shown = office.post(&format!("{sheet}/pair"), &[]).await;
    assert_eq!((shown.status, shown.header("cache-control").as_str()), (StatusCode::OK, "no-store"));
    assert!(shown.text.contains("QR code of http://192.168.1.5:7350/pair/"));
    let (token, _) = codes(&shown.text);
    let address = format!("/pair/{token}");
    // looked at by whoever follows addresses: nothing is used up
    for _ in 0..2 {
        let asked = phone.get(&address).await;
        assert!(asked.text.contains("Sign in as fabricator") && asked.cookie.is_empty());
    }
    let request = phone.request("POST", &address).header("sec-fetch-site", "same-origin");
    let request = request.header(header::USER_AGENT, "Mozilla/5.0 (Linux; Android 16; K) Mobile");
    let paired = house.ask(request.body(Body::empty()).unwrap()).await;
    assert_eq!((paired.status, paired.to.as_str()), (StatusCode::SEE_OTHER, "/"));
    let paired = house.with_cookie(paired.cookie);
    assert!(paired.get("/").await.text.contains("fabricator, fabricator"));
    let again = phone.post(&address, &[]).await;
    assert_eq!(again.status, StatusCode::GONE);
    assert_eq!(phone.get(&address).await.status, StatusCode::GONE);

    // lost: the office ends it there, and it is nobody's with the next request
    let listed = office.get(&sheet).await.text;
    assert!(listed.contains("Android device"), "{listed}");
    let end = listed.split("action=\"").find(|part| part.contains("/end\"")).unwrap().split('"').next().unwrap();
    assert_eq!(office.post(end, &[]).await.to, sheet);
    assert_eq!(paired.get("/").await.to, "/sign-in?then=/");
    assert_eq!(office.post(end, &[]).await.status, StatusCode::NOT_FOUND);
}

#[tokio::test]
async fn letters_are_taken_as_one_types_them_for_ten_minutes_and_once() {
    let house = after(House::new().await, SignedDuration::ZERO);
    let pair = format!("{}/pair", sheet_of(&house, "fabricator").await);
    let letters = codes(&house.browser("office").await.post(&pair, &[]).await.text).1;
    let typed = letters.to_lowercase();
    let late = GOOD_FOR + SignedDuration::from_secs(1);
    let house = after(house, late);
    let said = house.stranger().post("/pair", &[("letters", &typed)]).await;
    assert_eq!(said.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(said.text.contains("older than ten minutes") && said.text.contains(&format!("value=\"{typed}\"")));
    let house = after(house, -late);
    let signed_in = house.stranger().post("/pair", &[("letters", &typed)]).await;
    assert_eq!((signed_in.status, signed_in.to.as_str()), (StatusCode::SEE_OTHER, "/"));

    // a code is good once
    assert!(house.stranger().post("/pair", &[("letters", &typed)]).await.text.contains("nobody"));
}

/// What a stranger at an address is told who types letters.
async fn letters_from(house: &House, address: [u8; 4], letters: &str) -> Answer {
    let body = Body::from(encoded(&[("letters", letters)]));
    let request = house.stranger().request("POST", "/pair").header("sec-fetch-site", "same-origin");
    let mut request = request.header(header::CONTENT_TYPE, "application/x-www-form-urlencoded").body(body).unwrap();
    request.extensions_mut().insert(ConnectInfo(SocketAddr::from((address, 4711))));
    house.ask(request).await
}

#[tokio::test]
async fn no_stranger_takes_the_letters_from_whoever_they_were_made_for() {
    let house = after(House::new().await, SignedDuration::ZERO);
    let pair = format!("{}/pair", sheet_of(&house, "fabricator").await);
    let (_, letters) = codes(&house.browser("office").await.post(&pair, &[]).await.text);
    let mut told_to_wait = 0;
    for _ in 0..100 {
        let said = letters_from(&house, [192, 0, 2, 66], "AAAA AAAA").await;
        told_to_wait += usize::from(said.text.contains("From here wrong letters were typed several times: wait"));
    }
    assert_eq!(told_to_wait, 80, "twenty guesses of an address are looked at");
    let waits = letters_from(&house, [192, 0, 2, 66], &letters).await;
    assert_eq!(waits.status, StatusCode::UNPROCESSABLE_ENTITY);
    let phone = letters_from(&house, [192, 0, 2, 7], &letters).await;
    assert_eq!((phone.status, phone.to.as_str()), (StatusCode::SEE_OTHER, "/"));
}

#[tokio::test]
async fn beyond_the_places_at_the_door_one_is_told_to_come_again() {
    let house = House::new().await;
    let at = |number: u8| house.app.strangers.turn([192, 0, 2, number].into(), &house.clock).ok();
    let waiting: Vec<_> = (0..=255).filter_map(at).collect();
    assert_eq!(waiting.len(), 64);
    let said = house.stranger().post("/sign-in", &[("name", "office"), ("password", PASSWORD)]).await;
    assert_eq!((said.status, said.header("retry-after").as_str()), (StatusCode::SERVICE_UNAVAILABLE, "5"));
    assert!(said.text.contains("Too many at the door") && said.text.contains("Try again in a few seconds."));
    drop(waiting);
    house.browser("office").await;
}

#[tokio::test]
async fn a_name_that_waits_is_told_how_long_on_our_own_page() {
    let house = House::new().await;
    let wrong = [("name", "office"), ("password", "not the password")];
    for _ in 0..5 {
        assert_eq!(house.stranger().post("/sign-in", &wrong).await.status, StatusCode::UNPROCESSABLE_ENTITY);
    }
    let said = house.stranger().post("/sign-in", &wrong).await;
    assert_eq!((said.status, said.header("retry-after").as_str()), (StatusCode::TOO_MANY_REQUESTS, "15"));
    assert!(said.text.contains("has to wait 15 seconds"), "{}", said.text);
}

#[tokio::test]
async fn a_new_code_ends_the_one_before_and_so_does_another_password() {
    let house = after(House::new().await, SignedDuration::ZERO);
    let office = house.browser("office").await;
    let sheet = sheet_of(&house, "fabricator").await;
    let first = codes(&office.post(&format!("{sheet}/pair"), &[]).await.text).0;
    let second = codes(&office.post(&format!("{sheet}/pair"), &[]).await.text).0;
    assert_eq!(house.stranger().get(&format!("/pair/{first}")).await.status, StatusCode::GONE);
    assert_eq!(house.stranger().get(&format!("/pair/{second}")).await.status, StatusCode::OK);
    let short = office.post(&format!("{sheet}/password"), &[("password", "short")]).await;
    assert_eq!(short.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(short.text.contains("at least 12 characters"));
    office.post(&format!("{sheet}/password"), &[("password", "six red clamps")]).await;
    assert_eq!(house.stranger().post(&format!("/pair/{second}"), &[]).await.status, StatusCode::GONE);
    let signed_in = [("name", "fabricator"), ("password", "six red clamps")];
    assert_eq!(house.stranger().post("/sign-in", &signed_in).await.to, "/");
}

#[tokio::test]
async fn everybody_pairs_their_own_phone_and_nobody_anothers() {
    let house = after(House::new().await, SignedDuration::ZERO);
    let (own, office) = (sheet_of(&house, "fabricator").await, sheet_of(&house, "office").await);
    let fabricator = house.browser("fabricator").await;
    assert!(fabricator.get("/").await.text.contains(&format!("href=\"{own}\"")));
    let sheet = fabricator.get(&own).await.text;
    assert!(sheet.contains("this one") && !sheet.contains("Another password") && !sheet.contains("Remove"));
    assert_eq!(fabricator.post(&format!("{own}/pair"), &[]).await.status, StatusCode::OK);
    for (to, pairs) in [("/pair", &[][..]), ("/password", &[("password", "six red clamps")]), ("/remove", &[])] {
        let answer = fabricator.post(&format!("{office}{to}"), pairs).await;
        assert_eq!(answer.status, StatusCode::NOT_FOUND, "{to}");
    }
    assert_eq!(fabricator.get(&office).await.status, StatusCode::NOT_FOUND);
    assert_eq!(fabricator.post(&format!("{own}/remove"), &[]).await.status, StatusCode::NOT_FOUND);
    let last = house.browser("office").await.post(&format!("{office}/remove"), &[]).await;
    assert_eq!(last.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(last.text.contains("last office sign-in"));
    assert_eq!(house.browser("office").await.post(&format!("{own}/remove"), &[]).await.to, "/people");
    assert_eq!(fabricator.get("/").await.to, "/sign-in?then=/");
    assert!(house.store.people().await.unwrap().iter().all(|person| person.role != Role::Fabricator));
}

#[tokio::test]
async fn whoever_holds_the_machine_gives_a_forgotten_sign_in_another_password() {
    let house = House::new().await;
    let folder = house.folder.0.clone();
    let call = |arguments: &[&str]| {
        let mut call = std::process::Command::new(env!("CARGO_BIN_EXE_tackbook"));
        let said = call.args(["person", "--folder"]).arg(&folder).args(arguments).output().unwrap();
        let words = [said.stdout, said.stderr].map(|bytes| String::from_utf8(bytes).unwrap()).concat();
        (said.status.code(), words)
    };
    let (code, said) = call(&["list"]);
    assert!(code == Some(2) && said.contains("already works in"), "not beside an open shop: {said}");
    house.store.close().await;
    let (code, said) = call(&["reset", "Office"]);
    assert_eq!(code, Some(0), "{said}");
    let password = said.trim().rsplit(' ').next().unwrap().to_owned();
    assert_eq!(call(&["add", "office"]), (Some(2), said_taken()));
    assert_eq!(call(&["remove", "nobody"]).0, Some(2));
    assert_eq!(call(&["remove", "office"]).0, Some(2), "the last office sign-in stays");
    let (code, listed) = call(&["list"]);
    assert!(code == Some(0) && listed.contains("office                          office"), "{listed}");
    let store = tackbook::store::Store::open(&folder).await.unwrap();
    let said = tackbook::actions::shop::people::sign_in(&store, &house.clock, "office", &password, "").await;
    assert!(said.is_ok(), "{password}");
    store.close().await;
}

fn said_taken() -> String {
    "Somebody here is or was called office, which reads like it. Add a second name or a letter.\n".to_owned()
}
