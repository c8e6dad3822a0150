//! Cars' files: everything that is recorded of a build goes with its car, from every table there is.

use serde_json::Value;
use tackbook::domain::recorded::facts::BuildFacts;
use tackbook::store::Store;
use tackbook::store::car_file::{STAY, tables, tried};

use crate::folder::Folder;
use crate::house::House;
use crate::old_shops::grown;

/// What is recorded, but for the numbers that entries of the log have in one shop.
fn of_any_shop(facts: &BuildFacts) -> Value {
    let mut value = serde_json::to_value(facts).unwrap();
    let all = value.as_object_mut().unwrap();
    for here in ["as_of", "log_head"] {
        all.remove(here).unwrap();
    }
    for round in all.get_mut("rounds").unwrap().as_array_mut().unwrap() {
        round.as_object_mut().unwrap().remove("as_of").unwrap();
    }
    for photo in all.get_mut("photos").unwrap().as_array_mut().unwrap() {
        if let Some(received) = photo.get_mut("received").and_then(Value::as_object_mut) {
            received.remove("entry").unwrap();
        }
    }
    for way in all.get_mut("kit_ways").unwrap().as_array_mut().unwrap() {
        for stay in way.get_mut("stays").unwrap().as_array_mut().unwrap() {
            stay.as_object_mut().unwrap().remove("slug").unwrap();
        }
    }
    for weld in all.get_mut("welds").unwrap().as_array_mut().unwrap() {
        weld.as_object_mut().unwrap().remove("number");
    }
    value
}

#[tokio::test]
async fn all_that_is_recorded_of_a_build_goes_with_its_car_and_comes_out_again_the_same() {
    let folder = Folder::new();
    let newest = grown(&folder.0).await.pop().unwrap().1;
    let store = Store::open(&newest).await.unwrap();
    let mut with_rows = 0;
    for build in store.builds().await.unwrap() {
        let (facts, records) = store.records_of_build(build.id).await.unwrap();
        with_rows += records.records.tables.iter().filter(|table| !table.rows.is_empty()).count();
        assert_eq!(facts, store.facts(build.id).await.unwrap());
        let (facts_there, records_there) = tried(build.id, records.clone()).await.unwrap();
        assert_eq!(records_there, records, "{}", build.name);
        assert_eq!(of_any_shop(&facts_there), of_any_shop(&facts), "{}", build.name);
        // and what the rows say is all there: taken through text, as a file does
        let text = serde_json::to_string_pretty(&records.records).unwrap();
        assert_eq!(
            serde_json::from_str::<tackbook::domain::recorded::car_file::Records>(&text).unwrap(),
            records.records
        );
    }
    assert!(with_rows > tables().count(), "the samples fill {with_rows} tables");
    store.close().await;
}

#[tokio::test]
async fn each_table_goes_with_the_car_or_says_why_it_stays() {
    let house = House::open().await;
    let mut records = house.behind_its_back().await;
    let all: Vec<String> = sqlx::query_scalar(
        "SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE '\\_%' ESCAPE '\\' AND name NOT LIKE 'sqlite%'",
    )
    .fetch_all(&mut records)
    .await
    .unwrap();
    let placed = |table: &str| tables().chain(STAY.iter().map(|(table, _)| *table)).filter(|one| *one == table).count();
    let wrong: Vec<&String> = all.iter().filter(|table| placed(table) != 1).collect();
    assert!(wrong.is_empty(), "{wrong:?}: these go with a car's file, or stay for a reason");
    let gone: Vec<&str> = tables().filter(|table| !all.iter().any(|one| one == table)).collect();
    assert!(gone.is_empty(), "{gone:?} are no tables");
}
