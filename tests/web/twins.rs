//! Lists that are handed out beside their sheets, as a table and as data: the same things in both.

use axum::http::StatusCode;
use serde_json::Value;

use crate::house::House;

/// The lines of a table, its head left out; no cell of these tests has a line's end in it.
fn lines(text: &str) -> usize {
    text.lines().count() - 1
}

#[tokio::test]
async fn each_list_of_the_shop_has_its_table_and_its_data() {
    let house = House::new().await;
    let office = house.browser("office").await;
    office.post("/books/shipped/cage-article-253", &[]).await;
    let book = house.store.books().await.unwrap().pop().unwrap().id.to_string();
    for name in ["Pine, Coupe", "Elm Saloon"] {
        let made = office.post("/builds/new", &[("name", name), ("about", "=1+1"), ("book", &book)]).await;
        assert_eq!(made.status, StatusCode::SEE_OTHER, "{}", made.text);
    }
    let stick = [("size", "45 x 2.5 mm"), ("grade", "E235"), ("length", "6 m"), ("heat", "H 7"), ("count", "2")];
    assert_eq!(office.post("/stock", &stick).await.status, StatusCode::SEE_OTHER);
    for (list, head, sheet) in [
        ("/builds", "name,address,about,event_day,hold,weighed_kg,open", "/"),
        ("/open", "build,part,what,kind,waits_on,since,address", "/open"),
        ("/stock", "stick,size,grade,heat,length_mm,left_mm,pieces,given_to", "/stock"),
    ] {
        let (table, data) = (office.get(&format!("{list}.csv")).await, office.get(&format!("{list}.json")).await);
        assert_eq!((table.status, data.status), (StatusCode::OK, StatusCode::OK), "{list}");
        assert!(table.header("content-type").starts_with("text/csv"), "{list}");
        assert_eq!(data.header("content-type"), "application/json", "{list}");
        assert_eq!(table.text.lines().next(), Some(head), "{list}");
        let things: Vec<Value> = serde_json::from_str(&data.text).unwrap();
        assert!(things.len() > 1 && lines(&table.text) == things.len(), "{list}: {}", table.text);
        let names: Vec<&str> = head.split(',').collect();
        for thing in &things {
            let thing = thing.as_object().unwrap();
            assert!(
                thing.len() == names.len() && names.iter().all(|name| thing.contains_key(*name)),
                "{list}: {thing:?}"
            );
        }
        let page = office.get(sheet).await.text;
        for form in ["csv", "json"] {
            assert!(page.contains(&format!("href=\"{list}.{form}\"")), "{list}.{form} is not on its sheet");
        }
    }
    let builds = office.get("/builds.csv").await.text;
    assert!(builds.contains("\"Pine, Coupe\"") && builds.contains(",'=1+1,"), "{builds}");
    let sticks: Vec<Value> = serde_json::from_str(&office.get("/stock.json").await.text).unwrap();
    assert_eq!((&sticks[1]["stick"], &sticks[1]["length_mm"]), (&Value::from("S2"), &Value::from(6_000.0)));
    // nothing is weighed, and no event day is set: neither is a figure
    let builds: Vec<Value> = serde_json::from_str(&office.get("/builds.json").await.text).unwrap();
    assert!(builds.iter().all(|build| build["weighed_kg"].is_null() && build["event_day"].is_null()), "{builds:?}");
}

#[tokio::test]
async fn a_scrutineer_is_handed_no_build_that_was_not_issued_to_him() {
    let house = House::new().await;
    house.browser("office").await.post("/builds/new", &[("name", "Pine Coupe")]).await;
    let scrutineer = house.browser("scrutineer").await;
    assert_eq!(scrutineer.get("/builds.json").await.text, "[]");
    for list in ["/open.csv", "/open.json", "/stock.csv", "/stock.json"] {
        assert_eq!(scrutineer.get(list).await.status, StatusCode::NOT_FOUND, "{list}");
    }
}
