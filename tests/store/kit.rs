//! Kit: added, changed, never saved over unseen.

use tackbook::actions::ActionError;
use tackbook::actions::recorded::kit;
use tackbook::domain::recorded::kit::Label;
use tackbook::domain::recorded::kit::NewItem;

use crate::house::House;

fn belts(serial: &str) -> NewItem {
    let label = Label {
        standard: "FIA 8853-2016".to_owned(),
        serial: serial.to_owned(),
        ends_printed: Some("2027".parse().unwrap()),
        ..Label::default()
    };
    NewItem { item: "belts".to_owned(), label, ..NewItem::default() }
}

#[tokio::test]
async fn an_item_is_numbered_kept_and_changed_with_its_history_in_the_log() {
    let house = House::open().await;
    let build = house.build("Pine Coupe").await.id;
    let first = kit::add(&house.office, build, belts("A1")).await.unwrap();
    let second = kit::add(&house.office, build, belts("A2")).await.unwrap();
    assert_eq!((first.number, second.number), (1, 2));
    let changed = kit::change(&house.office, build, first.id, first.version, belts("A9")).await.unwrap();
    let facts = house.office.store.facts(build).await.unwrap();
    assert_eq!(facts.kit, [changed, second]);
    let log = house.office.store.log_of_build(build, 1).await.unwrap();
    assert_eq!(log[0].detail["before"]["label"]["serial"], "A1");
}

#[tokio::test]
async fn two_people_changing_one_item_do_not_save_over_each_other() {
    let house = House::open().await;
    let build = house.build("Pine Coupe").await.id;
    let item = kit::add(&house.office, build, belts("A1")).await.unwrap();
    kit::change(&house.office, build, item.id, item.version, belts("B1")).await.unwrap();
    let late = kit::change(&house.office, build, item.id, item.version, belts("C1")).await;
    assert!(matches!(late, Err(ActionError::Stale { now: 2 })), "{late:?}");
    let other = house.build("Elm Saloon").await.id;
    let elsewhere = kit::change(&house.office, other, item.id, 2, belts("C1")).await;
    assert!(matches!(elsewhere, Err(ActionError::NotFound(_))), "{elsewhere:?}");
    let nameless = NewItem { item: " ".to_owned(), ..belts("D1") };
    assert!(matches!(kit::add(&house.office, build, nameless).await, Err(ActionError::Refused(_))));
}
