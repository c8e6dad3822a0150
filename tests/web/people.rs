//! Signing in and out, the one-time link, adding people.

use axum::http::StatusCode;

use crate::house::{House, PASSWORD};

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
