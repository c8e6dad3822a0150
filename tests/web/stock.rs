//! Tube: sticks onto the rack, to a build, and bars cut from them.

use axum::http::StatusCode;
use tackbook::domain::derived::findings::Findings;
use tackbook::domain::shop::saw::Saw;
use tackbook::domain::work::cut_list::balance;

use crate::camera::{Phone, asked_for};
use crate::house::{Browser, House};

const STICK: [(&str, &str); 4] =
    [("size", "1 1/2 x .095"), ("grade", "1020 cold drawn"), ("length", "20 ft"), ("heat", "A,\"7")];

/// A build with a cage, and two sticks on the rack, by their ids.
async fn with_sticks(house: &House) -> (Browser<'_>, Vec<String>) {
    let mut phone = Phone::new(house).await;
    asked_for(&mut phone).await;
    let browser = phone.browser;
    for length in ["20 ft", "1 ft"] {
        let mut new = STICK;
        new[2].1 = length;
        let added = browser.post("/stock", &new).await;
        assert_eq!(added.to, "/stock", "{}", added.text);
    }
    let ids = house.store.sticks().await.unwrap().iter().map(|stick| stick.id.to_string()).collect();
    (browser, ids)
}

#[tokio::test]
async fn bars_are_cut_from_sticks_and_what_is_left_is_told() {
    let house = House::new().await;
    let (browser, ids) = with_sticks(&house).await;
    let (long, short) = (ids[0].as_str(), ids[1].as_str());
    for id in [long, short] {
        let given = browser.post("/builds/elm-saloon/tube/give", &[("stick", id)]).await;
        assert_eq!(given.to, "/builds/elm-saloon/tube", "{}", given.text);
    }
    let sheet = browser.get("/builds/elm-saloon/tube").await.text;
    assert!(sheet.contains("All bars of 1.5 × .095 in without a stick"), "{sheet}");
    // M1 by itself from the short stick; all others at once from the long one, which is too short for that.
    let at_once = [("M1", short), ("was_M1", ""), ("all 1.5 × .095 in", long)];
    let refused = browser.post("/builds/elm-saloon/tube", &at_once).await;
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(refused.text.contains("too long for what is left of S1. Say it bar by bar."), "{}", refused.text);
    assert!(refused.text.contains(&format!("<option value=\"{short}\" selected>")), "{}", refused.text);
    let build = house.store.build_by_slug("elm-saloon").await.unwrap().unwrap().id;
    let facts = house.store.facts(build).await.unwrap();
    assert!(facts.cuts.is_empty());
    let bars = Findings::of(&facts, house.clock.today()).worked.cage.members;
    let others: Vec<String> = bars.iter().skip(1).map(|bar| bar.balloon.to_string()).collect();
    let mut one_by_one: Vec<(&str, &str)> = others.iter().map(|bar| (bar.as_str(), long)).collect();
    one_by_one.push(("M1", short));
    let saved = browser.post("/builds/elm-saloon/tube", &one_by_one).await;
    assert_eq!(saved.to, "/builds/elm-saloon/tube", "{}", saved.text);
    let facts = house.store.facts(build).await.unwrap();
    let found = Findings::of(&facts, house.clock.today());
    assert_eq!(facts.cuts.len(), found.worked.cage.members.len());
    // 1 ft = 304.8 mm; the cut of M1 takes its blank and one kerf.
    let left = balance(&facts.sticks[1], [&facts]);
    let needed = found.worked.cage.members[0].cut_length + Saw::default().kerf.value;
    assert!(left.pieces == 1 && (left.left.mm() - (304.8 - needed.mm())).abs() < 1e-3);
    let sheet = browser.get("/builds/elm-saloon/tube").await.text;
    assert!(sheet.contains("too short: its cuts need") && !sheet.contains("without a stick"), "{sheet}");
    assert!(browser.get("/stock").await.text.contains("too short: its cuts need"));
    // A sheet that was open since before says nothing of bars it did not change.
    let stale = [("M2", ""), ("was_M2", ""), ("M1", short), ("was_M1", short)];
    assert_eq!(browser.post("/builds/elm-saloon/tube", &stale).await.status, StatusCode::SEE_OTHER);
    assert_eq!(house.store.cuts(build).await.unwrap().len(), facts.cuts.len());
    // One that would change what somebody else said meanwhile is told so, and saves when it is sent again.
    let late = [("M1", long), ("was_M1", "")];
    let told = browser.post("/builds/elm-saloon/tube", &late).await;
    assert_eq!(told.status, StatusCode::CONFLICT);
    assert!(told.text.contains("Somebody else said another stick meanwhile."), "{}", told.text);
    assert!(told.text.contains(&format!("name=\"was_M1\" value=\"{short}\"")), "{}", told.text);
    assert_eq!(house.store.cuts(build).await.unwrap(), facts.cuts);
    let table = browser.get("/builds/elm-saloon/tube.csv").await;
    assert_eq!(table.text.lines().count(), facts.cuts.len() + 1);
    assert!(
        table.text.contains("M1,main hoop,across,1.5 × .095 in,")
            && table.text.contains(",S2,1020 cold drawn,\"A,\"\"7\"")
    );
    // Back on the rack: the bars keep their heat.
    assert_eq!(browser.post("/builds/elm-saloon/tube/return", &[("stick", short)]).await.status, StatusCode::SEE_OTHER);
    assert!(browser.get("/builds/elm-saloon/tube").await.text.contains("back on the rack"));
}

#[tokio::test]
async fn a_stick_that_will_not_do_is_refused_and_kept_as_typed() {
    let house = House::new().await;
    let browser = house.browser("fabricator").await;
    for (at, text, told) in [
        ("size", "45", "with an x between"),
        ("size", "500 x 2 mm", "An outside diameter is 10 to 100 mm"),
        ("size", "<script>", "does not read as a tube size"),
        ("grade", "", "must not be empty"),
        ("length", "-3 m", "at most 15 m"),
        ("length", "20 lb", "does not read as a length"),
        ("length", "900000000 m", "at most 15 m"),
    ] {
        let mut new = STICK;
        for pair in new.iter_mut().filter(|pair| pair.0 == at) {
            pair.1 = text;
        }
        let answer = browser.post("/stock", &new).await;
        assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY, "{at} {text}");
        assert!(answer.text.contains(told), "{at} {text}: {}", answer.text);
        assert!(answer.text.contains(r#"value="A,&#34;7""#) && !answer.text.contains("<script>"));
    }
    assert!(house.store.sticks().await.unwrap().is_empty());
}

#[tokio::test]
async fn a_bar_is_cut_only_from_a_stick_of_its_build_and_another_size_is_told() {
    let house = House::new().await;
    let (browser, ids) = with_sticks(&house).await;
    let refused = browser.post("/builds/elm-saloon/tube", &[("M1", &ids[0]), ("was_M1", "")]).await;
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(refused.text.contains("Choose a stick that is given to this build."));
    // Another build's stick is not taken from it.
    browser.post("/builds/new", &[("name", "Pine Coupe")]).await;
    browser.post("/builds/pine-coupe/tube/give", &[("stick", &ids[0])]).await;
    for deed in ["give", "return"] {
        let answer = browser.post(&format!("/builds/elm-saloon/tube/{deed}"), &[("stick", &ids[0])]).await;
        assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY);
        assert!(answer.text.contains("another build"), "{}", answer.text);
    }
    let mut thin = STICK;
    thin[0].1 = "38 x 1.5 mm";
    browser.post("/stock", &thin).await;
    let id = house.store.sticks().await.unwrap()[2].id.to_string();
    browser.post("/builds/elm-saloon/tube/give", &[("stick", &id)]).await;
    let saved = browser.post("/builds/elm-saloon/tube", &[("M1", &id), ("was_M1", "")]).await;
    assert_eq!(saved.status, StatusCode::SEE_OTHER, "{}", saved.text);
    let sheet = browser.get("/builds/elm-saloon/tube").await.text;
    assert!(sheet.contains("The stick is 38 × 1.5 mm, the bar 1.5 × .095 in."), "{sheet}");
    let unsaid = browser.post("/builds/elm-saloon/tube", &[("M1", ""), ("was_M1", &id)]).await;
    assert!(unsaid.text.contains("A bar that was cut stays cut."), "{}", unsaid.text);
}

#[tokio::test]
async fn all_bars_of_a_size_come_from_one_stick_where_they_fit_and_mixed_grades_are_said() {
    let house = House::new().await;
    let mut phone = Phone::new(&house).await;
    asked_for(&mut phone).await;
    let office = house.browser("office").await;
    let mut weighed: Vec<(&str, &str)> =
        ["tank at half", "crew out", "loose gear out", "stage wheels on"].map(|tick| ("condition", tick)).to_vec();
    weighed.extend([("total", "2600 lb"), ("resolution", "1 lb")]);
    assert_eq!(office.post("/builds/elm-saloon/weigh-in", &weighed).await.status, StatusCode::SEE_OTHER);
    for (size, length, grade) in [("42.4 x 3.2 mm", "49 ft", "cold drawn"), ("38 x 2.6 mm", "20 ft", "seamless")] {
        office.post("/stock", &[("size", size), ("length", length), ("grade", grade)]).await;
    }
    let ids: Vec<String> = house.store.sticks().await.unwrap().iter().map(|stick| stick.id.to_string()).collect();
    for id in &ids {
        office.post("/builds/elm-saloon/tube/give", &[("stick", id)]).await;
    }
    let saved = office.post("/builds/elm-saloon/tube", &[("all 42.4 × 3.2 mm", &ids[0])]).await;
    assert_eq!(saved.to, "/builds/elm-saloon/tube", "{}", saved.text);
    let build = house.store.build_by_slug("elm-saloon").await.unwrap().unwrap().id;
    let facts = house.store.facts(build).await.unwrap();
    let found = Findings::of(&facts, house.clock.today());
    let hoops = found.worked.cage.members.iter().filter(|bar| bar.tube == found.worked.tubes.hoop).count();
    assert!(hoops > 1 && facts.cuts.len() == hoops);
    assert!(!office.get("/builds/elm-saloon/tube").await.text.contains("more than one grade"));
    let bar =
        found.worked.cage.members.iter().find(|bar| bar.tube == found.worked.tubes.other).unwrap().balloon.to_string();
    office.post("/builds/elm-saloon/tube", &[(bar.as_str(), ids[1].as_str())]).await;
    assert!(office.get("/builds/elm-saloon/tube").await.text.contains("more than one grade: cold drawn, seamless."));
}

#[tokio::test]
async fn a_scrutineer_changes_no_stock() {
    let house = House::new().await;
    let (_, ids) = with_sticks(&house).await;
    let scrutineer = house.browser("scrutineer").await;
    assert_eq!(scrutineer.post("/stock", &STICK).await.status, StatusCode::NOT_FOUND);
    for address in ["tube", "tube/give", "tube/return"] {
        let answer = scrutineer.post(&format!("/builds/elm-saloon/{address}"), &[("stick", &ids[0])]).await;
        assert_eq!(answer.status, StatusCode::NOT_FOUND, "{address}");
    }
    assert_eq!(house.store.sticks().await.unwrap().len(), 2);
}

#[tokio::test]
async fn sticks_that_came_together_are_typed_once_and_each_gets_its_number() {
    let house = House::new().await;
    let browser = house.browser("fabricator").await;
    let with = |count: &'static str| STICK.into_iter().chain([("count", count)]).collect::<Vec<_>>();
    for (count, told) in
        [("0", "1 to 50 at once"), ("51", "1 to 50 at once"), ("six", "how many sticks"), ("", "how many sticks")]
    {
        let answer = browser.post("/stock", &with(count)).await;
        assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY, "{count}");
        assert!(answer.text.contains(told) && answer.text.contains(r#"value="A,&#34;7""#), "{count}: {}", answer.text);
        assert!(house.store.sticks().await.unwrap().is_empty(), "{count}");
    }
    assert!(browser.get("/stock").await.text.contains("name=\"count\" type=\"text\" value=\"1\""));
    assert_eq!(browser.post("/stock", &with("3")).await.to, "/stock");
    assert_eq!(browser.post("/stock", &with("2")).await.to, "/stock");
    let sticks = house.store.sticks().await.unwrap();
    assert_eq!(sticks.iter().map(|stick| stick.number).collect::<Vec<_>>(), [1, 2, 3, 4, 5]);
    assert!(sticks.iter().all(|stick| stick.heat == "A,\"7" && stick.grade == "1020 cold drawn"));
    let log = house.store.log(20).await.unwrap();
    for stick in &sticks {
        let said = format!("S{} was put on the rack: 1.5 × .095 in, 20 ft.", stick.number);
        assert_eq!(log.iter().filter(|entry| entry.what == said).count(), 1, "{said}: {log:?}");
    }
    // Each is a stick of its own: one goes to a build, the others stay.
    browser.post("/builds/new", &[("name", "Pine Coupe")]).await;
    browser.post("/builds/pine-coupe/tube/give", &[("stick", &sticks[1].id.to_string())]).await;
    let given = house.store.sticks().await.unwrap().into_iter().filter(|stick| stick.given_to.is_some());
    assert_eq!(given.map(|stick| stick.number).collect::<Vec<_>>(), [2]);
}
