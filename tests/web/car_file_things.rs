//! Sticks and kit that come with a car: they keep the numbers of the shop that had them, and are on no rack of this one.

use axum::http::StatusCode;
use sqlx::ConnectOptions as _;
use tackbook::actions::ActionError;
use tackbook::actions::shop::stock;
use tackbook::domain::words::ids::StickId;

use crate::car_file::{ZIP, all_of, load, saved, two_shops};
use crate::house::House;

async fn stick(house: &House, heat: &str) -> StickId {
    let office = house.browser("office").await;
    let new = [("size", "1 1/2 x .095"), ("grade", "1020 cold drawn"), ("length", "20 ft"), ("heat", heat)];
    let added = office.post("/stock", &new).await;
    assert_eq!(added.to, "/stock", "{}", added.text);
    house.store.sticks().await.unwrap().last().unwrap().id
}

#[tokio::test]
async fn a_stick_that_came_with_a_car_keeps_its_number_beside_the_shops_own() {
    let (from, to, build) = two_shops().await;
    let theirs = stick(&from, "4471").await;
    stock::give(&from.office, theirs, Some(build)).await.unwrap();
    let bytes = saved(&from, ZIP).await;
    let own = stick(&to, "9902").await;
    assert_eq!(load(&to, &bytes).await.status, StatusCode::SEE_OTHER);
    assert!(saved(&to, ZIP).await == bytes);
    let rack = to.store.sticks().await.unwrap();
    assert_eq!(rack.iter().map(|stick| stick.id).collect::<Vec<_>>(), [own]);
    let of_car = to.store.sticks_of_build(build).await.unwrap();
    assert_eq!(of_car.iter().map(|stick| (stick.number, stick.heat.as_str())).collect::<Vec<_>>(), [(1, "4471")]);
    // two of one number in a car would make "S1" two things
    let refused = stock::give(&to.office, own, Some(build)).await;
    assert!(matches!(&refused, Err(ActionError::Held(why)) if why.contains("has another S1")), "{refused:?}");
    let refused = stock::give(&to.office, theirs, None).await;
    assert!(matches!(&refused, Err(ActionError::Held(why)) if why.contains("never on this rack")), "{refused:?}");
    let next = stick(&to, "9903").await;
    let given = stock::give(&to.office, next, Some(build)).await.unwrap();
    assert_eq!(given.number, 2);
}

#[tokio::test]
async fn a_car_that_the_shop_cannot_take_leaves_no_photograph_behind() {
    let (from, to, build) = two_shops().await;
    let theirs = stick(&from, "4471").await;
    stock::give(&from.office, theirs, Some(build)).await.unwrap();
    let bytes = saved(&from, ZIP).await;
    stick(&to, "9902").await;
    // another stick under the same name, as only a mistake or a forger makes it
    let options = sqlx::sqlite::SqliteConnectOptions::new().filename(to.folder.0.join("tackbook.db"));
    let mut records = options.connect().await.unwrap();
    sqlx::query("UPDATE sticks SET id = $1").bind(theirs.to_string()).execute(&mut records).await.unwrap();
    let before = all_of(&to).await;
    let said = load(&to, &bytes).await;
    assert_eq!(said.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(said.text.contains("another stick of the same name"), "{}", said.text);
    assert_eq!(all_of(&to).await, before);
}

#[tokio::test]
async fn kit_keeps_its_way_through_cars_that_are_not_in_the_shop_and_what_went_on_is_not_in_the_car() {
    let (from, to, _) = two_shops().await;
    let office = from.browser("office").await;
    let belts = [("item", "belts"), ("book_standard", "LSL-B6"), ("made", "2025")];
    office.post("/builds/pine-coupe/kit", &belts).await;
    let book = from.store.books().await.unwrap().remove(0).id.to_string();
    office.post("/builds/new", &[("name", "Elm Saloon"), ("book", &book)]).await;
    let elm = from.store.build_by_slug("elm-saloon").await.unwrap().unwrap().id.to_string();
    let moving =
        [("version", "1"), ("move_to", &elm), ("move_day", "2026-05-04"), ("move_why", "lent"), ("move_sure", "yes")];
    let moved = office.post("/builds/pine-coupe/kit/K1/move", &moving).await;
    assert_eq!(moved.status, StatusCode::SEE_OTHER, "{}", moved.text);
    let there = to.browser("office").await;
    // the car it came into
    let bytes = saved(&from, "/builds/elm-saloon/car.zip").await;
    assert_eq!(load(&to, &bytes).await.status, StatusCode::SEE_OTHER);
    assert!(saved(&to, "/builds/elm-saloon/car.zip").await == bytes);
    let sheet = there.get("/builds/elm-saloon/kit/K1").await.text;
    assert!(sheet.contains("in Pine Coupe") && sheet.contains("(not in this shop)"), "{sheet}");
    assert!(!sheet.contains("/builds/pine-coupe"), "a way to nowhere: {sheet}");
    // the car it left
    let bytes = saved(&from, ZIP).await;
    assert_eq!(load(&to, &bytes).await.status, StatusCode::SEE_OTHER);
    assert!(saved(&to, ZIP).await == bytes);
    let facts = to.store.facts(to.store.build_by_slug("pine-coupe").await.unwrap().unwrap().id).await.unwrap();
    assert!(facts.kit.is_empty() && facts.kit_ways.len() == 1, "{:?}", facts.kit);
    // now both are here: the way leads there
    let sheet = there.get("/builds/elm-saloon/kit/K1").await.text;
    assert!(sheet.contains("/builds/pine-coupe/kit/K1") && !sheet.contains("(not in this shop)"), "{sheet}");
}
