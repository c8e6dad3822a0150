//! The order in which a cage is welded: as suggested, or as the office sets it; the walk, its copy on a phone, the log's sheet
//! and the packet go by it.

use axum::http::StatusCode;
use serde_json::Value;
use tackbook::domain::recorded::welds::order::WeldOrder;
use tackbook::domain::words::ids::BuildId;

use crate::car_file::{ZIP, load, saved};
use crate::house::{Answer, Browser, House};
use crate::log::behind_its_back;
use crate::paper::words;
use crate::reviews::{issued, value};

const ORDER: &str = "/builds/pine-coupe/welds/order";

async fn stands(house: &House, build: BuildId) -> Option<WeldOrder> {
    house.store.facts(build).await.unwrap().weld_order
}

/// The order that the sheet's form carries.
async fn shown(browser: &Browser<'_>) -> Vec<String> {
    let sheet = browser.get(ORDER).await;
    value(&sheet, "order").split(' ').map(str::to_owned).collect()
}

/// The order that a phone keeps.
async fn kept(browser: &Browser<'_>) -> Vec<String> {
    let list: Value = serde_json::from_str(&browser.get("/builds/pine-coupe/welds/walk.json").await.text).unwrap();
    serde_json::from_value(list.get("order").unwrap().clone()).unwrap()
}

async fn moved(browser: &Browser<'_>, version: &str, order: &[String], way: &str) -> Answer {
    browser.post(ORDER, &[("version", version), ("order", &order.join(" ")), ("move", way)]).await
}

#[tokio::test]
async fn the_office_moves_a_joint_and_the_walk_the_phone_the_log_and_the_packet_go_by_it_until_it_is_as_suggested() {
    let house = House::new().await;
    let build = issued(&house).await;
    let office = house.browser("office").await;
    let suggested = shown(&office).await;
    assert!(suggested.len() > 10 && kept(&office).await == suggested, "{suggested:?}");
    let sheet = office.get("/builds/pine-coupe/welds").await.text;
    assert!(sheet.contains("Left, in the order suggested") && !sheet.contains("in the order set by"), "{sheet}");
    // down, and up again further on
    let (first, second) = (suggested[0].clone(), suggested[1].clone());
    let went = moved(&office, "0", &suggested, &format!("{first} down")).await;
    assert_eq!((went.status, went.to.as_str()), (StatusCode::SEE_OTHER, format!("{ORDER}#{first}").as_str()));
    let mut then = suggested.clone();
    then.swap(0, 1);
    assert_eq!((shown(&office).await, kept(&office).await), (then.clone(), then.clone()));
    let third = then[2].clone();
    assert_eq!(moved(&office, "1", &then, &format!("{third} up")).await.status, StatusCode::SEE_OTHER);
    then.swap(1, 2);
    let order = stands(&house, build).await.unwrap();
    assert_eq!((order.version, order.by.as_str()), (2, "office"));
    let names: Vec<String> = order.joints.unwrap().iter().map(ToString::to_string).collect();
    assert_eq!(names, then);
    let told = house.store.log_of_build(build, 1).await.unwrap().remove(0).what;
    assert!(told.starts_with(&format!("The order of welding was set: {second}, {third}, {first}")), "{told}");
    // the fabricator sees it, walks by it, and does not change it
    let fabricator = house.browser("fabricator").await;
    let sheet = fabricator.get("/builds/pine-coupe/welds").await.text;
    assert!(sheet.contains("Left, in the order set by office"), "{sheet}");
    let walk = fabricator.get("/builds/pine-coupe/welds/walk").await.text;
    assert!(walk.contains(&format!(">{second}</a></h1>")) && walk.contains(&format!("Save, next: {third}")), "{walk}");
    let page = fabricator.get(ORDER).await.text;
    assert!(page.contains("The office changes the order.") && !page.contains("name=\"move\""), "{page}");
    assert_eq!(moved(&fabricator, "2", &then, "suggested").await.status, StatusCode::NOT_FOUND);
    // at an end it stays; pressed twice it is set once
    for _ in 0..2 {
        assert_eq!(moved(&office, "2", &then, &format!("{second} up")).await.status, StatusCode::SEE_OTHER);
    }
    assert_eq!(stands(&house, build).await.unwrap().version, 2);
    // a welded joint is left no more; the packet tells the order of the others
    let day = house.clock.today().to_string();
    let weld = [("joint", second.as_str()), ("did", "welded"), ("seen", "0"), ("day", &day), ("welder", "A. Welder")];
    let weld = [weld.as_slice(), &[("process", "135"), ("position", "PA")]].concat();
    assert_eq!(office.post("/builds/pine-coupe/welds", &weld).await.status, StatusCode::SEE_OTHER);
    assert_eq!(shown(&office).await, then[1..]);
    let draft = words(&office.get("/builds/pine-coupe/packet.pdf").await.bytes);
    assert!(draft.contains("Left to weld, in the order set by office") && !draft.contains("Not in it, and"), "{draft}");
    let (bytes, there) = (saved(&house, ZIP).await, House::new().await);
    assert_eq!(load(&there, &bytes).await.status, StatusCode::SEE_OTHER);
    assert_eq!(stands(&there, build).await, stands(&house, build).await);
    assert!(saved(&there, ZIP).await == bytes);
    // as suggested again: nothing calls it set any more, and what was set stays in the records
    assert_eq!(moved(&office, "2", &then[1..], "suggested").await.status, StatusCode::SEE_OTHER);
    let sheet = office.get("/builds/pine-coupe/welds").await.text;
    assert!(sheet.contains("Left, in the order suggested") && !sheet.contains("in the order set by"), "{sheet}");
    let draft = words(&office.get("/builds/pine-coupe/packet.pdf").await.bytes);
    assert!(!draft.contains("in the order set by"), "{draft}");
    assert_eq!(stands(&house, build).await.map(|order| (order.version, order.joints)), Some((3, None)));
    let mut records = behind_its_back(&house).await;
    for altering in ["DELETE FROM weld_orders", "UPDATE weld_orders SET by = 'x'"] {
        assert!(sqlx::query(altering).execute(&mut records).await.is_err(), "{altering}");
    }
}

#[tokio::test]
async fn of_two_who_change_it_the_second_is_shown_both_and_can_have_either() {
    let house = House::new().await;
    let build = issued(&house).await;
    let office = house.browser("office").await;
    let suggested = shown(&office).await;
    let [first, last] = [suggested[0].clone(), suggested[suggested.len() - 1].clone()];
    assert_eq!(moved(&office, "0", &suggested, &format!("{first} down")).await.status, StatusCode::SEE_OTHER);
    let theirs = shown(&office).await;
    let late = moved(&office, "0", &suggested, &format!("{last} up")).await;
    let mut mine = suggested.clone();
    mine.swap(suggested.len() - 2, suggested.len() - 1);
    assert_eq!(late.status, StatusCode::CONFLICT);
    for words in [
        "office changed the order meanwhile.",
        &format!("Yours: {}", mine.join(" ")),
        &format!("Theirs: {}", theirs.join(" ")),
    ] {
        assert!(late.text.contains(words), "{words}: {}", late.text);
    }
    assert_eq!(shown(&office).await, theirs, "nothing of the second is set yet");
    // the form that comes back sets it over what was read
    assert_eq!((value(&late, "version"), value(&late, "order")), ("1".to_owned(), mine.join(" ")));
    assert_eq!(moved(&office, "1", &mine, "mine").await.status, StatusCode::SEE_OTHER);
    assert_eq!(shown(&office).await, mine);
    let late = moved(&office, "1", &theirs, "suggested").await;
    assert!(late.status == StatusCode::CONFLICT && late.text.contains("Yours: as suggested"), "{}", late.text);
    assert_eq!(stands(&house, build).await.unwrap().version, 2);
}

#[tokio::test]
async fn what_is_not_in_the_order_stands_at_its_suggested_place_and_is_named() {
    let house = House::new().await;
    issued(&house).await;
    let office = house.browser("office").await;
    let suggested = shown(&office).await;
    let (late, before) = (suggested[4].clone(), suggested[3].clone());
    // as the order stood before that joint was there: its neighbour has gone to the beginning
    let mut order: Vec<String> = suggested.iter().filter(|one| **one != late).cloned().collect();
    order.retain(|one| *one != before);
    order.insert(0, before.clone());
    assert_eq!(moved(&office, "0", &order, "mine").await.status, StatusCode::SEE_OTHER);
    let now = shown(&office).await;
    assert_eq!((now.len(), now[0].as_str(), now[1].as_str()), (suggested.len(), before.as_str(), late.as_str()));
    let named = format!("{late} is not in the order that was set; it stands at its suggested place.");
    for sheet in [ORDER, "/builds/pine-coupe/welds"] {
        assert!(office.get(sheet).await.text.contains(&named), "{sheet}");
    }
    assert_eq!(kept(&office).await, now);
    // once it is moved it is in the order, and nothing is named
    assert_eq!(moved(&office, "1", &now, &format!("{late} down")).await.status, StatusCode::SEE_OTHER);
    assert!(!office.get(ORDER).await.text.contains("is not in the order that was set"));
}

#[tokio::test]
async fn an_order_that_is_none_is_refused_and_nothing_is_set() {
    let house = House::new().await;
    let build = issued(&house).await;
    let office = house.browser("office").await;
    for (order, way, why) in [
        ("J1 J1", "mine", "J1 is in the order twice."),
        ("J1 M1", "mine", "M1 is not welded"),
        ("J1 J999", "mine", "J999 is no joint and no foot of this cage any more."),
        ("J1 &lt;b&gt;", "mine", "the number of no joint"),
        ("J1 J2", "J1 sideways", "Press up or down beside a joint."),
        ("J1 J2", "", "Press up or down beside a joint."),
        ("J1 J2", "nobody up", "This is the number of no joint."),
    ] {
        let said = office.post(ORDER, &[("version", "0"), ("order", order), ("move", way)]).await;
        assert_eq!(said.status, StatusCode::UNPROCESSABLE_ENTITY, "{order} {way}: {}", said.text);
        assert!(said.text.contains(why), "{why}: {}", said.text);
    }
    let many: Vec<String> = (1..=501).map(|number| format!("J{number}")).collect();
    assert!(moved(&office, "0", &many, "mine").await.text.contains("An order has at most 500 joints."));
    assert_eq!(stands(&house, build).await, None);
}
